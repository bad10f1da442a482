using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>How well a row fits the width at which its print was wrapped.</summary>
internal enum Fullness
{
    /// <summary>Nobody knows at which width the print was wrapped.</summary>
    Unknown,

    /// <summary>The first word of the next row would have had room.</summary>
    HasRoom,

    /// <summary>It would have missed the room by a character.</summary>
    Nearly,

    /// <summary>It had no room.</summary>
    Full,
}

/// <summary>
/// Where the rows of a listing start, and at which width its print was wrapped: learned from the rows that are beyond doubt.
/// </summary>
internal sealed class RowGeometry
{
    private const int Columns = 256;

    // A print whose breaks all show, of so many rests and so many rows of their own, decides.
    private const double MostOfBreak = 12;
    private const int ManyRests = 5;
    private const int ManyOwn = 20;

    // Rows of programs start further left.
    private const int DeepColumn = 12;

    // Without rests to learn from, the longest row is the width, if it is wide enough to be one.
    private const int LeastWidth = 40;

    private readonly int[] operations = new int[Columns];
    private readonly int[] labels = new int[Columns];
    private readonly int[] members = new int[Columns];
    private readonly int[] rests = new int[Columns];
    private readonly Dictionary<int, double> widths = [];
    private double longest;
    private int restsAfterBlank;
    private int restsCounted;
    private int ownAfterBlank;
    private int ownCounted;

    /// <param name="rows">The rows.</param>
    /// <param name="kinds">What each would be by itself.</param>
    /// <param name="isRest">Which are rests, as far as it is known.</param>
    /// <param name="isSure">Whether a row's kind was given to it by what the names say, so that columns may be learned from it.</param>
    public RowGeometry(IReadOnlyList<Row> rows, OwnKind[] kinds, bool[] isRest, Func<int, bool> isSure)
    {
        var spans = new Dictionary<int, List<(double From, double To)>>();
        var all = new List<(double From, double To)>();
        for (int i = 0; i < rows.Count; i++)
        {
            Row row = rows[i];
            if (!row.IsRow)
                continue;
            if (row.Line.Printed is { IsMonospaced: true, RunsOver: false })
                longest = Math.Max(longest, row.Extent);
            int column = Math.Min(row.Column, Columns - 1);
            if (isRest[i])
            {
                Rests++;
                rests[column]++;
                if (i > 0 && rows[i - 1].HasComment && Math.Abs(row.Column - rows[i - 1].CommentColumn) <= 1)
                    Aligned++;
                if (i == 0 || !rows[i - 1].IsRow || !rows[i - 1].IsMeasured || row.IsSigns)
                    continue;
                restsCounted++;
                restsAfterBlank += rows[i - 1].EndsInBlank ? 1 : 0;
                var span = (rows[i - 1].Extent, rows[i - 1].Extent + row.Blank + row.FirstWordExtent);
                all.Add(span);
                if (!spans.TryGetValue(row.TextColumn, out var own))
                    spans[row.TextColumn] = own = [];
                own.Add(span);
                continue;
            }

            if (i > 0 && rows[i - 1].IsRow && rows[i - 1].IsMeasured && (row.IsComment || isSure(i)))
            {
                ownCounted++;
                ownAfterBlank += rows[i - 1].EndsInBlank ? 1 : 0;
            }

            if (row.Code.Length == 0 || !isSure(i))
                continue;
            if (kinds[i] == OwnKind.Members)
                members[column]++;
            else if (row.Syntax.LabelToken >= 0)
                labels[column]++;
            else
            {
                operations[column]++;
                Operations++;
            }
        }

        widths[-1] = Width(all);
        foreach ((int column, List<(double, double)> own) in spans)
            if (own.Count >= 3)
                widths[column] = Width(own);
    }

    /// <summary>How many rests are known.</summary>
    public int Rests { get; }

    /// <summary>How many of them are below the text of their comment.</summary>
    public int Aligned { get; }

