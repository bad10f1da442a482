using System.IO.Compression;
using System.Text;
using System.Xml;

namespace AsmLsp.Documents;

/// <summary>The parts of a document that is a ZIP package (Office Open XML, OpenDocument).</summary>
internal static class PackageParts
{
    /// <summary>How deep markup may be nested; a table within a table within a text box needs some forty levels.</summary>
    public const int MostDepth = 400;

    /// <summary>What is said where markup is nested deeper.</summary>
    public const string TooDeep = "Its parts are nested too deep.";

    /// <summary>Whether the package has a part of a name.</summary>
    public static bool Has(ReadOnlyMemory<byte> bytes, string name)
    {
        using ZipArchive zip = Open(bytes);
        return zip.GetEntry(name) is not null;
    }

    /// <summary>The bytes of a part, or null where there is none.</summary>
    /// <exception cref="InvalidDataException">It is larger than the limit, whatever the package says of its size.</exception>
    public static byte[]? Read(ReadOnlyMemory<byte> bytes, string name, int most)
    {
        using ZipArchive zip = Open(bytes);
        if (zip.GetEntry(name) is not { } entry)
            return null;
        using Stream stream = entry.Open();
        using var part = new MemoryStream();
        byte[] buffer = new byte[64 * 1024];
        for (int read; (read = stream.Read(buffer)) > 0; )
        {
            part.Write(buffer, 0, read);
            if (part.Length > most)
                throw new InvalidDataException(FlowDocuments.TooLarge);
        }

        return part.ToArray();
    }

    /// <summary>Reads a part through, so that its markup is well formed, small enough, and nested no deeper than a walk can follow.</summary>
    /// <exception cref="InvalidDataException">It is not.</exception>
    public static void Check(byte[] part)
    {
        using var reader = XmlReader.Create(new MemoryStream(part), Settings());
        while (reader.Read())
            if (reader.Depth > MostDepth)
                throw new InvalidDataException(TooDeep);
    }

    /// <summary>How parts are read: nothing from outside, no entities, under a limit.</summary>
    public static XmlReaderSettings Settings() =>
        new()
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            MaxCharactersInDocument = FlowDocuments.MostCharacters,
        };

    private static ZipArchive Open(ReadOnlyMemory<byte> bytes) =>
        new(new MemoryStream(bytes.ToArray(), writable: false), ZipArchiveMode.Read, false, Encoding.UTF8);
}
