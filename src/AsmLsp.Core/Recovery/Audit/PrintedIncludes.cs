using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// The rows of included files that a listing prints in their place: the numbers of the rows start anew, and after the file they continue where they were.
/// Where the include is a part of the source, its rows are none.
/// </summary>
internal sealed class PrintedIncludes
{
    private readonly HashSet<AuditRow> explained = [];

    public PrintedIncludes(AuditSheet sheet)
    {
        IReadOnlyList<AuditRow> rows = sheet.Rows;
        var numbers = new int[rows.Count];
        for (int i = 0; i < rows.Count; i++)
            numbers[i] = RowNumbers.Of(rows[i].Plain);
        for (int i = 0; i + 1 < rows.Count; i++)
        {
            if (numbers[i] < 0 || numbers[i + 1] is not (>= 0 and <= 1) || !IsInclude(rows[i].Plain))
                continue;
            int last = numbers[i + 1],
                end = i + 2;
            for (; end < rows.Count; end++)
            {
                if (numbers[end] < 0)
                    continue;
                if (numbers[end] == numbers[i] + 1 && last != numbers[i])
                    break;
                last = numbers[end];
            }

            if (end == rows.Count)
                continue;
            // Where the include is no part of the source, only the page shows whether all of the file is printed.
            if (rows[i].Lines.Exists(l => LineSyntax.Of(sheet.Result.Source[l]).OperationToken >= 0))
                for (int k = i + 1; k < end; k++)
                    explained.Add(rows[k]);
        }
    }

    /// <summary>Whether a row is one of a file that the source includes.</summary>
    public bool Explain(AuditRow row) => explained.Contains(row);

    private static bool IsInclude(string text) =>
        text.Contains(OperationWords.Spell(Keyword.Include), StringComparison.OrdinalIgnoreCase);
}
