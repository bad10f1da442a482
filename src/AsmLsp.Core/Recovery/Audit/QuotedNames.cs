using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Asks about names of characters of web pages, such as <c>&amp;lt;</c>, in texts in quotes: the program may print them, or the page that the listing
/// was copied from wrote one character so.
/// </summary>
internal static class QuotedNames
{
    // The longest names of HTML 4.01, section 24.
    private const int LongestName = 8;

    public static void Check(AuditSheet sheet)
    {
        foreach (AuditRow row in sheet.Rows)
        foreach (int line in row.Lines)
        {
            if (sheet.IsReported(line) || sheet.Facts(line).Words == 0)
                continue;
            LineSyntax syntax = LineSyntax.Of(sheet.Result.Source[line]);
            foreach (SyntaxToken token in syntax.Tokens)
            {
                if (
                    token.Kind is not (TokenKind.Text or TokenKind.Character)
                    || NameIn(syntax.Text.Substring(token.Start, token.Length)) is not { } name
                )
                    continue;
                sheet.Mark(
                    line,
                    DocumentCodes.NotAsPrinted,
                    $"is '{name}' meant, or one character?",
                    $"'{name}' in quotes is how a web page writes one character. Write that character unless the program itself sends the name."
                );
                break;
            }
        }
    }

    private static string? NameIn(string text)
    {
        for (int at = text.IndexOf('&', StringComparison.Ordinal); at >= 0; at = text.IndexOf('&', at + 1))
        {
            int end = at + 1;
            while (
                end < text.Length
                && end - at <= LongestName
                && (char.IsAsciiLetterOrDigit(text[end]) || text[end] == '#')
            )
                end++;
            if (end > at + 2 && end < text.Length && text[end] == ';')
                return text[at..(end + 1)];
        }

        return null;
    }
}
