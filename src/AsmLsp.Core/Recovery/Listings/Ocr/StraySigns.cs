using System.Text;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>
/// Signs that OCR reads into the room after an operation, where nothing is printed or a point: <c>MOVLW_ 3</c>, <c>gate EQU- d'35'</c>, <c>sublw = d'9'</c>; and quotes
/// around numbers that came in two shapes.
/// </summary>
internal static class StraySigns
{
    /// <summary>The row without such a sign, and in question where it may be one.</summary>
    public static PrintedLine Correct(PrintedLine line)
    {
        if (line.IsPasted)
            line = WithPlainQuotes(line);
        int at = Find(line.Text[..MisreadCharacters.CodeEnd(line.Text)]);
        if (at < 0)
            return line;
        char sign = line.Text[at];
        line = OcrEdit.Replace(line, at, ' ');
        return sign is '_' or '\u2014' or '\u2013'
            ? line
            : line with
            {
                Question = $"was '{sign}' after the operation: is a sign or a point printed there?",
            };
    }

    /// <summary>The place of such a sign in the code of a row, or -1.</summary>
    public static int Find(string code)
    {
        int words = 0;
        for (int i = 0; i < code.Length && words < 2; words++)
        {
            while (i < code.Length && code[i] == ' ')
                i++;
            int start = i;
            while (i < code.Length && (char.IsAsciiLetterOrDigit(code[i])))
                i++;
            if (i == start)
                return -1;
            string word = code[start..i];
            int end = i;
            while (i < code.Length && code[i] is not (' ' or '_') && !IsSign(code[i]))
                i++;
            if (i > end && i < code.Length && code[i] == '_')
                return -1;
            if (end < i)
                continue;
            if (!TakesOperand(word))
            {
                while (i < code.Length && code[i] != ' ')
                    i++;
                continue;
            }

            int at = i;
            while (at < code.Length && code[at] == ' ')
                at++;
            // The sign by itself, or stuck to the operation; in front of a number it is the author's.
            bool isStuck = at == i;
            return
                at + 1 < code.Length
                && IsSign(code[at])
                && code[at + 1] == ' '
                && !code.AsSpan(at + 1).IsWhiteSpace()
                && (isStuck || code[at] is '=' or '_' or '~' or '-' or '\u2014' or '\u2013')
                ? at
                : -1;
        }

        return -1;
    }

    /// <summary>Whether a number has quotes of two shapes around it, as no author types them.</summary>
    public static bool HasBrokenQuotes(string code)
    {
        for (int i = 1; i + 2 < code.Length; i++)
        {
            if (
                code[i - 1] is not ('h' or 'H' or 'd' or 'D' or 'b' or 'B')
                || !IsQuote(code[i])
                || (i > 1 && char.IsAsciiLetterOrDigit(code[i - 2]))
            )
                continue;
            int end = i + 1;
            while (end < code.Length && char.IsAsciiHexDigit(code[end]))
                end++;
            if (end == i + 1 && end < code.Length && IsQuote(code[end]))
                return true;
            if (
                end > i + 1
                && end < code.Length
                && code[end] != code[i]
                && (IsQuote(code[end]) || code[end] is '"' or '\u00B0' or '*' or '!')
            )
                return true;
        }

        return false;
    }

    private static bool IsQuote(char c) => c is '\'' or '\u2018' or '\u2019';

    private static bool IsSign(char c) => c is '_' or '-' or '~' or '=' or '\u2014' or '\u2013';

    private static bool TakesOperand(string word) =>
        OperationWords.KeywordOf(word) is Keyword.Equ
        || (OperationWords.KindOf(word) == OperationKind.Instruction && !OperationWords.TakesNoOperand(word));

    // As in a picture that is read here; and a quote that came twice.
    private static PrintedLine WithPlainQuotes(PrintedLine line)
    {
        var text = new StringBuilder(line.Text);
        CodeCharacters.Normalize(text, [.. Enumerable.Repeat(1f, text.Length)]);
        for (int i = 1; i + 2 < text.Length && text[i] != ';'; i++)
            if (
                text[i] == '\''
                && text[i + 1] == '\''
                && text[i - 1] is 'h' or 'H' or 'd' or 'D' or 'b' or 'B'
                && char.IsAsciiHexDigit(text[i + 2])
            )
                text.Remove(i, 1);
        string now = text.ToString().TrimEnd();
        return now == line.Text ? line : line with { Text = now, AsRead = line.AsRead ?? line.Text };
    }
}
