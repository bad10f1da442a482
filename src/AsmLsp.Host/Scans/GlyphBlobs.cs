using System.Collections.Immutable;
using AsmLsp.Core.Printed;

namespace AsmLsp.Host.Scans;

/// <summary>The ink of one character: the rectangle around all of its pieces.</summary>
internal readonly record struct GlyphBlob(int Left, int Top, int Right, int Bottom)
{
    public double Center => (Left + Right + 1) / 2.0;

    public int Width => Right - Left + 1;

    public int Height => Bottom - Top + 1;

    public GlyphBlob With(GlyphBlob other) =>
        new(
            Math.Min(Left, other.Left),
            Math.Min(Top, other.Top),
            Math.Max(Right, other.Right),
            Math.Max(Bottom, other.Bottom)
        );
}

/// <summary>
/// Finds the ink of each character that was read. The connected pieces of a word are its characters from left to right where there are as many of
/// them; where letters touch or are broken, the widths that these have in other words say which piece is what.
/// </summary>
internal sealed class GlyphBlobs
{
    // Parts of the height of the characters: a full stop is larger, grain is smaller; what is far larger is no letter.
    private const double Least = 0.16,
        Widest = 12,
        Highest = 2.5;

    // Pieces above each other belong to one character where they share so much of the narrower one.
    private const double Shared = 0.6;

    // A row's ink reaches so far above and below its base line, and a word's so far to its sides.
    private const double Above = 1.5,
        Below = 0.5,
        Beside = 0.25;

    // A border between letters that touch is where there is least ink, so near to where it is expected.
    private const double Reach = 0.2;

    // More letters than this do not touch in one piece, nor is one broken into more.
    private const int MostLetters = 12,
        MostPieces = 3;

    private readonly GrayPicture picture;
    private readonly int threshold;
    private readonly double height;
    private readonly List<GlyphBlob> pieces;

    /// <param name="picture">The page.</param>
    /// <param name="threshold">The darkest gray of paper.</param>
    /// <param name="height">The height of the characters in dots.</param>
    public GlyphBlobs(GrayPicture picture, int threshold, double height)
    {
        (this.picture, this.threshold, this.height) = (picture, threshold, height);
        pieces = PiecesOf();
        pieces.Sort(static (a, b) => a.Top.CompareTo(b.Top));
    }

    /// <summary>For each row and character its ink, or null; and whether its word has a piece for each of them.</summary>
    public (GlyphBlob? Blob, bool IsApart)[][] Of(ImmutableArray<OcrRow> rows, double points)
    {
        var found = new (GlyphBlob?, bool)[rows.Length][];
        var widths = new Dictionary<string, List<int>>(StringComparer.Ordinal);
        var touching = new List<(int Row, int First, int End, List<GlyphBlob> Word)>();
        for (int r = 0; r < rows.Length; r++)
        {
            OcrRow row = rows[r];
            found[r] = new (GlyphBlob?, bool)[row.Characters.Length];
            List<GlyphBlob> own = InRow(row, points);
            for (int first = 0; first < row.Characters.Length; )
            {
                int end = first + 1;
                while (end < row.Characters.Length && !row.Characters[end].StartsWord)
                    end++;
                List<GlyphBlob> word = InWord(own, row, first, end, points);
                if (!Assign(word, row, first, end, found[r]))
                    touching.Add((r, first, end, word));
                else
                    for (int i = first; i < end; i++)
                    {
                        if (!widths.TryGetValue(row.Characters[i].Text, out List<int>? seen))
                            widths.Add(row.Characters[i].Text, seen = []);
                        seen.Add(found[r][i].Item1!.Value.Width);
                    }

                first = end;
            }
        }

        var usual = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach ((string text, List<int> seen) in widths)
        {
            seen.Sort();
            usual.Add(text, seen[seen.Count / 2]);
        }

        foreach ((int r, int first, int end, List<GlyphBlob> word) in touching)
            Part(word, rows[r], first, end, points, usual, found[r]);
        return found;
    }

    private static bool IsPair(string text) => text is "\"" or "\u201C" or "\u201D";

    // A piece for each character; a quote of two strokes is in two pieces.
    private static bool Assign(List<GlyphBlob> word, OcrRow row, int first, int end, (GlyphBlob?, bool)[] found)
    {
        int wanted = 0;
        for (int i = first; i < end; i++)
            wanted += IsPair(row.Characters[i].Text) ? 2 : 1;
        if (wanted != word.Count)
            return false;
        int at = 0;
        for (int i = first; i < end; i++)
        {
            bool isPair = IsPair(row.Characters[i].Text);
            found[i] = (isPair ? word[at].With(word[at + 1]) : word[at], true);
            at += isPair ? 2 : 1;
        }

        return true;
    }

