using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Logging;

namespace AsmLsp.Pdf;

/// <summary>A font of the document, and what its letters showed about it.</summary>
internal sealed class PdfFont(string family)
{
    private static readonly string[] MonospacedNames =
        ["courier", "mono", "typewriter", "consol", "fixed", "lettergothic", "monaco", "menlo", "terminal", "ocrb", "ocra", "cmtt", "lmtt", "nimbusmon", "prestige"];

    private readonly Dictionary<char, double> widths = [];
    private bool? isMonospaced;

    /// <summary>Its name without the prefix of a subset.</summary>
    public string Family { get; } = family;

    /// <summary>Notes the width of a letter, in sizes of the font.</summary>
    public void Note(string value, double width)
    {
        if (value.Length == 1 && value[0] > ' ' && width > 0 && widths.Count < 64 && widths.TryAdd(value[0], width)) isMonospaced = null;
    }

    /// <summary>
    /// Whether all characters are equally wide. What the letters show counts more than the name; digits are equally
    /// wide in nearly every font, so it takes letters that are narrow and wide elsewhere.
    /// </summary>
    public bool IsMonospaced => isMonospaced ??= Judge();

    private bool Judge()
    {
        double narrow = 0, wide = 0;
        int narrows = 0, wides = 0;
        foreach ((char c, double width) in widths)
        {
            if ("iljtfI.,;:'!|".Contains(c, StringComparison.Ordinal)) (narrow, narrows) = (narrow + width, narrows + 1);
            else if ("mwMWNOQGHADCBERSTUPKVXY".Contains(c, StringComparison.Ordinal)) (wide, wides) = (wide + width, wides + 1);
        }

        if (narrows > 0 && wides > 0) return Math.Abs(narrow / narrows - wide / wides) < 0.04 * (wide / wides);
        string name = Family.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal);
        foreach (string known in MonospacedNames)
            if (name.Contains(known, StringComparison.OrdinalIgnoreCase)) return true;
        return false;
    }
}

/// <summary>
/// The fonts of a document. Listens to the library as its log, because only there it tells which characters have no
/// known meaning: for those it hands out the bare code as if it were a character, which would be silently wrong.
/// About composite fonts it says nothing at all; their maps are read here once more.
/// </summary>
internal sealed class PdfFonts : ILog
{
    private readonly Dictionary<IndirectReference, MeaningMap?> maps = [];
    private readonly Dictionary<string, PdfFont> fonts = new(StringComparer.Ordinal);
    private readonly HashSet<(string Font, int Code)> unknown = [];

    public PdfFont Of(Letter letter)
    {
        string name = letter.FontName ?? "";
        if (!fonts.TryGetValue(name, out PdfFont? font)) fonts[name] = font = new PdfFont(WithoutPrefix(name));
        double size = letter.PointSize > 0 ? letter.PointSize : 1;
        double dx = letter.EndBaseLine.X - letter.StartBaseLine.X, dy = letter.EndBaseLine.Y - letter.StartBaseLine.Y;
        font.Note(letter.Value ?? "", Math.Sqrt(dx * dx + dy * dy) / size);
        return font;
    }

    /// <summary>The document that the fonts belong to, once it is open.</summary>
    public PdfDocument? Document { get; set; }

    /// <summary>The filters for what the fonts keep packed.</summary>
    public BoundedFilters Filters { get; } = new();

    /// <summary>Whether text was left out because its font is not in the document.</summary>
    public bool LeftTextOut { get; private set; }

    /// <summary>The text of a letter, U+FFFD where the document doesn't tell it.</summary>
    public string Meaning(Letter letter)
    {
        string value = letter.Value ?? "";
        if (value.Length == 0) return "\uFFFD";
        if (value is "\t" or "\n" or "\r") return " ";
        // Codes of control and of private use have a meaning only inside the font.
        if (char.IsControl(value[0]) || value[0] is >= '\uE000' and <= '\uF8FF') return "\uFFFD";
        if (MapOf(letter) is { } map && !map.Knows(value)) return "\uFFFD";
        return unknown.Count > 0 && value.Length == 1 && unknown.Contains((letter.FontName ?? "", value[0])) ? "\uFFFD" : value;
    }

    private MeaningMap? MapOf(Letter letter)
    {
        if (Document is null || letter.FontDetails?.FontDictionaryReference is not { } reference) return null;
        if (!maps.TryGetValue(reference, out MeaningMap? map)) maps[reference] = map = MeaningMap.Of(Document, reference, Filters);
        return map;
    }

    void ILog.Debug(string message) => Listen(message);

    void ILog.Debug(string message, Exception ex) => Listen(message);

    void ILog.Warn(string message) => Listen(message);

    void ILog.Error(string message) => Listen(message);

    void ILog.Error(string message, Exception ex) => Listen(message);

    // "We could not find the corresponding character with code 3 in font ABCDEF+Name."
    private void Listen(string message)
    {
System.IO.File.AppendAllText("/tmp/listen.log", message + "\n");        if (message.StartsWith("Skipping a missing font", StringComparison.Ordinal)) LeftTextOut = true;
        const string Before = "character with code ", Between = " in font ";
        int at = message.IndexOf(Before, StringComparison.Ordinal);
        if (at < 0 || unknown.Count > 10_000) return;
        int code = 0, i = at + Before.Length;
        while (i < message.Length && char.IsAsciiDigit(message[i]) && code < 0x10FFFF) code = code * 10 + (message[i++] - '0');
        int name = message.IndexOf(Between, i, StringComparison.Ordinal);
        if (name == i) unknown.Add((message[(name + Between.Length)..].TrimEnd('.'), code));
    }

    private static string WithoutPrefix(string name) =>
        name.Length > 7 && name[6] == '+' && name.AsSpan(0, 6).IndexOfAnyExceptInRange('A', 'Z') < 0 ? name[7..] : name;
}
