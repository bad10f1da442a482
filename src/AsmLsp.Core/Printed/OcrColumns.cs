using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Printed;

/// <summary>A row of one text column of a page.</summary>
/// <param name="Row">The row.</param>
/// <param name="Column">The column, from 0; what runs over several belongs to the leftmost one.</param>
internal readonly record struct ColumnRow(StraightRow Row, int Column);

/// <summary>
/// Parts the rows of a page where white runs down between two text columns. A listing has such gaps too: between its labels, operations
/// and comments. So the gap counts only where what is on both sides of it is code, or code beside sentences.
/// </summary>
internal static class OcrColumns
{
    // So many rows at the least have something on the side that is parted off; so few of all rows may run over the gap.
    private const int LeastRows = 8;
    private const double MostOver = 0.08;

    // Parts of the rows of a side: it is code, it may be, it is comments of the other side.
    private const double Code = 0.3,
        Perhaps = 0.12,
        Comments = 0.2;

    // Words of a line of a sentence.
    private const double Sentence = 4;

    private const int Deepest = 2;

    // A heading is further below the line above it than other lines do.
    private const double Room = 1.5;

    /// <summary>The rows in reading order.</summary>
    /// <param name="rows">The rows of the page, from top to bottom.</param>
    /// <param name="height">The height of its characters, in points.</param>
    /// <param name="isUncertain">Whether there may be columns that were not parted.</param>
    public static List<ColumnRow> Of(List<StraightRow> rows, double height, out bool isUncertain)
    {
        isUncertain = false;
        return Of(rows, height, 0, 0, ref isUncertain, []);
    }

    /// <summary>Where the columns lie, or null where there is one.</summary>
    public static ColumnLayout? LayoutOf(List<StraightRow> rows, double height, double slope)
    {
        bool isUncertain = false;
        var gaps = new List<double>();
        Of(rows, height, 0, 0, ref isUncertain, gaps);
        if (gaps.Count == 0)
            return null;
        gaps.Sort();
        for (int i = gaps.Count - 1; i > 0; i--)
            if (gaps[i] - gaps[i - 1] < 2 * height)
                gaps.RemoveAt(i);
        var over = rows.Where(r => gaps.TrueForAll(g => Part(r, g) is (null, null)))
            .Select(r =>
                (r.Characters.Min(static c => c.Top) - height / 4, r.Characters.Max(static c => c.Bottom) + height / 4)
            );
        return new ColumnLayout([.. gaps], [.. over], slope);
    }

    private static List<ColumnRow> Of(
        List<StraightRow> rows,
        double height,
        int column,
        int depth,
        ref bool isUncertain,
        List<double> gaps
    )
    {
        if (depth == Deepest || GapOf(rows, height, ref isUncertain) is not { } gap)
            return [.. rows.Select(r => new ColumnRow(r, column))];
        gaps.Add(gap);
        var result = new List<ColumnRow>();
        List<StraightRow> left = [],
            right = [];
        double pitch = Pitch(rows);
        foreach (StraightRow row in rows)
        {
            (StraightRow? before, StraightRow? after) = Part(row, gap);
            if (before is not null)
                left.Add(before);
            if (after is not null)
                right.Add(after);
            if (before is not null || after is not null)
                continue;
            // A heading over both columns, with room above it, ends them; a long line of the left one does not.
            if (!HasRoom(left, row, pitch) || !HasRoom(right, row, pitch))
            {
                left.Add(row);
                continue;
            }

            result.AddRange(Sides(left, right, height, column, depth, ref isUncertain, gaps));
            result.Add(new ColumnRow(row, column));
            (left, right) = ([], []);
        }

        result.AddRange(Sides(left, right, height, column, depth, ref isUncertain, gaps));
        return result;
    }

    private static bool HasRoom(List<StraightRow> above, StraightRow row, double pitch) =>
        above.Count == 0 || row.BaseLine - above[^1].BaseLine > Room * pitch;

    private static double Pitch(List<StraightRow> rows)
    {
        double[] steps =
        [
            .. Enumerable.Range(1, rows.Count - 1).Select(i => rows[i].BaseLine - rows[i - 1].BaseLine).Order(),
        ];
        return steps.Length == 0 ? 0 : steps[steps.Length / 2];
    }

    private static IEnumerable<ColumnRow> Sides(
        List<StraightRow> left,
        List<StraightRow> right,
        double height,
        int column,
        int depth,
        ref bool isUncertain,
        List<double> gaps
    )
    {
        List<ColumnRow> first = Of(left, height, column, depth + 1, ref isUncertain, gaps);
        int next = first.Count == 0 ? column + 1 : first.Max(static r => r.Column) + 1;
        return [.. first, .. Of(right, height, next, depth + 1, ref isUncertain, gaps)];
    }