    // The cheapest way to give all pieces to all characters, in order: by their widths, and by where they were read.
    private void Part(
        List<GlyphBlob> word,
        OcrRow row,
        int first,
        int end,
        double points,
        Dictionary<string, double> usual,
        (GlyphBlob?, bool)[] found
    )
    {
        int n = end - first,
            m = word.Count;
        if (m == 0)
            return;
        double[] width = new double[n],
            center = new double[n];
        for (int i = 0; i < n; i++)
        {
            OcrCharacter c = row.Characters[first + i];
            width[i] = usual.GetValueOrDefault(c.Text, (c.Right - c.Left) / points);
            center[i] = c.Center / points;
        }

        var cost = new double[n + 1, m + 1];
        var letters = new int[n + 1, m + 1];
        for (int i = 0; i <= n; i++)
        for (int j = 0; j <= m; j++)
        {
            cost[i, j] = i == 0 && j == 0 ? 0 : double.MaxValue;
            if (i == 0 || j == 0)
                continue;
            // One piece for the last few letters, or the last few pieces for one letter.
            double sum = 0,
                middle = 0;
            for (int k = 1; k <= Math.Min(i, MostLetters); k++)
            {
                sum += width[i - k];
                middle += center[i - k];
                Try(i - k, j - 1, k, word[j - 1], sum, middle / k);
            }

            GlyphBlob several = word[j - 1];
            for (int k = 2; k <= Math.Min(j, MostPieces); k++)
            {
                several = several.With(word[j - k]);
                Try(i - 1, j - k, -k, several, width[i - 1], center[i - 1]);
            }

            void Try(int before, int piecesBefore, int step, GlyphBlob blob, double wanted, double at)
            {
                if (cost[before, piecesBefore] == double.MaxValue)
                    return;
                double wide = (blob.Width - wanted) / height,
                    aside = (blob.Center - at) / height;
                double now = cost[before, piecesBefore] + wide * wide + 0.2 * aside * aside;
                if (now < cost[i, j])
                    (cost[i, j], letters[i, j]) = (now, step);
            }
        }

        if (cost[n, m] == double.MaxValue)
            return;
        for (int i = n, j = m; i > 0; )
        {
            int step = letters[i, j];
            if (step < 0)
            {
                GlyphBlob several = word[j - 1];
                for (int k = 2; k <= -step; k++)
                    several = several.With(word[j - k]);
                found[first + i - 1] = (several, false);
                (i, j) = (i - 1, j + step);
            }
            else
            {
                Cut(word[j - 1], width.AsSpan(i - step, step), found.AsSpan(first + i - step, step));
                (i, j) = (i - step, j - 1);
            }
        }
    }

    // A piece of several letters, cut where there is least ink near to where their widths say.
    private void Cut(GlyphBlob piece, ReadOnlySpan<double> widths, Span<(GlyphBlob?, bool)> found)
    {
        if (widths.Length == 1)
        {
            found[0] = (piece, false);
            return;
        }

        // Too narrow for so many.
        if (piece.Width < widths.Length * 2)
            return;
        double all = 0;
        foreach (double width in widths)
            all += width;
        int[] ink = new int[piece.Width];
        for (int y = piece.Top; y <= piece.Bottom; y++)
        for (int x = piece.Left; x <= piece.Right; x++)
            ink[x - piece.Left] += 255 - picture.Dots[y * picture.Width + x];
        int left = piece.Left,
            reach = (int)Math.Ceiling(Reach * height);
        double sum = 0;
        for (int i = 0; i < widths.Length; i++)
        {
            sum += widths[i];
            int right = piece.Right + 1;
            if (i + 1 < widths.Length)
            {
                int border = piece.Left + (int)Math.Round(sum / all * piece.Width);
                right = Math.Clamp(border, Math.Min(left + 1, piece.Right), piece.Right);
                for (int x = Math.Max(left + 1, border - reach); x <= Math.Min(piece.Right, border + reach); x++)
                    if (
                        ink[x - piece.Left] < ink[right - piece.Left]
                        || (
                            ink[x - piece.Left] == ink[right - piece.Left]
                            && Math.Abs(x - border) < Math.Abs(right - border)
                        )
                    )
                        right = x;
            }

            found[i] = (Tight(piece, left, right - 1), false);
            left = right;
        }
    }

