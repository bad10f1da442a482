using System.Text;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Puts the parts of a document together that are one program, and sets aside what is printed a second time: a program continues past its <c>end</c> to
/// the part that has the labels it needs.
/// </summary>
internal static class ListingParts
{
    /// <summary>The programs and pieces of a document, in its order.</summary>
    public static List<Listing> Join(List<Listing> parts)
    {
        var result = new List<Listing>(parts.Count);
        var taken = new bool[parts.Count];
        for (int i = 0; i < parts.Count; i++)
        {
            if (taken[i])
                continue;
            Listing whole = parts[i];
            if (whole.FileName is null && whole.Names.HasHead)
                for (int j = i + 1; j < parts.Count && !parts[j].Names.HasHead; j++)
                    if (!taken[j] && parts[j].FileName is null && Needs(whole, parts[j]))
                    {
                        whole = whole.With(parts[j]);
                        taken[j] = true;
                    }

            if (result.Find(l => IsSame(l, whole)) is { } first)
                first.Copies.Add(whole);
            else
                result.Add(whole);
        }

        return result;
    }

    // The other part has a label that this one jumps to and has not, and gives no name a second meaning.
    private static bool Needs(Listing listing, Listing part) =>
        !listing.Names.Overlaps(part.Names) && listing.Lacking.Exists(part.Names.HasLabel);

    private static bool IsSame(Listing a, Listing b) =>
        a.CodeLines == b.CodeLines
        && string.Equals(a.FileName, b.FileName, StringComparison.OrdinalIgnoreCase)
        && a.Code.SequenceEqual(b.Code, StringComparer.Ordinal);

    /// <summary>The code of some rows: their tokens with one blank between them, without comments; rows without code are left out.</summary>
    public static List<string> CodeOf(IEnumerable<string> texts) => CodeWithRows(texts).Lines;

    /// <summary>The same, with the row, from 0, that each line is from.</summary>
    public static (List<string> Lines, List<int> Rows) CodeWithRows(IEnumerable<string> texts)
    {
        var code = new List<string>();
        var rows = new List<int>();
        int row = 0;
        var key = new StringBuilder();
        foreach (string text in texts)
        {
            string plain = AssemblyLook.Plain(text);
            foreach (SyntaxToken token in Lexer.Lex(plain))
            {
                if (token.Kind == TokenKind.Comment)
                    break;
                ReadOnlySpan<char> word = plain.AsSpan(token.Start, token.Length);
                if (!word.IsWhiteSpace())
                    key.Append(key.Length > 0 ? " " : "").Append(word);
            }

            if (key.Length > 0)
            {
                code.Add(key.ToString());
                rows.Add(row);
            }

            row++;
            key.Clear();
        }

        return (code, rows);
    }
}