    // The middle of the widest white band that parts two columns, or null.
    private static double? GapOf(List<StraightRow> rows, double height, ref bool isUncertain)
    {
        if (rows.Count < LeastRows)
            return null;
        double left = rows.Min(static r => r.Left),
            right = rows.Max(static r => r.Right);
        int width = (int)(right - left) + 1;
        if (width is < 20 or > 20_000)
            return null;
        int[] over = new int[width];
        foreach (StraightRow row in rows)
        foreach ((double from, double to) in Words(row))
            for (int x = Math.Max(0, (int)(from - left)); x <= Math.Min(width - 1, (int)(to - left)); x++)
                over[x]++;

        int most = (int)(MostOver * rows.Count),
            least = (int)Math.Max(8, 1.5 * height);
        (int best, double middle) = (0, 0);
        bool perhaps = false;
        for (int x = width / 6, run = 0; x <= width * 5 / 6; x++)
        {
            if (x < width * 5 / 6 && over[x] <= most)
            {
                run++;
                continue;
            }

            if (run >= least)
            {
                double candidate = left + Whitest(over, x - run, x, Math.Max(1, rows.Count / 40));
                bool? parts = Parts(rows, candidate);
                perhaps |= parts is null;
                if (parts == true && run > best)
                    (best, middle) = (run, candidate);
            }

            run = 0;
        }

        isUncertain |= perhaps && best == 0;
        return best > 0 ? middle : null;
    }

    // The middle of the widest part of a band that fewest rows run over.
    private static double Whitest(int[] over, int from, int to, int few)
    {
        // The blanks between the words of one heading are no gap.
        int least = over.AsSpan(from, to - from).ToArray().Min() + few;
        (int best, double middle) = (0, 0);
        for (int x = from, run = 0; x <= to; x++)
        {
            if (x < to && over[x] <= least)
            {
                run++;
                continue;
            }

            if (run > best)
                (best, middle) = (run, x - run / 2.0);
            run = 0;
        }

        return middle;
    }

    // Whether two columns are beside a gap; null where that is not certain.
    private static bool? Parts(List<StraightRow> rows, double gap)
    {
        Side left = new(),
            right = new();
        foreach (StraightRow row in rows)
        {
            (StraightRow? before, StraightRow? after) = Part(row, gap);
            if (before is not null)
                left.Add(before);
            if (after is not null)
                right.Add(after);
        }

        if (left.Rows < LeastRows || right.Rows < LeastRows || right.Comments > Comments * right.Rows)
            return false;
        bool leftIsCode = left.Code >= Code * left.Rows,
            rightIsCode = right.Code >= Code * right.Rows;
        if (leftIsCode && rightIsCode)
            return true;
        if ((leftIsCode && right.IsProse) || (rightIsCode && left.IsProse))
            return true;
        return leftIsCode && right.Code >= Perhaps * right.Rows ? null : false;
    }

    private static IEnumerable<(double From, double To)> Words(StraightRow row)
    {
        double from = row.Characters[0].Left,
            to = row.Characters[0].Right;
        for (int i = 1; i < row.Characters.Count; i++)
        {
            OcrCharacter c = row.Characters[i];
            if (c.StartsWord)
            {
                yield return (from, to);
                (from, to) = (c.Left, c.Right);
            }

            to = Math.Max(to, c.Right);
        }

        yield return (from, to);
    }

    // What is left and right of a gap; neither where a word is over it.
    private static (StraightRow? Before, StraightRow? After) Part(StraightRow row, double gap)
    {
        foreach ((double from, double to) in Words(row))
            if (from < gap && to > gap)
                return (null, null);
        List<OcrCharacter> before = [.. row.Characters.Where(c => c.Center < gap)],
            after = [.. row.Characters.Where(c => c.Center >= gap)];
        if (after.Count > 0)
            after[0] = after[0] with { StartsWord = true };
        return (
            before.Count == 0 ? null : new StraightRow(before, row.BaseLine),
            after.Count == 0 ? null : new StraightRow(after, row.BaseLine)
        );
    }

    /// <summary>What is on one side of a gap.</summary>
    private sealed class Side
    {
        private int words;

        public int Rows { get; private set; }

        public int Code { get; private set; }

        public int Comments { get; private set; }

        public bool IsProse => words >= Sentence * Rows && Comments * 20 <= Rows && Code * 10 <= Rows;

        public void Add(StraightRow row)
        {
            string text = string.Concat(
                row.Characters.Select(static (c, i) => (c.StartsWord && i > 0 ? " " : "") + c.Text)
            );
            Rows++;
            words += row.Characters.Count(static c => c.StartsWord);
            if (text[0] == ';')
                Comments++;
            else if (
                text.Contains(' ', StringComparison.Ordinal)
                && (
                    AssemblyLook.Of(" " + text) == Look.Code
                    || AssemblyLook.Of(text) == Look.Code
                    || OcrLook.Of(text) == Look.Code
                )
            )
                Code++;
        }
    }
}
