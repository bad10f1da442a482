using System.Text;
using AngleSharp;
using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using MimeKit;

namespace AsmLsp.Documents;

/// <summary>
/// Reads web pages (HTML), also those that a browser has saved as one file (MIME HTML, RFC 2557). Text is laid out as a page shows it: each
/// block on lines of its own, white space kept where the page keeps it, cells of a table side by side.
/// </summary>
internal static class WebPageReader
{
    private const int MostDepth = PackageParts.MostDepth;

    private static readonly HashSet<string> Hidden = new(StringComparer.OrdinalIgnoreCase)
    {
        "script",
        "style",
        "noscript",
        "template",
        "head",
        "title",
        "svg",
        "object",
        "select",
        "datalist",
        "iframe",
    };

    private static readonly HashSet<string> Blocks = new(StringComparer.OrdinalIgnoreCase)
    {
        "address",
        "article",
        "aside",
        "blockquote",
        "body",
        "caption",
        "center",
        "dd",
        "details",
        "dir",
        "div",
        "dl",
        "dt",
        "fieldset",
        "figcaption",
        "figure",
        "footer",
        "form",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "header",
        "hr",
        "html",
        "li",
        "listing",
        "main",
        "menu",
        "nav",
        "ol",
        "p",
        "plaintext",
        "pre",
        "section",
        "summary",
        "table",
        "tbody",
        "tfoot",
        "thead",
        "tr",
        "ul",
        "xmp",
    };

    private static readonly HashSet<string> Preformatted = new(StringComparer.OrdinalIgnoreCase)
    {
        "pre",
        "textarea",
        "listing",
        "plaintext",
        "xmp",
    };

    public static void Read(ReadOnlyMemory<byte> bytes, FlowText text)
    {
        using var stream = new MemoryStream(bytes.ToArray(), writable: false);
        var parser = new HtmlParser(new HtmlParserOptions { IsScripting = false });
        using IDocument page = IsMime(bytes.Span)
            ? parser.ParseDocument(MimePage(stream))
            : parser.ParseDocument(stream);
        var walk = new WebPageWalk(text);
        if (page.Body is { } body)
            walk.Inside(body, false, 0);
    }

    // A saved page begins as a message does, with header fields.
    private static bool IsMime(ReadOnlySpan<byte> bytes) =>
        bytes.TrimStart(" \t\r\n\u00EF\u00BB\u00BF"u8) is [not (byte)'<', ..];

    private static string MimePage(Stream stream)
    {
        using MimeMessage message = MimeMessage.Load(stream);
        return message.HtmlBody ?? throw new InvalidDataException("It holds no page of HTML.");
    }

    private sealed class WebPageWalk(FlowText text)
    {
        // A blank that is shown only if something follows it on the line.
        private bool isBlankDue;
        private bool isLineEmpty = true;

        public void Inside(INode parent, bool isPreformatted, int depth)
        {
            if (depth > MostDepth)
                throw new InvalidDataException(PackageParts.TooDeep);
            foreach (INode node in parent.ChildNodes)
            {
                if (node is IText words)
                    Words(words.Data, isPreformatted);
                else if (node is IElement element)
                    Element(element, isPreformatted, depth);
            }
        }

        private void Element(IElement element, bool isPreformatted, int depth)
        {
            string name = element.LocalName;
            string style = (element.GetAttribute("style") ?? "").Replace(" ", "", StringComparison.Ordinal);
            if (
                Hidden.Contains(name)
                || element.HasAttribute("hidden")
                || style.Contains("display:none", StringComparison.OrdinalIgnoreCase)
            )
                return;
            if (name == "br")
            {
                NewLine();
                return;
            }

            bool keeps =
                Preformatted.Contains(name)
                || (
                    style.Contains("white-space:", StringComparison.OrdinalIgnoreCase)
                        ? style.Contains("white-space:pre", StringComparison.OrdinalIgnoreCase)
                        : isPreformatted
                );
            if (name == "tr")
            {
                Row(element, keeps, depth);
                return;
            }

            bool isBlock = Blocks.Contains(name) || style.Contains("display:block", StringComparison.OrdinalIgnoreCase);
            if (isBlock)
                EndBlock();
            Inside(element, keeps, depth + 1);
            if (isBlock)
                EndBlock();
        }

        private void Row(IElement row, bool isPreformatted, int depth)
        {
            EndBlock();
            var cells = new List<string>();
            foreach (IElement cell in row.Children.Where(static c => c.LocalName is "td" or "th"))
            {
                var inside = new FlowText(FlowDocuments.MostCharacters);
                new WebPageWalk(inside).Inside(cell, isPreformatted, depth + 1);
                cells.Add(inside.ToString());
            }

            text.AddRow(cells);
            isLineEmpty = true;
        }

        private void Words(string words, bool isPreformatted)
        {
            if (isPreformatted)
            {
                string[] lines = words.Replace("\r", "", StringComparison.Ordinal).Split('\n');
                for (int i = 0; i < lines.Length; i++)
                {
                    if (i > 0)
                        NewLine();
                    Put(lines[i]);
                }

                return;
            }

            var shown = new StringBuilder(words.Length);
            foreach (char c in words)
            {
                if (c is ' ' or '\t' or '\r' or '\n' or '\f')
                {
                    isBlankDue = isBlankDue || shown.Length > 0 || !isLineEmpty;
                    continue;
                }

                if (isBlankDue)
                    shown.Append(' ');
                isBlankDue = false;
                shown.Append(c);
            }

            Put(shown.ToString());
        }

        private void Put(string characters)
        {
            if (characters.Length == 0)
                return;
            // A no-break blank is how pages indent their listings.
            text.Append(characters.Replace('\u00A0', ' '));
            isLineEmpty = false;
        }

        private void NewLine()
        {
            text.EndLine();
            (isBlankDue, isLineEmpty) = (false, true);
        }

        private void EndBlock()
        {
            text.EndParagraph();
            (isBlankDue, isLineEmpty) = (false, true);
        }
    }
}
