using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>
/// Finds the headings that a text prints in the margin beside a listing, in a type of one width as the listing: a column of words to the left of all its
/// rows, with white between the two. Labels make such a column, too; they are used.
/// </summary>
internal static class MarginHeadings
{
    // White between headings and listing, in heights of the type.
    private const double LeastGap = 1.2;

    // So many rows make a listing, and of ten of them so many at most have a heading.
    private const int LeastRows = 8;
    private const int MostOfTen = 4;

    // Rows of one listing are further apart, in heights of the type.
    private const double NearRow = 0.8;

    // Pieces that start within so many points are one column.
    private const double SameStart = 3;

    /// <summary>The place where the listing begins beside a column of headings; 0 where there is none.</summary>
    public static double EdgeOf(List<GlyphRow> rows)
    {
        if (rows.Count < LeastRows)
            return 0;
        double start = rows.Min(static r => r.X);
        List<GlyphRow> first = rows.FindAll(r => r.X < start + SameStart);
        if (first.Count < 2 || first.Count * 10 > rows.Count * MostOfTen)
            return 0;
        double edge = rows.Where(r => r.X >= start + SameStart).Min(static r => r.X),
            end = first.Max(r => EndOfPiece(r, edge));
        if (edge - end < LeastGap * first[0].Size)
            return 0;
        var headings = new List<string>();
        int beside = 0;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows[i].Part(double.MinValue, edge - 0.01) is not { } heading)
                continue;
            headings.Add(HalfLine.TextOf(heading));
            if (heading.EndX < rows[i].EndX || IsBetweenRows(rows, i))
                beside++;
        }

        // The rest of a comment has a row to itself.
        if (beside < 2 || beside * 3 < headings.Count * 2)
            return 0;
        List<string> listing =
        [
            .. rows.Select(r => r.Part(edge - 0.01, double.MaxValue)).OfType<GlyphRow>().Select(HalfLine.TextOf),
        ];
        return AreHeadings(headings, listing) ? edge - 0.01 : 0;
    }

    /// <summary>Whether the rows of one text column are headings in the margin of another one.</summary>
    public static bool AreOf(List<GlyphRow> rows, List<GlyphRow> listing) =>
        listing.Count >= LeastRows
        && rows.Count * 10 <= listing.Count * MostOfTen
        && rows.Max(static r => r.EndX) < listing.Min(static r => r.X)
        && rows[0].Y > listing[0].Y - rows[0].Size
        && rows[^1].Y < listing[^1].Y + rows[0].Size
        && AreHeadings([.. rows.Select(HalfLine.TextOf)], [.. listing.Select(HalfLine.TextOf)]);

    private static bool IsBetweenRows(List<GlyphRow> rows, int at) =>
        (at > 0 && rows[at].Y - rows[at - 1].Y < NearRow * rows[at].Size)
        || (at + 1 < rows.Count && rows[at + 1].Y - rows[at].Y < NearRow * rows[at].Size);

    // Where the words end with which a row begins; what runs past the edge ends there, and leaves no white.
    private static double EndOfPiece(GlyphRow row, double edge)
    {
        double end = row.X;
        foreach (Glyph glyph in row.Glyphs)
            if (!glyph.IsBlank && glyph.X < edge - 0.01)
                end = Math.Max(end, glyph.EndX);
        return end;
    }

    private static bool AreHeadings(List<string> headings, List<string> listing)
    {
        HashSet<string> begins = new(StringComparer.OrdinalIgnoreCase),
            used = new(StringComparer.OrdinalIgnoreCase);
        int statements = 0;
        foreach (string text in listing)
        {
            statements += (HalfLine.Of(text) & (HalfTraits.Statement | HalfTraits.Comment)) != 0 ? 1 : 0;
            int number = 0;
            int comment = text.IndexOf(';', StringComparison.Ordinal);
            foreach (SyntaxToken token in Lexer.Lex(comment < 0 ? text : text[..comment]))
                if (token.Kind == TokenKind.Name)
                    (number++ == 0 ? begins : used).Add(text.Substring(token.Start, token.Length));
        }

        // Names, too, are in a column of their own to the left of 'EQU'; a row of the listing is whole without what is beside it.
        if (statements * 3 < listing.Count || listing.Exists(static t => (HalfLine.Of(t) & HalfTraits.NeedsName) != 0))
            return false;
        int labels = 0,
            sentences = 0;
        foreach (string heading in headings)
        {
            if (!char.IsLetter(heading[0]) || heading.Contains(';', StringComparison.Ordinal) || heading.EndsWith(':'))
                return false;
            string[] words = heading.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            OperationWord? operation = OperationWords.Find(words[0]);
            if (operation is { } known && !known.Has(WordTraits.Natural))
                return false;
            // Code is no heading: a label with its operation, an operation with a name of the program.
            if (
                words.Length > 1
                && (OperationWords.Find(words[1]) is not null || (operation is not null && used.Contains(words[1])))
            )
                return false;
            // A word that the listing uses and does not define is its label; 'delay' beside the routine of that name is none.
            if (words.Length == 1 && operation is null && used.Contains(words[0]) && !begins.Contains(words[0]))
                labels++;
            else if (words.Length > 1 || operation is not null)
                sentences++;
        }

        // A column of lone words may be one of labels that nobody uses, unless the listing has its own beside it.
        return labels == 0 ? sentences > 0 || begins.Overlaps(used) : sentences > 1 && labels * 3 <= headings.Count;
    }
}
