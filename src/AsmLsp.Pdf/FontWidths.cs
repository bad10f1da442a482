namespace AsmLsp.Pdf;

/// <summary>Finds out which fonts of a document have characters of one width, by measuring them.</summary>
internal sealed class FontWidths
{
    // Narrow in every proportional font, and wide ones to hold against them.
    private const string Narrow = "ijltfrI.,:;'|!()[]";
    private const double Tolerance = 0.012;

    private static readonly string[] Names =
    [
        "courier",
        "mono",
        "consol",
        "typewriter",
        "lettergothic",
        "letter gothic",
        "fixed",
        "terminal",
        "menlo",
        "monaco",
        "andale",
        "cmtt",
        "nimbusmon",
        "lucida sans typewriter",
        "ocr",
    ];

    private readonly Dictionary<string, Widths> fonts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, bool> answers = new(StringComparer.Ordinal);

    public void Add(in Glyph glyph)
    {
        if (glyph.IsBlank || glyph.Size <= 0 || glyph.Text.Length != 1)
            return;
        if (!fonts.TryGetValue(glyph.Font.Key, out Widths? widths))
            fonts.Add(glyph.Font.Key, widths = new Widths());
        double length = Math.Sqrt(
            (glyph.EndX - glyph.X) * (glyph.EndX - glyph.X) + (glyph.EndY - glyph.Y) * (glyph.EndY - glyph.Y)
        );
        widths.Add(glyph.Text[0], length / glyph.Size);
    }

    public bool IsMonospaced(FontFace face)
    {
        if (answers.TryGetValue(face.Key, out bool known))
            return known;
        bool answer =
            fonts.TryGetValue(face.Key, out Widths? widths) && widths.IsEnough
                ? widths.AreEqual
                : HasMonospacedName(face.Name);
        answers.Add(face.Key, answer);
        return answer;
    }

    private static bool HasMonospacedName(string name) =>
        Array.Exists(Names, n => name.Contains(n, StringComparison.OrdinalIgnoreCase));

    private sealed class Widths
    {
        private readonly Dictionary<char, (double Least, double Most)> characters = [];

        public void Add(char c, double width)
        {
            if (!characters.TryGetValue(c, out (double Least, double Most) seen))
                seen = (width, width);
            characters[c] = (Math.Min(seen.Least, width), Math.Max(seen.Most, width));
        }

        /// <summary>Whether both narrow and wide characters were seen: the digits of most proportional fonts are equally wide too.</summary>
        public bool IsEnough
        {
            get
            {
                int narrow = 0,
                    wide = 0;
                foreach (char c in characters.Keys)
                {
                    if (Narrow.Contains(c, StringComparison.Ordinal))
                        narrow++;
                    else if (char.IsAsciiLetter(c))
                        wide++;
                }

                return narrow >= 1 && wide >= 3;
            }
        }

        public bool AreEqual
        {
            get
            {
                // The median's neighbors count; a line that was squeezed on purpose, or a symbol from elsewhere, does not.
                double[] all = [.. characters.Values.Select(w => w.Least).Order()];
                double median = all[all.Length / 2];
                return all.Count(w => Math.Abs(w - median) <= Tolerance) >= 0.9 * all.Length;
            }
        }
    }
}
