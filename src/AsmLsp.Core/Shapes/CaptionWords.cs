using System.Collections.Frozen;

namespace AsmLsp.Core.Shapes;

/// <summary>The words that captions of figures and tables begin with, in the languages of most printed projects (common practice).</summary>
internal static class CaptionWords
{
    private static readonly FrozenSet<string>.AlternateLookup<ReadOnlySpan<char>> Words = new[]
    {
        "figure",
        "fig",
        "figura",
        "figuur",
        "figur",
        "table",
        "tab",
        "tabelle",
        "tabella",
        "tabela",
        "tabla",
        "tabel",
        "tabell",
        "tableau",
        "listing",
        "list",
        "photo",
        "foto",
        "picture",
        "diagram",
        "diagramm",
        "schematic",
        "scheme",
        "schema",
        "schéma",
        "illustration",
        "abbildung",
        "abb",
        "bild",
        "afbeelding",
        "afb",
        "cuadro",
        "quadro",
        "imagen",
        "imagem",
        "rysunek",
        "rys",
        "obrázek",
        "obr",
        "рис",
        "рисунок",
        "таблица",
        "example",
        "beispiel",
    }
        .ToFrozenSet(StringComparer.OrdinalIgnoreCase)
        .GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>Whether a text begins as a caption: <c>Figure 3. The counter</c>, <c>Abb. 2: Aufbau</c>, <c>Table 4-1</c>.</summary>
    public static bool Begin(ReadOnlySpan<char> text)
    {
        text = text.Trim();
        int end = 0;
        while (end < text.Length && char.IsLetter(text[end]))
            end++;
        if (end == 0 || !Words.Contains(text[..end]))
            return false;
        ReadOnlySpan<char> rest = text[end..].TrimStart(". ");
        int number = 0;
        while (
            number < rest.Length
            && (
                char.IsAsciiDigit(rest[number])
                || (number > 0 && rest[number] is '.' or '-' && IsDigitAt(rest, number + 1))
            )
        )
            number++;
        return number is > 0 and < 8
            && rest.Length < text.Length - end
            && (
                number == rest.Length || rest[number] is '.' or ':' or ' ' or ')' or ',' or '-' or '\u2013' or '\u2014'
            );
    }

    private static bool IsDigitAt(ReadOnlySpan<char> text, int at) => at < text.Length && char.IsAsciiDigit(text[at]);
}
