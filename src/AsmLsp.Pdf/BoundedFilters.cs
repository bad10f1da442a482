using System.IO.Compression;
using UglyToad.PdfPig.Filters;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>A packed part of a document unpacks to more than any page needs.</summary>
internal sealed class TooMuchDataException : Exception;

/// <summary>
/// The library's filters, with a look at how much a packed part will give before it is unpacked: a few thousand bytes
/// can stand for gigabytes.
/// </summary>
internal sealed class BoundedFilters : IFilterProvider
{
    /// <summary>The most bytes that one part may unpack to.</summary>
    internal const long MaxUnpacked = 128 * 1024 * 1024;

    private readonly IFilterProvider inner = DefaultFilterProvider.Instance;

    public IReadOnlyList<IFilter> GetFilters(DictionaryToken dictionary) => Wrap(inner.GetFilters(dictionary));

    public IReadOnlyList<IFilter> GetNamedFilters(IReadOnlyList<NameToken> names) => Wrap(inner.GetNamedFilters(names));

    public IReadOnlyList<IFilter> GetAllFilters() => Wrap(inner.GetAllFilters());

    private static IReadOnlyList<IFilter> Wrap(IReadOnlyList<IFilter> filters) =>
        filters.Count == 0 ? filters : [.. filters.Select(static f => f is FlateFilter ? new Bounded(f) : f)];

    private sealed class Bounded(IFilter inner) : IFilter
    {
        public bool IsSupported => inner.IsSupported;

        public Memory<byte> Decode(Memory<byte> input, DictionaryToken streamDictionary, IFilterProvider filterProvider, int filterIndex)
        {
            // Deflate packs at most 1032 to 1 (RFC 1951: 258 bytes from two bits), so short parts need no look.
            if (input.Length > MaxUnpacked / 1032) Measure(input);
            return inner.Decode(input, streamDictionary, filterProvider, filterIndex);
        }

        private static void Measure(ReadOnlyMemory<byte> input)
        {
            using var packed = new MemoryStream(input.ToArray(), writable: false);
            using var stream = new ZLibStream(packed, CompressionMode.Decompress);
            byte[] buffer = new byte[64 * 1024];
            long length = 0;
            try
            {
                for (int n; (n = stream.Read(buffer)) > 0;)
                    if ((length += n) > MaxUnpacked) throw new TooMuchDataException();
            }
            catch (InvalidDataException)
            {
                // A broken part gives what it gives; the library copes with that in its own way.
            }
        }
    }
}
