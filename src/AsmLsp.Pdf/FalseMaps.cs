namespace AsmLsp.Pdf;

/// <summary>
/// Takes no notice of maps that cannot be true: some programs give every shape of a font one and the same character, or a few,
/// because they know no better.
/// </summary>
internal static class FalseMaps
{
    // Two shapes of a letter are not rare, three codes for each of eight and more are.
    private const int LeastCodes = 8,
        CodesOfCharacter = 3;

    /// <summary>Makes the characters of such fonts unknown.</summary>
    public static void Forget(List<PageInput> pages)
    {
        var meanings = new Dictionary<FontFace, Dictionary<int, string>>(ReferenceEqualityComparer.Instance);
        foreach (PageInput page in pages)
        {
            if (page.Glyphs is null)
                continue;
            foreach (Glyph glyph in page.Glyphs.Glyphs)
            {
                if (glyph.Text == Glyph.Unknown)
                    continue;
                if (!meanings.TryGetValue(glyph.Font, out Dictionary<int, string>? own))
                    meanings.Add(glyph.Font, own = []);
                own[glyph.Code] = glyph.Text;
            }
        }

        var untrue = new HashSet<FontFace>(
            meanings.Where(static m => IsFalse(m.Value)).Select(static m => m.Key),
            ReferenceEqualityComparer.Instance
        );
        if (untrue.Count == 0)
            return;
        foreach (PageInput page in pages)
        {
            if (page.Glyphs?.Glyphs is not { } glyphs)
                continue;
            for (int i = 0; i < glyphs.Count; i++)
                if (untrue.Contains(glyphs[i].Font))
                    glyphs[i] = glyphs[i] with { Text = Glyph.Unknown };
        }
    }

    private static bool IsFalse(Dictionary<int, string> meanings) =>
        meanings.Count >= LeastCodes
        && meanings.Values.Distinct(StringComparer.Ordinal).Count() * CodesOfCharacter <= meanings.Count;
}
