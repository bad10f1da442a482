using AsmLsp.Core.Printed;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>
/// One name that OCR read in two ways, with a digit here and its letter there: <c>temp1</c> and <c>templ</c>. Where one of the two is defined and the other is
/// not, both are the same name, and it is written alike everywhere; which of them is printed changes no word.
/// </summary>
internal static class MisreadNames
{
    private const int LeastLength = 2;

    /// <summary>Writes such names alike in the rows.</summary>
    public static void Correct(List<PrintedLine> rows)
    {
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        var defined = new HashSet<string>(StringComparer.Ordinal);
        foreach (PrintedLine row in rows)
        {
            bool isFirst = true;
            foreach (SyntaxToken token in Names(row))
            {
                string name = row.Text.Substring(token.Start, token.Length);
                counts[name] = counts.GetValueOrDefault(name) + 1;
                if (isFirst && row.Text.AsSpan(0, token.Start).IsWhiteSpace())
                    defined.Add(name);
                isFirst = false;
            }
        }

        for (int i = 0; i < rows.Count; i++)
            foreach (SyntaxToken token in Names(rows[i]).Reverse())
                if (DoubleIn(rows[i].Text.Substring(token.Start, token.Length), counts, defined) is { } at)
                    rows[i] = OcrEdit.Remove(rows[i], token.Start + at);
        Dictionary<string, string> meant = Meant(counts, defined);
        if (meant.Count == 0)
            return;
        for (int i = 0; i < rows.Count; i++)
            foreach (SyntaxToken token in Names(rows[i]))
                if (meant.TryGetValue(rows[i].Text.Substring(token.Start, token.Length), out string? name))
                    for (int c = 0; c < name.Length; c++)
                        if (rows[i].Text[token.Start + c] != name[c])
                            rows[i] = OcrEdit.Replace(rows[i], token.Start + c, name[c]);
    }

    // 'count1l' beside 'count1': one character that was read as both of its kind.
    private static int? DoubleIn(string name, Dictionary<string, int> counts, HashSet<string> defined)
    {
        if (name.Length <= LeastLength || counts[name] > 1 || defined.Contains(name))
            return null;
        for (int i = 1; i < name.Length; i++)
        {
            if (name[i] == name[i - 1] || Shape(name[i..(i + 1)]) != Shape(name[(i - 1)..i]))
                continue;
            foreach (int wrong in (int[])[i, i - 1])
                if (defined.Contains(name.Remove(wrong, 1)))
                    return wrong;
        }

        return null;
    }

    private static Dictionary<string, string> Meant(Dictionary<string, int> counts, HashSet<string> defined)
    {
        var meant = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (
            IGrouping<string, string> group in counts
                .Keys.Where(static n => n.Length >= LeastLength && OperationWords.KindOf(n) == OperationKind.Unknown)
                .GroupBy(Shape, StringComparer.Ordinal)
        )
        {
            string[] spellings = [.. group];
            if (spellings.Length < 2 || spellings.Count(defined.Contains) != 1)
                continue;
            string own = spellings.First(defined.Contains);
            string[] alike = [.. spellings.Where(s => IsDigitForLetter(s, own))];
            // A letter for another letter, as in 'tall' and 'tail', makes another name.
            if (alike.Length != spellings.Length - 1)
                continue;
            string usual = alike.Append(own).MaxBy(s => counts[s] * 2 + (s == own ? 1 : 0))!;
            foreach (string spelling in spellings)
                if (spelling != usual)
                    meant.Add(spelling, usual);
        }

        return meant;
    }

    private static IEnumerable<SyntaxToken> Names(PrintedLine row) =>
        row.IsOcr ? Lexer.Lex(row.Text).Where(static t => t.Kind == TokenKind.Name) : [];

    private static string Shape(string name) =>
        string.Create(
            name.Length,
            name,
            static (span, from) =>
            {
                for (int i = 0; i < span.Length; i++)
                    span[i] = from[i] switch
                    {
                        'O' or 'o' => '0',
                        'l' or 'I' or 'i' => '1',
                        _ => from[i],
                    };
            }
        );

    private static bool IsDigitForLetter(string a, string b)
    {
        if (a == b)
            return false;
        for (int i = 0; i < a.Length; i++)
            if (a[i] != b[i] && char.IsAsciiDigit(a[i]) == char.IsAsciiDigit(b[i]))
                return false;
        return true;
    }
}
