using System.Globalization;
using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace AsmLsp.Documents;

/// <summary>Reads OpenDocument texts (ISO/IEC 26300): their <c>content.xml</c>, without deleted text and remarks.</summary>
internal static class OpenDocumentReader
{
    private const string Content = "content.xml";
    private static readonly XNamespace TextNames = "urn:oasis:names:tc:opendocument:xmlns:text:1.0";
    private static readonly XNamespace TableNames = "urn:oasis:names:tc:opendocument:xmlns:table:1.0";
    private static readonly XNamespace OfficeNames = "urn:oasis:names:tc:opendocument:xmlns:office:1.0";
    private static readonly XNamespace DrawNames = "urn:oasis:names:tc:opendocument:xmlns:drawing:1.0";

    public static bool IsOne(ReadOnlyMemory<byte> bytes) =>
        PackageParts.Read(bytes, "mimetype", 1024) is { } kind
        && Encoding
            .ASCII.GetString(kind)
            .StartsWith("application/vnd.oasis.opendocument.text", StringComparison.Ordinal);

    public static void Read(ReadOnlyMemory<byte> bytes, FlowText text)
    {
        byte[] content =
            PackageParts.Read(bytes, Content, FlowDocuments.MostCharacters)
            ?? throw new InvalidDataException("Its text (content.xml) is missing.");
        PackageParts.Check(content);
        using var reader = XmlReader.Create(new MemoryStream(content), PackageParts.Settings());
        var document = XDocument.Load(reader, LoadOptions.PreserveWhitespace);
        if (document.Descendants(OfficeNames + "text").FirstOrDefault() is { } body)
            Blocks(body, text);
    }

    private static void Blocks(XElement parent, FlowText text)
    {
        foreach (XElement child in parent.Elements())
        {
            if (child.Name == TextNames + "p" || child.Name == TextNames + "h")
                Paragraph(child, text);
            else if (child.Name == TableNames + "table-row")
                Row(child, text);
            else if (!IsLeftOut(child))
                Blocks(child, text);
        }
    }

    private static bool IsLeftOut(XElement element) =>
        element.Name == TextNames + "tracked-changes"
        || element.Name == OfficeNames + "annotation"
        || element.Name == TextNames + "sequence-decls";

    private static void Row(XElement row, FlowText text)
    {
        var cells = new List<string>();
        foreach (XElement cell in row.Elements().Where(static e => e.Name == TableNames + "table-cell"))
        {
            var inside = new FlowText(FlowDocuments.MostCharacters);
            Blocks(cell, inside);
            cells.Add(inside.ToString());
        }

        text.AddRow(cells);
    }

    private static void Paragraph(XElement paragraph, FlowText text)
    {
        var boxes = new List<XElement>();
        Inline(paragraph, text, boxes);
        text.EndLine();
        foreach (XElement box in boxes)
            Blocks(box, text);
    }

    private static void Inline(XElement parent, FlowText text, List<XElement> boxes)
    {
        foreach (XNode node in parent.Nodes())
        {
            if (node is XText words)
                text.Append(Collapsed(words.Value));
            else if (node is not XElement child || IsLeftOut(child))
                continue;
            else if (child.Name == TextNames + "s")
                text.Append(new string(' ', Count(child)));
            else if (child.Name == TextNames + "tab")
                text.Append("\t");
            else if (child.Name == TextNames + "line-break")
                text.EndLine();
            else if (child.Name == DrawNames + "text-box")
                boxes.Add(child);
            else
                Inline(child, text, boxes);
        }
    }

    private static int Count(XElement blanks) =>
        int.TryParse(
            blanks.Attribute(TextNames + "c")?.Value,
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out int count
        )
            ? Math.Clamp(count, 1, 1000)
            : 1;

    // White space in the markup is one blank (ISO/IEC 26300-1, 6.1.2); more of it is written as text:s.
    private static string Collapsed(string words)
    {
        var text = new StringBuilder(words.Length);
        foreach (char c in words)
        {
            bool isBlank = c is ' ' or '\t' or '\r' or '\n';
            if (!isBlank)
                text.Append(c);
            else if (text.Length == 0 || text[^1] != ' ')
                text.Append(' ');
        }

        return text.ToString();
    }
}
