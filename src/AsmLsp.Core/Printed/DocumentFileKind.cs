using System.Text;

namespace AsmLsp.Core.Printed;

/// <summary>What a document file holds, as its first bytes say.</summary>
public enum DocumentFileKind
{
    /// <summary>Text, or nothing that is known here.</summary>
    Text,

    /// <summary>A PDF file.</summary>
    Pdf,

    /// <summary>A picture: PNG, JPEG or TIFF.</summary>
    Picture,

    /// <summary>A ZIP package, as Word documents and OpenDocument texts are.</summary>
    Package,

    /// <summary>Rich text.</summary>
    RichText,

    /// <summary>A web page, alone or saved with its parts in one file.</summary>
    WebPage,
}

/// <summary>Recognizes kinds of document files by their first bytes.</summary>
public static class DocumentFile
{
    /// <summary>The kind of a file.</summary>
    public static DocumentFileKind KindOf(ReadOnlySpan<byte> bytes)
    {
        // PNG (ISO/IEC 15948, 5.2), JPEG (ITU-T T.81, B.1.1.3: SOI and the next marker), TIFF 6.0 (section 2, image file header).
        if (bytes.Length > 8 && bytes[0] == 0x89 && bytes[1..].StartsWith("PNG\r\n\x1A\n"u8))
            return DocumentFileKind.Picture;
        if (bytes.Length > 3 && bytes[0] == 0xFF && bytes[1] == 0xD8 && bytes[2] == 0xFF)
            return DocumentFileKind.Picture;
        if (bytes.StartsWith("II*\0"u8) || bytes.StartsWith("MM\0*"u8))
            return DocumentFileKind.Picture;
        // ZIP (APPNOTE 6.3, 4.3.7); rich text begins with its one group.
        if (bytes.StartsWith("PK\x03\x04"u8))
            return DocumentFileKind.Package;
        if (bytes.StartsWith(@"{\rtf"u8))
            return DocumentFileKind.RichText;
        if (IsWebPage(bytes))
            return DocumentFileKind.WebPage;
        // The mark may come after some bytes of a mail or a server (PDF 1.7, appendix H, note 13: within the first 1024 bytes).
        return bytes[..Math.Min(1024, bytes.Length)].IndexOf("%PDF-"u8) >= 0
            ? DocumentFileKind.Pdf
            : DocumentFileKind.Text;
    }

    // A page begins with its own kind or first element (HTML, 13.1.1); one saved whole begins as a message (RFC 2557).
    private static bool IsWebPage(ReadOnlySpan<byte> bytes)
    {
        string start = Encoding
            .Latin1.GetString(bytes[..Math.Min(2048, bytes.Length)])
            .TrimStart('\u00EF', '\u00BB', '\u00BF')
            .TrimStart();
        while (start.StartsWith("<!--", StringComparison.Ordinal) || start.StartsWith("<?", StringComparison.Ordinal))
        {
            string close = start[1] == '!' ? "-->" : ">";
            int end = start.IndexOf(close, StringComparison.Ordinal);
            if (end < 0)
                return false;
            start = start[(end + close.Length)..].TrimStart();
        }

        foreach (string opening in (ReadOnlySpan<string>)["<!doctype html", "<html", "<head", "<body", "<pre"])
        {
            bool isWhole =
                start.Length > opening.Length
                && (start[opening.Length] is '>' || char.IsWhiteSpace(start[opening.Length]));
            if (isWhole && start.StartsWith(opening, StringComparison.OrdinalIgnoreCase))
                return true;
        }

        return start.Contains("MIME-Version:", StringComparison.OrdinalIgnoreCase)
            && start.Contains("multipart/related", StringComparison.OrdinalIgnoreCase);
    }
}
