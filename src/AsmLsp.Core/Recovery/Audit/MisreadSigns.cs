using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// OCR can read one digit for signs such as <c>;</c> and <c>.</c> throughout a text: <c>7lamp on</c> for <c>;lamp on</c>. Where it did so several times, a number that
/// starts with the same digit is not beyond doubt.
/// </summary>
internal static class MisreadSigns
{
    // Words with the digit in front that show the habit.
    private const int Least = 3;

    public static void Check(AuditSheet sheet)
    {
        var counts = new int[10];
        foreach (AuditRow row in sheet.Rows)
            Count(row.Plain, counts);
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

    // A digit at the start of a word of at least three letters that is no number.
    private static void Count(string text, int[] counts)
    {
        for (int i = 0; i + 3 < text.Length; i++)
            if (
                char.IsAsciiDigit(text[i])
                && text[i] != '0'
                && (i == 0 || text[i - 1] == ' ')
                && char.IsLetter(text[i + 1])
                && char.IsLetter(text[i + 2])
                && char.IsLetter(text[i + 3])
                && !(char.IsAsciiHexDigit(text[i + 1]) && char.IsAsciiHexDigit(text[i + 2]))
            )
                counts[text[i] - '0']++;
    }
}
