namespace AsmLsp.Pdf;

/// <summary>
/// Parts the headings that a text prints beside a listing from its rows: words in the type of the text in front of a row that is set in the type of
/// listings, with white between them. Read as one row, such a heading would be a label, or would put an operation out of its place.
/// </summary>
internal static class SideHeadings
{
    // A heading is clear of the listing: as much white as parts the columns of a table, in heights of the type.
    private const double LeastGap = 1.2;

    /// <summary>The rows with each heading as a row of its own, above what it is beside.</summary>
    public static List<GlyphRow> Part(List<GlyphRow> rows, FontWidths widths)
    {
        List<GlyphRow>? parted = null;
        for (int i = 0; i < rows.Count; i++)
        {
            double edge = EdgeOf(rows[i], widths);
            if (
                edge > 0
                && rows[i].Part(double.MinValue, edge) is { } heading
                && rows[i].Part(edge, double.MaxValue) is { } rest
            )
            {
                parted ??= rows.GetRange(0, i);
                parted.Add(heading);
                parted.Add(rest);
                continue;
            }

            parted?.Add(rows[i]);
        }

        return parted ?? rows;
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
