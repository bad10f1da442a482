using AsmLsp.Core.Explain;

namespace AsmLsp.Rendering;

/// <summary>A text in Markdown on a terminal: paragraphs and lists as wide as that is, tables in columns, code as it is.</summary>
internal sealed class MarkdownPage
{
    private readonly TextWriter output;
    private readonly List<string> paragraph = [];
    private readonly List<string[]> table = [];
    private string start = "";

    private MarkdownPage(TextWriter output) => this.output = output;

    /// <summary>Writes a text for a terminal; elsewhere as it is where it is a page, and without its marks where it is an answer.</summary>
    /// <param name="output">Where it goes.</param>
    /// <param name="markdown">The text.</param>
    /// <param name="isPage">Whether other programs take it as a page in Markdown.</param>
    public static void Write(TextWriter output, string markdown, bool isPage)
    {
        if (output is VisibleWriter { IsScreen: true })
            new MarkdownPage(output).Write(markdown);
        else if (isPage)
            output.Write(markdown);
        else
            output.WriteLine(PlainText.Of(markdown));
    }

    private void Write(string markdown)
    {
        bool isCode = false;
        foreach (string line in markdown.TrimEnd('\n').Split('\n'))
        {
            if (line.StartsWith("```", StringComparison.Ordinal))
            {
                Flush();
                isCode = !isCode;
            }
            else if (isCode)
                output.WriteLine("    " + line);
            else if (line.StartsWith('|'))
            {
                FlushParagraph();
                if (
                    !line.StartsWith("|-", StringComparison.Ordinal)
                    && !line.StartsWith("| -", StringComparison.Ordinal)
                )
                    table.Add(PlainText.CellsOf(line));
            }
            else if (line.Trim().Length == 0)
            {
                Flush();
                output.WriteLine();
            }
            else
                Text(line);
        }

        Flush();
    }

    private void Text(string line)
    {
        string trimmed = line.TrimStart();
        int sign = SignOfList(trimmed);
        if (sign > 0 || trimmed[0] == '#')
        {
            Flush();
            start = new string(' ', line.Length - trimmed.Length) + trimmed[..sign];
            line = trimmed[sign..].TrimStart('#');
        }

        paragraph.Add(line.Trim());
        if (trimmed[0] == '#')
            Flush();
    }

    // '- ' or '12. ' in front of an item.
    private static int SignOfList(string line)
    {
        if (line.StartsWith("- ", StringComparison.Ordinal))
            return 2;
        int digits = 0;
        while (digits < line.Length && char.IsAsciiDigit(line[digits]))
            digits++;
        return digits > 0 && line.AsSpan(digits).StartsWith(". ", StringComparison.Ordinal) ? digits + 2 : 0;
    }

    private void Flush()
    {
        FlushParagraph();
        if (table.Count == 0)
            return;
        int columns = table.Max(static row => row.Length);
        TextTable.Write(
            output,
            [.. Full(table[0], columns)],
            [.. table.Skip(1).Select(row => Full(row, columns))],
            "  "
        );
        table.Clear();
    }

    private static string[] Full(string[] row, int columns) => [.. row, .. Enumerable.Repeat("", columns - row.Length)];

    private void FlushParagraph()
    {
        if (paragraph.Count > 0)
            TextTable.Paragraph(output, start, PlainText.Of(string.Join(' ', paragraph)));
        paragraph.Clear();
        start = "";
    }
}
