namespace AsmLsp.Core.Recovery.Audit;

/// <summary>The numbers that a listing prints in front of its rows, and what they prove.</summary>
internal sealed class RowNumbers
{
    private readonly IReadOnlyList<AuditRow> rows;
    private readonly bool isNumbered;

    public RowNumbers(IReadOnlyList<AuditRow> rows)
    {
        this.rows = rows;
        int steps = 0,
            last = -1,
            counted = 0;
        foreach (AuditRow row in rows)
        {
            if (row.Lines.Count == 0)
                continue;
            counted++;
            int number = Of(row.Plain);
            if (number >= 0 && (number == last || number == last + 1))
                steps++;
            if (number >= 0)
                last = number;
        }

        isNumbered = counted >= Least && steps * 10 > counted * 6;
    }

    // Rows that show that a listing is numbered.
    private const int Least = 8;

    /// <summary>Whether a row is no line of its own: it repeats the number of the row above, or has none where rows are numbered.</summary>
    public bool IsRest(AuditRow row)
    {
        if (!isNumbered)
            return false;
        int number = Of(row.Plain);
        if (number < 0)
            return true;
        return row.Index > 0 && Of(rows[row.Index - 1].Plain) == number;
    }

    /// <summary>The last of the numbers in front of a row, or -1.</summary>
    public static int Of(string text)
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
