using System.Globalization;
using System.Text;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>
/// The characters that a composite font says its codes mean (ISO 32000-1, 9.10.3, ToUnicode). For a code that the font
/// leaves out, the library hands out the code itself as a character; whatever is no value of the map was made up so.
/// </summary>
internal sealed class MeaningMap
{
    private const int MostEntries = 200_000;

    private readonly HashSet<string> meanings = new(StringComparer.Ordinal);

    private MeaningMap() { }

    /// <summary>The map of a font, or null where its codes have a meaning by another rule, or where that can't be told.</summary>
    public static MeaningMap? Of(PdfDocument document, IndirectReference? font, BoundedFilters filters)
    {
        if (font is not { } reference || document.Structure.GetObject(reference).Data is not DictionaryToken dictionary) return null;
        if (!dictionary.TryGet(NameToken.Subtype, out IToken? subtype) || subtype is not NameToken { Data: "Type0" }) return null;
        // Named encodings of other kinds have meanings of their own.
        if (!dictionary.TryGet(NameToken.Encoding, out IToken? encoding) || encoding is not NameToken { Data: "Identity-H" or "Identity-V" }) return null;
        var map = new MeaningMap();
        if (!dictionary.TryGet(NameToken.ToUnicode, out IToken? entry)) return map;
        if (entry is IndirectReferenceToken indirect) entry = document.Structure.GetObject(indirect.Data).Data;
        if (entry is not StreamToken stream) return null;
        map.Read(Encoding.Latin1.GetString(stream.Decode(filters).Span));
        return map;
    }

    /// <summary>Whether some code of the font means this text.</summary>
    public bool Knows(string value) => meanings.Contains(value);

    private void Read(string text)
    {
        int at = 0;
        while (at < text.Length && meanings.Count < MostEntries)
        {
            int one = text.IndexOf("beginbfchar", at, StringComparison.Ordinal), range = text.IndexOf("beginbfrange", at, StringComparison.Ordinal);
            if (one < 0 && range < 0) return;
            bool isRange = one < 0 || (range >= 0 && range < one);
            int start = isRange ? range : one;
            int end = text.IndexOf(isRange ? "endbfrange" : "endbfchar", start, StringComparison.Ordinal);
            if (end < 0) end = text.Length;
            ReadBlock(text.AsSpan(start, end - start), isRange);
            at = end;
        }
    }

    // <code> <text>, or <first> <last> <text of the first>, or <first> <last> [<text> <text> ...].
    private void ReadBlock(ReadOnlySpan<char> block, bool isRange)
    {
        int pieces = 0, first = 0, last = 0;
        bool list = false;
        for (int i = 0; i < block.Length; i++)
        {
            if (block[i] == '[') list = true;
            if (block[i] == ']') (list, pieces) = (false, 0);
            if (block[i] != '<') continue;
            int close = block[i..].IndexOf('>');
            if (close < 0) return;
            ReadOnlySpan<char> hex = block.Slice(i + 1, close - 1);
            i += close;
            pieces++;
            if (list) Add(hex, 0);
            else if (isRange && pieces == 1) first = Number(hex);
            else if (isRange && pieces == 2) last = Number(hex);
            else if (isRange && pieces == 3)
            {
                for (int n = 0; n <= Math.Min(last - first, 0xFFFF); n++) Add(hex, n);
                pieces = 0;
            }
            else if (!isRange && pieces == 2)
            {
                Add(hex, 0);
                pieces = 0;
            }
        }
    }

    private static int Number(ReadOnlySpan<char> hex) => int.TryParse(hex, NumberStyles.HexNumber, CultureInfo.InvariantCulture, out int number) ? number : 0;

    private void Add(ReadOnlySpan<char> hex, int step)
    {
        if (meanings.Count >= MostEntries) return;
        var text = new StringBuilder();
        string digits = hex.ToString().Replace(" ", "", StringComparison.Ordinal);
        for (int i = 0; i < digits.Length; i += 4) text.Append((char)Number(digits.AsSpan(i, Math.Min(4, digits.Length - i))));
        if (text.Length > 0) text[^1] = (char)(text[^1] + step);
        meanings.Add(text.ToString());
    }
}
