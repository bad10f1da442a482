using UglyToad.PdfPig;
using UglyToad.PdfPig.Filters;
using UglyToad.PdfPig.Parser.Parts;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>
/// Looks at the tables of a font before the PDF library does, which makes an entry for each code that a table speaks of: a line of text may speak of
/// billions.
/// </summary>
internal sealed class FontLimits(IPdfTokenScanner scanner, ILookupFilterProvider filters, ReadingGuard guard)
{
    // No character code of a font is greater (ISO 32000-1, annex C: the maximum value of a CID); tables may speak of each some times.
    private const long MostCode = 65_535,
        MostEntries = 1_000_000;

    private readonly HashSet<IToken> seen = new(ReferenceEqualityComparer.Instance);
    private readonly HashSet<(long, int)> seenReferences = [];

    /// <summary>Ends the reading where a table of a font is out of all proportion.</summary>
    /// <exception cref="ReadingEndedException">It is.</exception>
    public void Check(IToken token)
    {
        if (
            token is IndirectReferenceToken reference
                ? !seenReferences.Add((reference.Data.ObjectNumber, reference.Data.Generation))
                : !seen.Add(token)
        )
            return;
        if (!DirectObjectFinder.TryGet(token, scanner, out DictionaryToken? font))
            return;
        if (font.TryGet(NameToken.ToUnicode, out IToken? map))
            CheckMap(map);
        if (font.TryGet(NameToken.Encoding, out IToken? encoding))
            CheckMap(encoding);
        if (
            !font.TryGet(NameToken.DescendantFonts, out IToken? found)
            || !DirectObjectFinder.TryGet(found, scanner, out ArrayToken? descendants)
        )
            return;
        foreach (IToken descendant in descendants.Data)
        {
            if (!DirectObjectFinder.TryGet(descendant, scanner, out DictionaryToken? character))
                continue;
            CheckWidths(character, "W", 1);
            CheckWidths(character, "W2", 3);
        }
    }

    // 'first [width ...]', or 'first last width' (ISO 32000-1, 9.7.4.3); three numbers to a character in 'W2'.
    private void CheckWidths(DictionaryToken font, string name, int numbers)
    {
        if (
            !font.TryGet(NameToken.Create(name), out IToken? found)
            || !DirectObjectFinder.TryGet(found, scanner, out ArrayToken? widths)
        )
            return;
        long entries = 0;
        for (int i = 0; i + 1 < widths.Length; )
        {
            if (Number(widths.Data[i]) is not { } first)
                return;
            if (DirectObjectFinder.TryGet(widths.Data[i + 1], scanner, out ArrayToken? list))
            {
                Bound(first, first + list.Length, entries += list.Length);
                i += 2;
                continue;
            }

            if (Number(widths.Data[i + 1]) is not { } last)
                return;
            Bound(first, last, entries += (long)Math.Max(0, Math.Min(last - first + 1, MostEntries + 1)));
            i += 2 + numbers;
        }
    }

    private void Bound(double first, double last, long entries)
    {
        if (!(first >= 0 && last <= MostCode + 1 && entries <= MostEntries))
            guard.EndForFont();
    }

    // The ranges of a table of characters: '<first> <last> ...' between 'beginbfrange' or 'begincidrange' and its end.
    private void CheckMap(IToken token)
    {
        if (!DirectObjectFinder.TryGet(token, scanner, out StreamToken? stream))
            return;
        ReadOnlySpan<byte> text;
        try
        {
            text = stream.Decode(filters, scanner).Span;
        }
        catch (Exception e) when (e is not ReadingEndedException and not OutOfMemoryException)
        {
            // The library gets no further than this.
            return;
        }

        long entries = 0;
        foreach (byte[] kind in (ReadOnlySpan<byte[]>)["bfrange"u8.ToArray(), "cidrange"u8.ToArray()])
        {
            byte[] begin = [.. "begin"u8, .. kind],
                end = [.. "end"u8, .. kind];
            for (ReadOnlySpan<byte> rest = text; rest.IndexOf(begin) is >= 0 and var found; )
            {
                rest = rest[(found + begin.Length)..];
                ReadOnlySpan<byte> ranges = rest.IndexOf(end) is >= 0 and var close ? rest[..close] : rest;
                while (Code(ref ranges, out long first) && Code(ref ranges, out long last))
                {
                    Bound(0, 0, entries += Math.Max(1, last - first + 1));
                    ranges = AfterValue(ranges);
                }
            }
        }
    }

    // A code in hexadecimal digits between angles; false where none comes.
    private static bool Code(ref ReadOnlySpan<byte> text, out long code)
    {
        code = 0;
        int open = text.IndexOf((byte)'<');
        if (open < 0)
            return false;
        int close = text[open..].IndexOf((byte)'>');
        if (close < 0)
            return false;
        foreach (byte digit in text.Slice(open + 1, close - 1))
            if (char.IsAsciiHexDigit((char)digit))
                code = Math.Min(uint.MaxValue, code * 16 + Convert.ToInt32(((char)digit).ToString(), 16));
        text = text[(open + close + 1)..];
        return true;
    }

    // After what a range means: a code, a number, or a list.
    private static ReadOnlySpan<byte> AfterValue(ReadOnlySpan<byte> text)
    {
        text = text.TrimStart(" \t\r\n\f\0"u8);
        if (text.IsEmpty || text[0] is not ((byte)'<' or (byte)'['))
            return text;
        int end = text.IndexOf(text[0] == '[' ? (byte)']' : (byte)'>');
        return end < 0 ? [] : text[(end + 1)..];
    }

    private double? Number(IToken token) =>
        DirectObjectFinder.TryGet(token, scanner, out NumericToken? number) ? number.Double : null;
}
