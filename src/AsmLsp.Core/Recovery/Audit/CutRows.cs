using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Looks for rows of code whose end may be missing: a word without a place to break it runs out of its text column, and the print may end in the
/// middle of it; a print that does not wrap its lines cuts them all at one edge.
/// </summary>
internal static class CutRows
{
    // Ends that differ by less than this part of a character are one edge.
    private const double SameEnd = 0.6;

    // Rows that continued in the next row, before their column's width is believed.
    private const int LeastWrapped = 3;

    // Rows that end at one edge in the middle of their text, before it is believed that they are cut there.
    private const int LeastCut = 5;

    public static void Check(AuditSheet sheet, List<RowGroup> groups)
    {
        var edges = new Dictionary<(int Column, int Start), Edge>();
        foreach (RowGroup group in groups)
        foreach (AuditRow row in group.Rows)
            if (row.Printed is { EndX: > 0, RunsOver: false })
            {
                if (!edges.TryGetValue(Key(row), out Edge? edge))
                    edges.Add(Key(row), edge = new Edge());
                edge.Add(row, goesOn: row != group.Rows[^1]);
            }

        foreach (RowGroup group in groups)
        {
            AuditRow row = group.Rows[^1];
            if (row.HasComment || row.Printed.EndX <= 0 || row.Lines.Count == 0)
                continue;
            if (!row.Printed.RunsOver && !(edges.TryGetValue(Key(row), out Edge? edge) && edge.MayCut(row)))
                continue;
            int line = row.Lines[^1];
            if (sheet.IsAccountedFor(line) || !ChangedRows.MakesSomething(sheet, line))
                continue;
            sheet.Mark(
                line,
                DocumentCodes.NotAsPrinted,
                "is something cut off at the end of this line?",
                $"'{sheet.Lines[line].Trim()}' fills its text column to the edge, or runs over it. Compare its end with the page."
            );
        }
    }

    private static (int, int) Key(AuditRow row) =>
        (row.Printed.TextColumn, (int)Math.Round(row.Printed.ColumnStart / 3));

    /// <summary>The right edge of a text column, by the rows that are beyond doubt.</summary>
    private sealed class Edge
    {
        private readonly List<double> ends = [];
        private double wrapped;
        private int countWrapped;

        public void Add(AuditRow row, bool goesOn)
        {
            if (goesOn)
                (wrapped, countWrapped) = (Math.Max(wrapped, row.Printed.EndX), countWrapped + 1);
            // Rulers and boxes around remarks end at one place on purpose.
            else if (row.HasComment && char.IsLetterOrDigit(row.Plain[^1]))
                ends.Add(row.Printed.EndX);
        }

        public bool MayCut(AuditRow row)
        {
            double end = row.Printed.EndX,
                width = row.Printed.CharacterWidth;
            if (countWrapped >= LeastWrapped)
                return end + width > wrapped && row.Plain.AsSpan().Trim().IndexOf(' ') < 0;
            return countWrapped == 0
                && ends.Count(e => Math.Abs(e - end) < SameEnd * width) >= LeastCut
                && !ends.Exists(e => e > end + width);
        }
    }
}
