using System.IO.Compression;
using UglyToad.PdfPig.Filters;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>
/// Unpacks the packed parts of a file only after counting what comes out: a few kilobytes may mean gigabytes.
/// Packings of pictures are refused, as no picture is ever looked at.
/// </summary>
internal sealed class BoundedFilters : IFilterProvider
{
    private readonly IFilterProvider inner = DefaultFilterProvider.Instance;
    private readonly ReadingGuard guard;
    private readonly IFilter flate;
    private readonly IFilter lzw;
    private readonly IFilter runs;
    private readonly HashSet<IFilter> harmless = new(ReferenceEqualityComparer.Instance);

    public BoundedFilters(ReadingGuard guard)
    {
        this.guard = guard;
        flate = Named(NameToken.FlateDecode);
        lzw = Named(NameToken.LzwDecode);
        runs = Named(NameToken.RunLengthDecode);
        harmless.Add(Named(NameToken.Ascii85Decode));
        harmless.Add(Named(NameToken.AsciiHexDecode));
    }

    public IReadOnlyList<IFilter> GetFilters(DictionaryToken dictionary) => Bounded(inner.GetFilters(dictionary));

    public IReadOnlyList<IFilter> GetNamedFilters(IReadOnlyList<NameToken> names) =>
        Bounded(inner.GetNamedFilters(names));

    public IReadOnlyList<IFilter> GetAllFilters() => Bounded(inner.GetAllFilters());

    private IFilter Named(NameToken name) => inner.GetNamedFilters([name])[0];

    private IFilter[] Bounded(IReadOnlyList<IFilter> filters)
    {
        guard.Check();
        var bounded = new IFilter[filters.Count];
        for (int i = 0; i < bounded.Length; i++)
            bounded[i] = new BoundedFilter(this, filters[i]);
        return bounded;
    }

    private void Count(IFilter filter, ReadOnlySpan<byte> packed)
    {
        if (ReferenceEquals(filter, flate))
            CountFlate(packed);
        else if (ReferenceEquals(filter, lzw))
            CountLzw(packed);
        else if (ReferenceEquals(filter, runs))
            CountRuns(packed);
        else if (!harmless.Contains(filter))
            throw new NotSupportedException("This packing is for pictures only.");
    }

    private void CountFlate(ReadOnlySpan<byte> packed)
    {
        // Two bytes of header are before the packed data; where they are missing the library finds its own way, in the
        // same data and with the same bound on what it can make of them.
        if (packed.Length < 3)
            return;
        using var source = new MemoryStream(packed[2..].ToArray(), writable: false);
        using var inflate = new DeflateStream(source, CompressionMode.Decompress);
        byte[] buffer = new byte[64 * 1024];
        long sum = 0;
        try
        {
            while (inflate.Read(buffer) is int read and > 0)
                guard.CountUnpacked(read, sum += read);
        }
        catch (InvalidDataException)
        {
            // Broken: what was whole has been counted, and the library gets no further than that either.
        }
    }

    // One code of 9 to 12 bits means as many bytes as the code before it, plus one, at most (TIFF 6.0, section 13).
    private void CountLzw(ReadOnlySpan<byte> packed)
    {
        const int Clear = 256,
            End = 257;
        var lengths = new int[4096];
        for (int i = 0; i < 256; i++)
            lengths[i] = 1;
        int next = 258,
            width = 9,
            before = 0;
        long bits = 0,
            sum = 0;
        while (bits + width <= packed.Length * 8L)
        {
            int code = 0;
            for (long bit = bits; bit < bits + width; bit++)
                code = (code << 1) | ((packed[(int)(bit >> 3)] >> (7 - (int)(bit & 7))) & 1);
            bits += width;
            if (code == End)
                break;
            if (code == Clear)
            {
                (next, width, before) = (258, 9, 0);
                continue;
            }

            int length = code < next ? lengths[code] : before + 1;
            guard.CountUnpacked(length, sum += length);
            if (before > 0 && next < 4096)
                lengths[next++] = before + 1;
            before = length;
            if (next >= (1 << width) - 1 && width < 12)
                width++;
        }
    }

    private void CountRuns(ReadOnlySpan<byte> packed)
    {
        long sum = 0;
        for (int i = 0; i < packed.Length; )
        {
            int head = packed[i];
            if (head == 128)
                return;
            int length = head < 128 ? head + 1 : 257 - head;
            guard.CountUnpacked(length, sum += length);
            i += head < 128 ? length + 1 : 2;
        }
    }

    // Columns of a predictor make the library set a row aside at once, whatever the data are.
    private static void CheckRow(DictionaryToken dictionary)
    {
        foreach (NameToken name in (ReadOnlySpan<NameToken>)[NameToken.DecodeParms, NameToken.Dp])
        {
            if (!dictionary.TryGet(name, out IToken? found))
                continue;
            IEnumerable<IToken> all = found is ArrayToken array ? array.Data : [found];
            foreach (IToken one in all)
            {
                if (one is not DictionaryToken parameters)
                    continue;
                double bits =
                    Value(parameters, NameToken.Columns, 1)
                    * Value(parameters, NameToken.Colors, 1)
                    * Value(parameters, NameToken.BitsPerComponent, 8);
                if (bits is < 0 or > 64_000_000)
                    throw new InvalidDataException("A row of packed data is too long.");
            }
        }
    }

    private static double Value(DictionaryToken dictionary, NameToken name, double otherwise) =>
        dictionary.TryGet(name, out IToken? token) && token is NumericToken number ? number.Double : otherwise;

    private sealed class BoundedFilter(BoundedFilters owner, IFilter inner) : IFilter
    {
        public bool IsSupported => inner.IsSupported;

        public Memory<byte> Decode(
            Memory<byte> input,
            DictionaryToken streamDictionary,
            IFilterProvider filterProvider,
            int filterIndex
        )
        {
            owner.guard.Check();
            CheckRow(streamDictionary);
            owner.Count(inner, input.Span);
            Memory<byte> output = inner.Decode(input, streamDictionary, filterProvider, filterIndex);
            if (
                streamDictionary.TryGet(NameToken.Type, out IToken? type)
                && type is NameToken { Data: "ObjStm" }
                && owner.guard.Loops.AddStream(output.Span, (int)Value(streamDictionary, NameToken.First, 0))
            )
                owner.guard.EndForLoop();
            return output;
        }
    }
}
