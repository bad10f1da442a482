using System.Collections.Immutable;
using AsmLsp.Core.Printed;

namespace AsmLsp.Host.Scans;

/// <summary>
/// Finds ink that a text recognition made nothing of: a comma, an underscore or a whole line that was passed over would
/// be missing without a trace.
/// </summary>
internal static class UnreadInk
{
    // Parts of the height of the characters: a full stop is larger, grain is smaller; what is far larger is a frame or a picture.
    private const double Least = 0.16,
        Widest = 9,
        Highest = 3.5;

    // So much of a shape lies in the boxes of characters that were read, or it was not read.
    private const double Covered = 0.35;

    /// <summary>The spots; null where there are so many that dirt cannot be distinguished from print.</summary>
    /// <param name="picture">The page.</param>
    /// <param name="threshold">The darkest gray of paper.</param>
    /// <param name="rows">What was read on it.</param>
    /// <param name="points">Points per dot of the picture.</param>
    public static ImmutableArray<InkSpot>? Find(
        GrayPicture picture,
        int threshold,
        ImmutableArray<OcrRow> rows,
        double points
    )
    {
        double height = HeightOf(rows) / points;
        int characters = rows.Sum(static r => r.Characters.Length);
        int[] owner = Boxes(picture, rows, points);
        ImmutableArray<InkSpot>.Builder spots = ImmutableArray.CreateBuilder<InkSpot>();
        byte[] seen = new byte[picture.Dots.Length];
        var stack = new Stack<int>();
        int most = Math.Max(100, characters / 2);
        for (int start = 0; start < seen.Length; start++)
        {
            if (seen[start] != 0 || picture.Dots[start] > threshold)
                continue;
            Shape shape = Flood(picture, threshold, seen, owner, stack, start);
            double width = shape.Right - shape.Left + 1,
                tall = shape.Bottom - shape.Top + 1;
            if (shape.Dots < Least * height * Least * height || width > Widest * height || tall > Highest * height)
                continue;
            if (shape.CoveredDots >= Covered * shape.Dots)
                continue;
            // Bits of the edge of the paper, or of what the scanner saw beside it.
            if (
                shape.Left <= 2
                || shape.Top <= 2
                || shape.Right >= picture.Width - 3
                || shape.Bottom >= picture.Height - 3
            )
                continue;
            spots.Add(
                new InkSpot(
                    shape.Left * points,
                    shape.Top * points,
                    (shape.Right + 1) * points,
                    (shape.Bottom + 1) * points
                )
            );
            if (spots.Count > most)
                return null;
        }

        return spots.ToImmutable();
    }

    private record struct Shape(int Left, int Top, int Right, int Bottom, int Dots, int CoveredDots);

    private static double HeightOf(ImmutableArray<OcrRow> rows)
    {
        double[] heights =
        [
            .. rows.SelectMany(static r => r.Characters)
                .Where(static c => c.Text.Length == 1 && char.IsAsciiLetterOrDigit(c.Text[0]))
                .Select(static c => c.Bottom - c.Top)
                .Order(),
        ];
        return heights.Length == 0 ? 6 : Math.Max(2, heights[heights.Length / 2]);
    }

    // The dots that lie in a box of a character, a little widened: a bit a dot.
    private static int[] Boxes(GrayPicture picture, ImmutableArray<OcrRow> rows, double points)
    {
        int[] bits = new int[picture.Dots.Length / 32 + 1];
        const int wider = 2;
        foreach (OcrRow row in rows)
        {
            foreach (OcrCharacter c in row.Characters)
            {
                int left = Math.Max(0, (int)(c.Left / points) - wider),
                    right = Math.Min(picture.Width - 1, (int)(c.Right / points) + wider);
                int top = Math.Max(0, (int)(c.Top / points) - wider),
                    bottom = Math.Min(picture.Height - 1, (int)(c.Bottom / points) + wider);
                for (int y = top; y <= bottom; y++)
                for (int x = left, at = y * picture.Width + left; x <= right; x++, at++)
                    bits[at >> 5] |= 1 << (at & 31);
            }
        }

        return bits;
    }

    private static Shape Flood(
        GrayPicture picture,
        int threshold,
        byte[] seen,
        int[] boxes,
        Stack<int> stack,
        int start
    )
    {
        var shape = new Shape(int.MaxValue, int.MaxValue, -1, -1, 0, 0);
        seen[start] = 1;
        stack.Push(start);
        while (stack.TryPop(out int at))
        {
            int x = at % picture.Width,
                y = at / picture.Width;
            shape.Left = Math.Min(shape.Left, x);
            shape.Right = Math.Max(shape.Right, x);
            shape.Top = Math.Min(shape.Top, y);
            shape.Bottom = Math.Max(shape.Bottom, y);
            shape.Dots++;
            if ((boxes[at >> 5] & (1 << (at & 31))) != 0)
                shape.CoveredDots++;
            for (int dy = -1; dy <= 1; dy++)
            {
                int ny = y + dy;
                if (ny < 0 || ny >= picture.Height)
                    continue;
                for (int dx = -1; dx <= 1; dx++)
                {
                    int nx = x + dx,
                        next = ny * picture.Width + nx;
                    if (nx < 0 || nx >= picture.Width || seen[next] != 0 || picture.Dots[next] > threshold)
                        continue;
                    seen[next] = 1;
                    stack.Push(next);
                }
            }
        }

        return shape;
    }
}
