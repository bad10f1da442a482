using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Words of the page around a listing that could be read as labels of it: headings above it, beside it or between its rows.</summary>
internal sealed class ListingHeadings(DocumentRows rows)
{
    /// <summary>A caption is further from the rows around it than so many heights of the type.</summary>
    private const double RoomOfCaption = 1.9;

    private HashSet<string>? codeWords;

    /// <summary>
    /// A word that is nowhere else, in another type than the line below it or below text that is no program: it heads the listing, and as a label
    /// it would make nothing.
    /// </summary>
    public bool IsHeading(bool[] taken, int line) =>
        line + 1 < rows.Count
        && (
            rows.TypefaceOf(line) != rows.TypefaceOf(line + 1)
            || (
                line > 0
                && rows.Looks[line - 1] == Look.Other
                && !rows.IsHeaderOrFooter(line - 1)
                && rows.Lines[line - 1].Page == rows.Lines[line].Page
            )
        )
        && EdgeNames.NameOf(rows.Texts[line]) is { } name
        && OperationWords.KindOf(name) == OperationKind.Unknown
        && !IsUsedBelow(taken, line, name);

    /// <summary>A word in another type than the code above and below it that is nowhere else: a heading beside or between the lines, no label.</summary>
    public bool IsSideHeading(int line)
    {
        if (rows.Looks[line] != Look.Perhaps || EdgeNames.NameOf(rows.Texts[line]) is not { } name)
            return false;
        if (OperationWords.KindOf(name) != OperationKind.Unknown)
            return false;
        int above = line - 1,
            below = line + 1;
        while (above >= 0 && rows.Looks[above] != Look.Code)
            above--;
        while (below < rows.Count && rows.Looks[below] != Look.Code)
            below++;
        return above >= 0
            && below < rows.Count
            && rows.TypefaceOf(above) == rows.TypefaceOf(below)
            && rows.TypefaceOf(line) != rows.TypefaceOf(above)
            && !(codeWords ??= CodeWords()).Contains(name);
    }

    /// <summary>Whether a row is the caption of a figure or table, with room above and below it. The rest of a comment has none.</summary>
    public bool IsCaption(int row) =>
        rows.Looks[row] is Look.Other or Look.Perhaps
        && CaptionWords.Begin(rows.Texts[row])
        && row > 0
        && row + 1 < rows.Count
        && HasRoom(row - 1, row)
        && HasRoom(row, row + 1);

    private bool HasRoom(int above, int below) =>
        rows.Lines[above].Page == rows.Lines[below].Page
        && rows.Lines[below].Y - rows.Lines[above].Y
            > RoomOfCaption * Math.Max(rows.Lines[above].FontSize, rows.Lines[below].FontSize);

    private bool IsUsedBelow(bool[] taken, int line, string name)
    {
        for (int i = line + 1; i < rows.Count; i++)
            if (
                taken[i]
                && Array.Exists(
                    Lexer.Lex(rows.Texts[i]),
                    t =>
                        t.Kind == TokenKind.Name
                        && rows.Texts[i].AsSpan(t.Start, t.Length).Equals(name, StringComparison.OrdinalIgnoreCase)
                )
            )
                return true;
        return false;
    }

    // The words of the rows that are code, comments aside.
    private HashSet<string> CodeWords()
    {
        var words = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.Looks[i] != Look.Code)
                continue;
            foreach (SyntaxToken token in Lexer.Lex(rows.Texts[i]))
                if (token.Kind == TokenKind.Name)
                    words.Add(rows.Texts[i].Substring(token.Start, token.Length));
        }

        return words;
    }
}
