using AsmLsp.Core.Printed;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>
/// Recognizes a paste that OCR made: words that no author writes and that OCR reads again and again. Such a text gets the care of one that was read from a picture.
/// </summary>
internal static class OcrPaste
{
    // So many misread rows, of two kinds or many of one; and one in so many rows.
    private const int Least = 3,
        LeastOfOneKind = 5,
        MostRows = 80;

    /// <summary>The document, its rows marked as read by OCR where they are.</summary>
    public static PrintedDocument Mark(PrintedDocument pasted) =>
        !IsOcr([.. pasted.Pages.SelectMany(static p => p.Lines)])
            ? pasted
            : pasted with
            {
                Pages =
                [
                    .. pasted.Pages.Select(static p =>
                        p with
                        {
                            Lines = [.. p.Lines.Select(static l => l with { IsOcr = true, IsPasted = true })],
                        }
                    ),
                ],
            };

    private static bool IsOcr(List<PrintedLine> rows)
    {
        int pounds = 0,
            numbers = 0,
            operations = 0,
            remarks = 0,
            strays = 0;
        // A name that the text defines or uses as a label is as its author wrote it: 'o equ 0' makes 'bsf status,o' no misread digit.
        HashSet<string> own = [.. rows.Select(static r => FirstWord(r.Text)).Where(static w => w.Length > 0)];
        foreach (PrintedLine row in rows)
        {
            string code = row.Text[..MisreadCharacters.CodeEnd(row.Text)];
            if (code.Contains('\u00A3', StringComparison.Ordinal))
                pounds++;
            else if (StraySigns.Find(code) >= 0 || StraySigns.HasBrokenQuotes(code))
                strays++;
            else if (MisreadRemarks.AfterStatement(row.Text) is var sign and > 0 && row.Text[sign] != ':')
                remarks++;
            else if (HasMisreadNumber(code, own))
                numbers++;
            else if (HasMisreadOperation(code))
                operations++;
        }

        int[] kinds = [pounds, numbers, operations, remarks, strays];
        int all = kinds.Sum();
        return all >= (kinds.Count(static k => k > 0) > 1 ? Least : LeastOfOneKind) && all * MostRows >= rows.Count;
    }

    // A name in column one, before an assignment or after '#define'; a word that is an operation is none.
    private static string FirstWord(string text)
    {
        LineSyntax syntax = LineSyntax.Parse(text);
        if (syntax.Keyword is Keyword.Define or Keyword.Variable or Keyword.Constant)
        {
            ReadOnlySpan<char> operands = syntax.OperandText.AsSpan().Trim();
            int last = 0;
            while (last < operands.Length && Lexer.IsNamePart(operands[last]))
                last++;
            return operands[..last].ToString();
        }

        ReadOnlySpan<char> line = text.AsSpan().TrimStart();
        int end = 0;
        while (end < line.Length && Lexer.IsNamePart(line[end]))
            end++;
        return OperationWords.KindOf(line[..end]) == OperationKind.Unknown ? line[..end].ToString() : "";
    }

    private static bool HasMisreadNumber(string code, HashSet<string> own)
    {
        foreach (SyntaxToken token in Lexer.Lex(code))
            if (
                token.Kind == TokenKind.Name
                && code.Substring(token.Start, token.Length) is var word
                && !own.Contains(word)
                && (
                    MisreadCharacters.IsHexadecimal(word)
                    || IsLoneLetter(code, token)
                    || (token.Start > 0 && MisreadCharacters.IsWithSuffix(word))
                )
            )
                return true;
        return false;
    }

    // 'PORTB,O': a bit or a destination that is a letter which looks like its digit.
    private static bool IsLoneLetter(string code, SyntaxToken token) =>
        token.Length == 1
        && code[token.Start] is 'O' or 'o' or 'l' or 'I'
        && token.Start > 0
        && code[token.Start - 1] is ',' or ' '
        && code[..token.Start].TrimEnd().EndsWith(',');

    // The first or the second word is no operation, and looks like exactly one.
    private static bool HasMisreadOperation(string code)
    {
        string[] words = code.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length is 0 or > 4)
            return false;
        for (int i = 0; i < Math.Min(2, words.Length); i++)
        {
            if (words[i].Length < 3 || !words[i].All(char.IsAsciiLetter))
                continue;
            if (OperationWords.KindOf(words[i]) != OperationKind.Unknown)
                return false;
            if (
                words.Length > i + 1
                && MisreadWord.Only(words[i], Instructions, anyCase: true) is { } meant
                && CodeShape.IsCode(LineSyntax.Parse($" {meant} {string.Join(' ', words[(i + 1)..])}"))
            )
                return true;
        }

        return false;
    }

    private static readonly string[] Instructions =
    [
        .. OperationWords.Entries.Where(static w => w.Kind == OperationKind.Instruction).Select(static w => w.Text),
    ];
}
