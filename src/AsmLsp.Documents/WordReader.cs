using System.Globalization;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Wordprocessing;

namespace AsmLsp.Documents;

/// <summary>
/// Reads Word documents (ECMA-376, Office Open XML). Deleted and hidden text is left out, and so are numbers that Word
/// itself puts before paragraphs, headers and footers.
/// </summary>
internal static class WordReader
{
    // A character of 10-point type with one width, in twentieths of a point: what an indent is counted in.
    private const int CharacterTwips = 120;

    // The deepest indent that can be a column of a listing.
    private const int MostIndent = 80;

    public static bool IsOne(ReadOnlyMemory<byte> bytes) => PackageParts.Has(bytes, "word/document.xml");

    public static void Read(ReadOnlyMemory<byte> bytes, FlowText text)
    {
        // The library holds the part as a tree: its size is looked at first, by unpacking it under a limit.
        PackageParts.Check(PackageParts.Read(bytes, "word/document.xml", FlowDocuments.MostCharacters)!);
        using var stream = new MemoryStream(bytes.ToArray(), writable: false);
        using WordprocessingDocument document = WordprocessingDocument.Open(
            stream,
            false,
            new OpenSettings
            {
                AutoSave = false,
                MaxCharactersInPart = FlowDocuments.MostCharacters,
                MarkupCompatibilityProcessSettings = new MarkupCompatibilityProcessSettings(
                    MarkupCompatibilityProcessMode.ProcessAllParts,
                    FileFormatVersions.Office2013
                ),
            }
        );
        if (document.MainDocumentPart?.Document?.Body is { } body)
            new WordDocumentWalk(text, StylesOf(document.MainDocumentPart)).Blocks(body);
    }

    private static Dictionary<string, Style> StylesOf(MainDocumentPart part)
    {
        var styles = new Dictionary<string, Style>(StringComparer.Ordinal);
        foreach (Style style in part.StyleDefinitionsPart?.Styles?.Elements<Style>() ?? [])
            if (style.StyleId?.Value is { } id)
                styles.TryAdd(id, style);
        return styles;
    }

    private sealed class WordDocumentWalk(FlowText text, Dictionary<string, Style> styles)
    {
        // Text boxes of a paragraph follow it.
        private readonly Queue<OpenXmlElement> boxes = [];

        public void Blocks(OpenXmlElement parent)
        {
            foreach (OpenXmlElement child in parent.ChildElements)
            {
                switch (child)
                {
                    case Paragraph paragraph:
                        Lines(paragraph);
                        break;
                    case Table table:
                        Rows(table);
                        break;
                    case SdtBlock { SdtContentBlock: { } content }:
                        Blocks(content);
                        break;
                    case CustomXmlBlock or InsertedRun:
                        Blocks(child);
                        break;
                }
            }
        }

        private void Rows(Table table)
        {
            foreach (TableRow row in table.Elements<TableRow>())
            {
                var cells = new List<string>();
                foreach (TableCell cell in row.Elements<TableCell>())
                {
                    var inside = new FlowText(FlowDocuments.MostCharacters);
                    new WordDocumentWalk(inside, styles).Blocks(cell);
                    cells.Add(inside.ToString());
                }

                text.AddRow(cells);
            }
        }

        private void Lines(Paragraph paragraph)
        {
            text.Append(new string(' ', IndentOf(paragraph)));
            Runs(paragraph);
            text.EndLine();
            while (boxes.TryDequeue(out OpenXmlElement? box))
                Blocks(box);
        }

        private void Runs(OpenXmlElement parent)
        {
            foreach (OpenXmlElement child in parent.ChildElements)
            {
                switch (child)
                {
                    case Run run
                        when run.RunProperties?.Vanish is { } hidden && (hidden.Val is null || hidden.Val.Value):
                    case DeletedRun or MoveFromRun or ParagraphProperties or RunProperties:
                        break;
                    case Text words:
                        text.Append(words.Text);
                        break;
                    case TabChar:
                        text.Append("\t");
                        break;
                    case NoBreakHyphen:
                        text.Append("-");
                        break;
                    case Break { Type: { } kind } when kind == BreakValues.Page:
                        text.EndPage();
                        break;
                    case Break or CarriageReturn:
                        text.EndLine();
                        break;
                    case SymbolChar symbol:
                        text.Append(Symbol(symbol));
                        break;
                    case TextBoxContent box:
                        boxes.Enqueue(box);
                        break;
                    default:
                        Runs(child);
                        break;
                }
            }
        }

        // A sign of a font of its own: which sign it is, only its picture says.
        private static string Symbol(SymbolChar symbol) =>
            int.TryParse(symbol.Char?.Value, NumberStyles.HexNumber, CultureInfo.InvariantCulture, out int code)
            && code is >= 0x20 and < 0x7F
                ? ((char)code).ToString()
                : "\uFFFD";

        // The indent of the first line, as blanks: without them, all that is in columns would be at the left edge.
        private int IndentOf(Paragraph paragraph)
        {
            int? left = null,
                first = null;
            Take(paragraph.ParagraphProperties?.Indentation, ref left, ref first);
            string? id = paragraph.ParagraphProperties?.ParagraphStyleId?.Val?.Value;
            for (int i = 0; i < 10 && id is not null && styles.TryGetValue(id, out Style? style); i++)
            {
                Take(style.StyleParagraphProperties?.Indentation, ref left, ref first);
                id = style.BasedOn?.Val?.Value;
            }

            int twips = (left ?? 0) + (first ?? 0);
            return Math.Clamp((twips + CharacterTwips / 2) / CharacterTwips, 0, MostIndent);
        }

        private static void Take(Indentation? indent, ref int? left, ref int? first)
        {
            left ??= Twips(indent?.Left?.Value ?? indent?.Start?.Value);
            first ??= Twips(indent?.FirstLine?.Value) ?? -Twips(indent?.Hanging?.Value);
        }

        private static int? Twips(string? value) =>
            int.TryParse(value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int twips)
            && Math.Abs(twips) < 100_000
                ? twips
                : null;
    }
}
