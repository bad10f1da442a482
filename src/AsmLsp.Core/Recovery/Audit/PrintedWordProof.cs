using System.Globalization;
using AsmLsp.Core.Assembly;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// The second account of a program that some listings print: an address and a word beside each row. A line that builds the word of its own row is right; one
/// that builds another is not proved.
/// </summary>
internal sealed class PrintedWordProof
{
    // Rows that must agree before a number beside a row counts as its word.
    private const int Least = 3;

    private readonly AuditSheet sheet;
    private readonly ProgramImage image;
    private readonly bool hasWords;

    public PrintedWordProof(AuditSheet sheet)
    {
        this.sheet = sheet;
        image = sheet.Result.Program.Image;
        int agree = 0;
        foreach (AuditRow row in sheet.Rows)
            if (row.Lines is [var line] && Agrees(row, sheet.Facts(line)))
                agree++;
        hasWords = agree >= Least;
    }

    /// <summary>Whether the word printed beside a row is the one that its line builds.</summary>
    public bool Proves(AuditRow row, LineFacts facts) =>
        Agrees(row, facts) && (hasWords || Numbers(row).Contains(facts.Address));

    /// <summary>Whether the address and the word printed beside a row are in the program, from a line whose own row says nothing else.</summary>
    public bool IsBuilt(AuditRow row)
    {
        List<int> numbers = Numbers(row);
        for (int i = 0; i < numbers.Count; i++)
        for (int k = 0; k < numbers.Count; k++)
            if (
                k != i
                && image.TryGet(numbers[i], out ushort word, out WordOrigin origin)
                && word == numbers[k]
                && origin.Outermost.File == sheet.Result.Program.Root
                && IsOwnWord(origin.Outermost.Line)
            )
                return true;
        return false;
    }

    /// <summary>
    /// Whether a row without a word of its own can have built none: the rows around it build the words printed beside them, and their addresses follow
    /// each other.
    /// </summary>
    public bool HasNoRoom(AuditRow row)
    {
        if (Numbers(row).Count >= 2)
            return false;
        return Next(row, -1) is { } above && Next(row, 1) is { } below && above.Address + above.Words == below.Address;
    }

    // The nearest line before or after that is proved by its word.
    private LineFacts? Next(AuditRow row, int step)
    {
        for (int i = row.Index + step; i >= 0 && i < sheet.Rows.Count; i += step)
        {
            foreach (int line in sheet.Rows[i].Lines)
            {
                LineFacts facts = sheet.Facts(line);
                if (facts.Words > 0)
                    return sheet.Rows[i].Lines.Count == 1 && Proves(sheet.Rows[i], facts) ? facts : null;
            }
        }

        return null;
    }

    private bool IsOwnWord(int line)
    {
        foreach (AuditRow row in sheet.RowsOf(line))
            if (Numbers(row).Count >= 2 && !Agrees(row, sheet.Facts(line)))
                return false;
        return true;
    }

    private bool Agrees(AuditRow row, LineFacts facts)
    {
        if (facts.Words == 0 || !image.TryGet(facts.Address, out ushort word, out _))
            return false;
        List<int> numbers = Numbers(row);
        return numbers.Count >= 2 && numbers.Contains(word);
    }

    // Groups of four hexadecimal digits at the start of a row.
    private static List<int> Numbers(AuditRow row)
    {
        var numbers = new List<int>(2);
        string text = row.Plain;
        for (int i = row.Start; i < text.Length; )
        {
            if (text[i] == ' ' || CodeSight.IsGutterSign(text[i]))
            {
                i++;
                continue;
            }

            int end = i;
            while (end < text.Length && char.IsAsciiHexDigit(text[end]))
                end++;
            if (end == i || (end < text.Length && char.IsLetterOrDigit(text[end])))
                break;
            if (
                end - i == 4
                && int.TryParse(
                    text.AsSpan(i, 4),
                    NumberStyles.AllowHexSpecifier,
                    CultureInfo.InvariantCulture,
                    out int number
                )
            )
                numbers.Add(number);
            i = end;
        }

        return numbers;
    }
}
