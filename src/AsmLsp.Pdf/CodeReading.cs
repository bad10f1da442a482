namespace AsmLsp.Pdf;

/// <summary>
/// Reads fonts of which the document does not say what their codes mean, where the codes themselves bear out that they are
/// letters: the fonts of TeX that come as pictures of letters (Type 3) are such. What is not borne out stays unknown.
/// </summary>
internal static class CodeReading
{
    // A wider gap than this part of the height starts another word; kerning stays below it.
    private const double GapOfWord = 0.3;

    /// <summary>Puts in the meanings that are borne out.</summary>
    public static void Apply(List<PageInput> pages, ReadingGuard guard)
    {
        FalseMaps.Forget(pages);
        var fonts = new Dictionary<FontFace, CodeEvidence>(ReferenceEqualityComparer.Instance);
        foreach (PageInput page in pages)
        {
            if (page.Glyphs is null)
                continue;
            guard.Check();
            Collect(page.Glyphs.Glyphs, fonts);
        }

        if (fonts.Count == 0)
            return;
        Dictionary<FontFace, Func<int, string?>> readings = Readings(fonts);
        if (readings.Count == 0)
            return;
        foreach (PageInput page in pages)
        {
            if (page.Glyphs?.Glyphs is not { } glyphs)
                continue;
            for (int i = 0; i < glyphs.Count; i++)
            {
                Glyph glyph = glyphs[i];
                if (
                    glyph.Text == Glyph.Unknown
                    && readings.TryGetValue(glyph.Font, out Func<int, string?>? reading)
                    && reading(glyph.Font.Names.NumberOf(glyph.Code)) is { } text
                )
                    glyphs[i] = glyph with { Text = text };
            }
        }
    }

    private static void Collect(List<Glyph> glyphs, Dictionary<FontFace, CodeEvidence> fonts)
    {
        FontFace? last = null;
        double end = 0,
            line = 0;
        foreach (Glyph glyph in glyphs)
        {
            if (glyph.Text != Glyph.Unknown)
            {
                last = null;
                continue;
            }

            if (!fonts.TryGetValue(glyph.Font, out CodeEvidence? evidence))
                fonts.Add(glyph.Font, evidence = new CodeEvidence(glyph.Font));
            double gap = Math.Abs(glyph.X - end) + Math.Abs(glyph.Y - line),
                em = Math.Max(1, glyph.Width);
            evidence.Add(
                glyph.Font.Names.NumberOf(glyph.Code),
                glyph.Width,
                glyph.Size,
                continues: last == glyph.Font && gap < GapOfWord * em
            );
            (last, end, line) = (glyph.Font, glyph.EndX, glyph.Y);
        }
    }

    private static Dictionary<FontFace, Func<int, string?>> Readings(Dictionary<FontFace, CodeEvidence> fonts)
    {
        var readings = new Dictionary<FontFace, Func<int, string?>>(ReferenceEqualityComparer.Instance);
        var main = new List<CodeEvidence>();
        foreach ((FontFace font, CodeEvidence evidence) in fonts)
        {
            if (!evidence.IsText)
                continue;
            main.Add(evidence);
            readings.Add(font, evidence.Reading());
        }

        // Numbers of pages and lines; and beside fonts that are read, small ones of the same making: a heading, the upright quote.
        bool isTex = main.Exists(static m => m.Font.Names.AreCodes);
        foreach ((FontFace font, CodeEvidence evidence) in fonts)
        {
            if (readings.ContainsKey(font) || !font.Names.AreCodes)
                continue;
            if (evidence.IsDigits || (isTex && evidence.IsFewWords))
                readings.Add(font, TexCharacters.InAll);
            else if (evidence.IsUprightSigns && main.Exists(m => m.IsMonospaced && m.HasWidth(evidence.Width)))
                readings.Add(font, TexCharacters.InMonospaced);
        }

        return readings;
    }
}
