using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// OCR can read one digit for signs such as <c>;</c> and <c>.</c> throughout a text: <c>7lamp on</c> for <c>;lamp on</c>. Where it did so several times, a number that
/// starts with the same digit is not beyond doubt.
/// </summary>
internal static class MisreadSigns
{
    // What comes after numbers in remarks (from memory).
    private static readonly string[] Units =
    [
        "s",
        "ms",
        "us",
        "ns",
        "sec",
        "min",
        "h",
        "hz",
        "khz",
        "mhz",
        "v",
        "mv",
        "ma",
        "a",
        "ua",
        "k",
        "m",
        "kb",
        "w",
        "pf",
        "nf",
        "uf",
        "ohm",
        "kohm",
        "mm",
        "cm",
        "st",
        "nd",
        "rd",
        "th",
        "x",
        "bit",
        "bits",
        "byte",
        "bytes",
        "baud",
        "bps",
        "words",
        "times",
        "pin",
        "pins",
        "digit",
        "digits",
        "leds",
        "lines",
    ];

    // Words with the digit in front that show the habit.
    private const int Least = 3;

    public static void Check(AuditSheet sheet)
    {
        var counts = new int[10];
        foreach (AuditRow row in sheet.Rows)
            Count(row.Printed.AsRead is { } read ? PlainSigns.Of(read) : row.Plain, counts);
        for (int i = 0; i < sheet.Lines.Length; i++)
        {
            if (sheet.IsReported(i))
                continue;
            LineSyntax syntax = LineSyntax.Of(sheet.Result.Source[i]);
            foreach (SyntaxToken token in syntax.AllTokens)
            {
                ReadOnlySpan<char> text = syntax.Text.AsSpan(token.Start, token.Length);
                if (
                    token.Kind != TokenKind.Number
                    || text.Length < 2
                    || text.ContainsAnyExceptInRange('0', '9')
                    || counts[text[0] - '0'] < Least
                )
                    continue;
                sheet.Mark(
                    i,
                    DocumentCodes.NotAsPrinted,
                    $"is the '{text[0]}' of {text} a digit?",
                    $"OCR has read '{text[0]}' for other signs in this text. Compare the number {text} with the page."
                );
                break;
            }
        }
    }

    // A digit at the start of a word that is no number with its unit; after a wide gap, where remarks are, it may be alone or before a blank.
    private static void Count(string text, int[] counts)
    {
        bool isCode = true;
        for (int i = 0; i + 2 < text.Length && isCode; i++)
        {
            isCode = text[i] != ';';
            if (!char.IsAsciiDigit(text[i]) || text[i] == '0' || (i > 0 && text[i - 1] != ' '))
                continue;
            int start = i + 1;
            bool isApart = i > 1 && text[i - 2] == ' ' && !text.AsSpan(0, i).IsWhiteSpace();
            if (isApart && text[start] == ' ')
                start++;
            int end = start;
            while (end < text.Length && char.IsLetter(text[end]))
                end++;
            ReadOnlySpan<char> word = text.AsSpan(start, end - start);
            if (word.Length < (isApart ? 1 : 2) || IsNumber(text.AsSpan(i, end - i)) || IsUnit(word))
                continue;
            counts[text[i] - '0']++;
        }
    }

    private static bool IsNumber(ReadOnlySpan<char> word)
    {
        if (word is [.., 'h' or 'H'])
            word = word[..^1];
        foreach (char c in word)
            if (!char.IsAsciiHexDigit(c))
                return false;
        return true;
    }

    private static bool IsUnit(ReadOnlySpan<char> word)
    {
        foreach (string unit in Units)
            if (word.Equals(unit, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }
}