    // The rectangle around the ink of a piece between two columns.
    private GlyphBlob? Tight(GlyphBlob piece, int left, int right)
    {
        GlyphBlob? tight = null;
        for (int y = piece.Top; y <= piece.Bottom; y++)
        for (int x = Math.Max(left, piece.Left); x <= Math.Min(right, piece.Right); x++)
            if (picture.Dots[y * picture.Width + x] <= threshold)
            {
                var dot = new GlyphBlob(x, y, x, y);
                tight = tight is { } before ? before.With(dot) : dot;
            }

        return tight;
    }

    private List<GlyphBlob> InWord(List<GlyphBlob> own, OcrRow row, int first, int end, double points)
    {
        double left = row.Characters[first].Left / points - Beside * height,
            right = row.Characters[end - 1].Right / points + Beside * height;
        return own.FindAll(b => b.Center > left && b.Center < right);
    }

    // The pieces of a row from left to right, those above each other put together.
    private List<GlyphBlob> InRow(OcrRow row, double points)
    {
        var own = new List<GlyphBlob>();
        double BaseLine(double x) => row.BaseLine / points + row.Slope * x;
        if (row.Characters.IsEmpty)
            return own;
        double first = BaseLine(row.Characters[0].Left / points),
            last = BaseLine(row.Characters[^1].Right / points);
        double top = Math.Min(first, last) - (Above + Highest) * height,
            bottom = Math.Max(first, last) + Below * height;
        for (int i = FirstFrom(top); i < pieces.Count && pieces[i].Top <= bottom; i++)
        {
            double line = BaseLine(pieces[i].Center),
                middle = (pieces[i].Top + pieces[i].Bottom) / 2.0;
            if (middle > line - Above * height && middle < line + Below * height)
                own.Add(pieces[i]);
        }

        own.Sort(static (a, b) => a.Left.CompareTo(b.Left));
        for (int i = 1; i < own.Count; )
        {
            double shared = Math.Min(own[i - 1].Right, own[i].Right) - Math.Max(own[i - 1].Left, own[i].Left) + 1;
            if (shared >= Shared * Math.Min(own[i - 1].Width, own[i].Width))
            {
                own[i - 1] = own[i - 1].With(own[i]);
                own.RemoveAt(i);
            }
            else
            {
                i++;
            }
        }

        return own;
    }

    private int FirstFrom(double top)
    {
        int low = 0,
            high = pieces.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (pieces[middle].Top < top)
                low = middle + 1;
            else
                high = middle;
        }

        return low;
    }

    private List<GlyphBlob> PiecesOf()
    {
        var all = new List<GlyphBlob>();
        byte[] seen = new byte[picture.Dots.Length];
        var stack = new Stack<int>();
        for (int start = 0; start < seen.Length; start++)
        {
            if (seen[start] != 0 || picture.Dots[start] > threshold)
                continue;
            (GlyphBlob piece, int dots) = Flood(seen, stack, start);
            if (
                dots >= Least * height * Least * height
                && piece.Width <= Widest * height
                && piece.Height <= Highest * height
            )
                all.Add(piece);
        }

        return all;
    }

    private (GlyphBlob Piece, int Dots) Flood(byte[] seen, Stack<int> stack, int start)
    {
        int left = int.MaxValue,
            top = int.MaxValue,
            right = -1,
            bottom = -1,
            dots = 0;
        seen[start] = 1;
        stack.Push(start);
        while (stack.TryPop(out int at))
        {
            int x = at % picture.Width,
                y = at / picture.Width;
            (left, right) = (Math.Min(left, x), Math.Max(right, x));
            (top, bottom) = (Math.Min(top, y), Math.Max(bottom, y));
            dots++;
            for (int ny = Math.Max(0, y - 1); ny <= Math.Min(picture.Height - 1, y + 1); ny++)
            for (int nx = Math.Max(0, x - 1); nx <= Math.Min(picture.Width - 1, x + 1); nx++)
            {
                int next = ny * picture.Width + nx;
                if (seen[next] != 0 || picture.Dots[next] > threshold)
                    continue;
                seen[next] = 1;
                stack.Push(next);
            }
        }

        return (new GlyphBlob(left, top, right, bottom), dots);
    }
}
