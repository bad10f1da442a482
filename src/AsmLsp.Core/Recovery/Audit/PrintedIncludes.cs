using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// The rows of included files that a listing prints in their place: the numbers of the rows start anew, and after the file they go on where they were.
/// Either the include or its rows are a part of the source, and the other is none.
/// </summary>
internal sealed class PrintedIncludes
{
    private readonly HashSet<AuditRow> explained = [];

    public PrintedIncludes(AuditSheet sheet)
    {
        IReadOnlyList<AuditRow> rows = sheet.Rows;
        var numbers = new int[rows.Count];
        for (int i = 0; i < rows.Count; i++)
            numbers[i] = NumberOf(rows[i].Plain);
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
            bool isKept = rows[i].Lines.Exists(l => LineSyntax.Of(sheet.Result.Source[l]).OperationToken >= 0);
            if (!isKept)
                explained.Add(rows[i]);
            else
                for (int k = i + 1; k < end; k++)
                    explained.Add(rows[k]);
        }
    }

    /// <summary>Whether a row need not be a part of the source: it is the include whose rows are printed, or one of the rows of an include.</summary>
    public bool Explain(AuditRow row) => explained.Contains(row);

    private static bool IsInclude(string text) => text.Contains("include", StringComparison.OrdinalIgnoreCase);

    // The last of the numbers in front of a row.
    private static int NumberOf(string text)
    {
        int found = -1;
        for (int i = 0; i < text.Length; )
        {
            if (text[i] == ' ' || CodeSight.IsGutterSign(text[i]))
            {
                i++;
                continue;
            }

            int start = i,
                value = 0;
            bool isDecimal = true,
                hasDigit = false;
            for (; i < text.Length && char.IsAsciiHexDigit(text[i]); i++)
            {
                isDecimal &= char.IsAsciiDigit(text[i]);
                hasDigit |= char.IsAsciiDigit(text[i]);
                value = value > 100_000 ? value : value * 10 + (char.IsAsciiDigit(text[i]) ? text[i] - '0' : 0);
            }

            if (i == start || !hasDigit || (i < text.Length && char.IsLetterOrDigit(text[i])))
                break;
            if (isDecimal)
                found = value;
        }

        return found;
    }
}
