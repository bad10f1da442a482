namespace AsmLsp.Pdf;

/// <summary>
/// Parts the headings and notes that a text prints beside a listing from its rows: words in the type of the text in front of a row that is set in the type of
/// listings, or after it, with white between them. Read as one row, such a heading would be a label, or would put an operation out of its place; a note would
/// be operands.
/// </summary>
internal static class SideHeadings
{
    // A heading is clear of the listing: as much white as parts the columns of a table, in heights of the type.
    private const double LeastGap = 1.2;

    /// <summary>The rows with each heading as a row of its own, above what it is beside, and each note below it.</summary>
    public static List<GlyphRow> Part(List<GlyphRow> rows, FontWidths widths)
    {
        List<GlyphRow>? parted = null;
        for (int i = 0; i < rows.Count; i++)
        {
            double edge = EdgeOf(rows[i], widths) is var heading and > 0 ? heading : NoteOf(rows[i], widths);
            if (
                edge > 0
                && rows[i].Part(double.MinValue, edge) is { } left
                && rows[i].Part(edge, double.MaxValue) is { } right
            )
            {
                parted ??= rows.GetRange(0, i);
                parted.Add(left);
                parted.Add(right);
                continue;
            }

            parted?.Add(rows[i]);
        }

        return parted ?? rows;
    }

    // Where a note begins that is all in the type of the text; 0 where there is none. What begins with a ';' is the comment of the line.
    private static double NoteOf(GlyphRow row, FontWidths widths)
    {
        int listing = 0;
        Glyph? last = null,
            first = null;
        bool isWord = false;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            bool isListing = widths.IsMonospaced(glyph.Font);
            if (first is null && isListing)
                listing++;
            else if (isListing)
                return 0;
            else if (first is null)
            {
                if (
                    listing < 2
                    || last is not { } before
                    || glyph.X - before.EndX < LeastGap * glyph.Size
                    || glyph.Text is [';', ..]
                )
                    return 0;
                first = glyph;
            }

            isWord |= first is not null && glyph.Text.Length > 0 && char.IsLetter(glyph.Text[0]);
            last = glyph;
        }

        return first is { } note && isWord ? note.X - 0.01 : 0;
    }

    // Where the listing begins; 0 where the row is all of one kind, or a number is in front of it.
    private static double EdgeOf(GlyphRow row, FontWidths widths)
    {
        Glyph? last = null;
        bool isWord = false;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            if (!widths.IsMonospaced(glyph.Font))
            {
                isWord |= glyph.Text.Length > 0 && char.IsLetter(glyph.Text[0]);
                last = glyph;
                continue;
            }

            if (last is not { } before || !isWord || glyph.X - before.EndX < LeastGap * glyph.Size)
                return 0;
            return IsAllMonospaced(row, glyph.X, widths) ? glyph.X - 0.01 : 0;
        }

        return 0;
    }

    private static bool IsAllMonospaced(GlyphRow row, double from, FontWidths widths)
    {
        int shown = 0;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank || glyph.X < from)
                continue;
            if (!widths.IsMonospaced(glyph.Font))
                return false;
            shown++;
        }

        return shown > 1;
    }
}
