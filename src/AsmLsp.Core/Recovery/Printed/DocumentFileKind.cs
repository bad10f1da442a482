namespace AsmLsp.Core.Recovery.Printed;

/// <summary>What a document file holds, as its first bytes tell.</summary>
public enum DocumentFileKind
{
    /// <summary>Text, or nothing that is known here.</summary>
    Text,

    /// <summary>A PDF file.</summary>
    Pdf,

    /// <summary>A picture: PNG, JPEG or TIFF.</summary>
    Picture,
}

/// <summary>Tells kinds of document files by their first bytes.</summary>
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
        // The mark may stand behind some bytes of a mail or a server (PDF 1.7, appendix H, note 13: within the first 1024 bytes).
        return bytes[..Math.Min(1024, bytes.Length)].IndexOf("%PDF-"u8) >= 0
            ? DocumentFileKind.Pdf
            : DocumentFileKind.Text;
    }
}
