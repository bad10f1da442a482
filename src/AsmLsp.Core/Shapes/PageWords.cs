namespace AsmLsp.Core.Shapes;

/// <summary>The words that printed page numbers are written with, in the languages of most printed projects (common practice).</summary>
public static class PageWords
{
    private static readonly string[] Page =
    [
        "page",
        "pg",
        "p",
        "seite",
        "s",
        "blatt",
        "sheet",
        "pagina",
        "página",
        "sida",
        "side",
        "str",
        "strona",
        "лист",
        "стр",
    ];

    private static readonly string[] Total = ["of", "von", "de", "di", "sur", "av", "van", "из"];

    /// <summary>Whether a word means a page: 'Page 12', 'S. 12'.</summary>
    public static bool IsPage(ReadOnlySpan<char> word) => IsAny(word, Page);

    /// <summary>Whether a word is between a page's number and the number of pages: '12 of 30'.</summary>
    public static bool IsBetween(ReadOnlySpan<char> word) => IsAny(word, Total);

    private static bool IsAny(ReadOnlySpan<char> word, string[] words)
    {
        foreach (string known in words)
            if (word.Equals(known, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }
}
