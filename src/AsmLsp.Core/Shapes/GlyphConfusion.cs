namespace AsmLsp.Core.Shapes;

/// <summary>
/// Which printed characters a text recognition takes for each other however sure it says it is. Measured by reading
/// printed programs and tables of numbers in six fonts at 150 to 300 dots per inch, clean, grainy, turned and blurred;
/// docs/recovery.md has the figures.
/// </summary>
internal static class GlyphConfusion
{
    // Of one shape in many types: the ink of the one proves nothing against the other.
    private static readonly string[] SameInSomeTypes =
    [
        "0OoQD",
        "1lIi|!L",
        "8BSs",
        "5Ss",
        "2Zz",
        "6Gb",
        "9gqS",
        "mM",
        "Cc",
        "Xx",
        "Ww",
        "Vv",
        "Kk",
        "Pp",
        "Uu",
    ];

    // Characters of one set are taken for each other; a character may be in several.
    private static readonly string[] Sets =
    [
        .. SameInSomeTypes,
        "ce",
        "ft",
        "rt",
        "da",
        "uv",
        "hb",
        "EBF",
        "re",
        "7T",
        "oe",
    ];

    // All characters of the sets are ASCII: a table answers at once, since whole lists of names are gone through.
    private static readonly bool[] Pairs = MakePairs(Sets),
        SamePairs = MakePairs(SameInSomeTypes);

    /// <summary>Whether one character may have been read for the other.</summary>
    public static bool Alike(char a, char b) => a == b || (a < 128 && b < 128 && Pairs[a * 128 + b]);

    /// <summary>Whether two characters are of one shape in some types.</summary>
    public static bool HaveOneShape(char a, char b) => a == b || (a < 128 && b < 128 && SamePairs[a * 128 + b]);

    private static bool[] MakePairs(string[] sets)
    {
        var pairs = new bool[128 * 128];
        foreach (string set in sets)
        foreach (char a in set)
        foreach (char b in set)
            pairs[a * 128 + b] = true;
        return pairs;
    }

    /// <summary>One character for all that are taken for it, so that a word and its misreadings compare equal.</summary>
    public static char Shape(char c) =>
        c switch
        {
            'O' or 'o' or 'Q' or 'D' or '@' or '\u00A9' => '0',
            'l' or 'I' or 'i' or '|' or 'L' => '1',
            'e' or 'C' or 'E' or '\u00A2' => 'c',
            't' or '\u00A3' or 'T' or 'F' => 'f',
            'S' or 's' => '5',
            'B' => '8',
            'Z' or 'z' => '2',
            'G' or 'b' => '6',
            'g' or 'q' => '9',
            'a' => 'd',
            '\u2018' or '\u2019' or '!' or '\u00B0' => '\'',
            '\u201C' or '\u201D' => '"',
            '\u2014' or '\u2013' => '-',
            _ => char.ToLowerInvariant(c),
        };

    /// <summary>A text by its shapes.</summary>
    public static string Shapes(string text) =>
        string.Create(
            text.Length,
            text,
            static (span, from) =>
            {
                for (int i = 0; i < span.Length; i++)
                    span[i] = Shape(from[i]);
            }
        );

    /// <summary>
    /// Whether a word that was read may be another one: each place is alike, or was not read clearly.
    /// </summary>
    /// <param name="read">The word that was read.</param>
    /// <param name="other">Another word.</param>
    /// <param name="isClear">Whether the character at a place of <paramref name="read"/> was read clearly.</param>
    public static bool MayBe(ReadOnlySpan<char> read, ReadOnlySpan<char> other, Func<int, bool> isClear)
    {
        if (read.Length != other.Length)
            return false;
        for (int i = 0; i < read.Length; i++)
            if (!Alike(read[i], other[i]) && isClear(i))
                return false;
        return true;
    }
}
