using UglyToad.PdfPig;
using UglyToad.PdfPig.Filters;
using UglyToad.PdfPig.Parser.Parts;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>Looks into the dictionaries and font programs of a file for what their codes mean.</summary>
internal sealed class FontFiles(IPdfTokenScanner scanner, ILookupFilterProvider filters)
{
    // ISO 32000-1, 9.9: where a TrueType font program is kept; and 9.7.4.2: from characters to its shapes.
    private static readonly NameToken FontFile2 = NameToken.Create("FontFile2");
    private static readonly NameToken CidToGidMap = NameToken.Create("CIDToGIDMap");

    /// <summary>What the TrueType program of a font with two-byte codes says they mean; null where there is none, or its codes are no numbers of shapes.</summary>
    public EmbeddedMap? MapOf(DictionaryToken font)
    {
        try
        {
            if (
                !font.TryGet(NameToken.Encoding, scanner, out NameToken? encoding)
                || encoding.Data is not ("Identity-H" or "Identity-V")
            )
                return null;
            if (
                !font.TryGet(NameToken.DescendantFonts, scanner, out ArrayToken? descendants)
                || descendants.Length == 0
            )
                return null;
            if (!DirectObjectFinder.TryGet(descendants[0], scanner, out DictionaryToken? character))
                return null;
            if (!character.TryGet(NameToken.FontDescriptor, scanner, out DictionaryToken? descriptor))
                return null;
            if (!descriptor.TryGet(FontFile2, scanner, out StreamToken? program))
                return null;
            ReadOnlyMemory<byte> shapes = character.TryGet(CidToGidMap, scanner, out StreamToken? map)
                ? map.Decode(filters, scanner)
                : default;
            return EmbeddedMap.Of(program.Decode(filters, scanner).Span, shapes);
        }
        catch (Exception e) when (e is not ReadingEndedException)
        {
            // A broken font program says nothing; the library throws exceptions of many kinds on it.
            return null;
        }
    }

    /// <summary>The names that a font gives to its codes (ISO 32000-1, 9.6.6: Differences).</summary>
    public CodeNames NamesOf(DictionaryToken font)
    {
        try
        {
            if (!font.TryGet(NameToken.Encoding, scanner, out DictionaryToken? encoding))
                return CodeNames.None;
            if (!encoding.TryGet(NameToken.Differences, scanner, out ArrayToken? differences))
                return CodeNames.None;
            var names = new List<(int, string)>();
            int code = 0;
            foreach (IToken token in differences.Data)
            {
                if (token is NumericToken number)
                    code = number.Int;
                else if (token is NameToken name)
                    names.Add((code++, name.Data));
            }

            return new CodeNames(names);
        }
        catch (Exception e) when (e is not ReadingEndedException)
        {
            return CodeNames.None;
        }
    }
}