    /// <summary>How many rows begin with an operation.</summary>
    public int Operations { get; }

    public int OperationsAt(int column) => At(operations, column);

    public int LabelsAt(int column) => At(labels, column);

    public int MembersAt(int column) => At(members, column);

    public int RestsAt(int column) => At(rests, column);

    /// <summary>
    /// Whether the place of a row below the text of a comment decides that it is a rest: this print sets its rests there, and no row of the program
    /// starts so far to the right.
    /// </summary>
    public bool IsDecidedByPlace(int column) =>
        column >= DeepColumn
        && Aligned >= ManyRests
        && Aligned * 10 >= Rests * 6
        && OperationsAt(column) + LabelsAt(column) + MembersAt(column) == 0;

    /// <summary>Whether the members of blocks are indented, all of those that are beyond doubt.</summary>
    public bool MembersAreIndented => members[0] == 0 && members.Any(static m => m > 0);

    /// <summary>
    /// What the end of the row above says for a rest, in units of the natural logarithm of odds: programs that wrap a text leave the blank at which
    /// they broke it, and this print shows whether its program does.
    /// </summary>
    public double BreakOf(Row above)
    {
        if (above.Line.Printed is null || !above.IsMeasured || restsAfterBlank + ownAfterBlank == 0)
            return 0;
        if (restsAfterBlank == restsCounted && ownAfterBlank == 0 && restsCounted >= ManyRests && ownCounted >= ManyOwn)
            return above.EndsInBlank ? MostOfBreak : -MostOfBreak;
        (int rests, int own) = above.EndsInBlank
            ? (restsAfterBlank, ownAfterBlank)
            : (restsCounted - restsAfterBlank, ownCounted - ownAfterBlank);
        return Math.Log((rests + 0.5) / (restsCounted + 1) / ((own + 0.5) / (ownCounted + 1)));
    }

    /// <summary>Whether the end of the row above decides whether the next row is a rest.</summary>
    public bool IsDecidedByBreak(Row above) => Math.Abs(BreakOf(above)) >= MostOfBreak;

    /// <summary>Whether the first word of a row had no room after the row above.</summary>
    public Fullness FullnessOf(Row above, Row row)
    {
        if (!above.IsMeasured || above.Line.Printed is null)
            return Fullness.Unknown;
        double width = widths.TryGetValue(row.TextColumn, out double own) ? own : widths[-1];
        if (width <= 0)
            return Fullness.Unknown;
        return Compare(above, row, width);
    }

    /// <summary>The same against the longest row, where no width could be learned.</summary>
    public Fullness FullnessByLongest(Row above, Row row) =>
        longest < LeastWidth || !above.IsMeasured ? Fullness.Unknown : Compare(above, row, longest);

    private static Fullness Compare(Row above, Row row, double width)
    {
        double end = above.Extent + row.Blank + row.FirstWordExtent;
        return end > width + 0.01 ? Fullness.Full
            : end > width - 2 * row.Blank ? Fullness.Nearly
            : Fullness.HasRoom;
    }

    private static int At(int[] counts, int column) => counts[Math.Min(column, Columns - 1)];

    // The width that most breaks agree with: no row above a break is longer, and the next word would have made each longer.
    private static double Width(List<(double From, double To)> spans)
    {
        if (spans.Count < 2)
            return 0;
        var ends = new List<(double At, int Step)>(2 * spans.Count);
        foreach ((double from, double to) in spans)
        {
            ends.Add((from, 1));
            ends.Add((to, -1));
        }

        ends.Sort(static (a, b) => a.At != b.At ? a.At.CompareTo(b.At) : a.Step.CompareTo(b.Step));
        int open = 0,
            most = 0;
        double best = 0;
        foreach ((double at, int step) in ends)
        {
            open += step;
            if (open >= most && step > 0)
                (most, best) = (open, at);
        }

        return most >= 2 && most * 10 >= spans.Count * 6 ? best : 0;
    }
}
