using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Printed;

/// <summary>
/// A pasted text laid out as the pages that it was copied from, so that line numbers, addresses, words and headings are found in it as on
/// paper. Without form feeds it is one page, number 0, whose lines have the numbers of the text's lines.
/// </summary>
public static class PastedText
{
    // Any regular grid does: a line of type each 12 points, a character each 6.
    private const double Pitch = 12;
    private const double CharacterWidth = 6;
    private const double Margin = 60;
    private const int TabWidth = 8;

    /// <summary>
    /// The text with line ends in place of the characters that part lines in word processors (vertical tab, U+2028, U+2029) and on hosts (U+0085).
    /// Where a text has line ends, the last of these may be a letter in a wrong encoding, and stays.
    /// </summary>
    public static string WithLineEnds(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        const char vertical = '\v',
            line = '\u2028',
            paragraph = '\u2029',
            next = '\u0085';
        if (text.AsSpan().IndexOfAny(vertical, line, paragraph) < 0 && !text.Contains(next, StringComparison.Ordinal))
            return text;
        string lined = text.Replace(vertical, '\n').Replace(line, '\n').Replace(paragraph, '\n');
        int ends = lined.AsSpan().Count('\n') + lined.AsSpan().Count('\r');
        return lined.AsSpan().Count(next) > 2 * ends ? lined.Replace(next, '\n') : lined;
    }

    /// <summary>The text as a document, and the text's line (from 1) of each printed line.</summary>
    public static (PrintedDocument Document, ImmutableDictionary<PrintedPlace, int> LineOf) Lay(SourceText text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var pages = new List<PrintedPage>();
        var lineOf = ImmutableDictionary.CreateBuilder<PrintedPlace, int>();
        bool hasPages = text.Lines.Any(static l => l.Text.Contains('\f', StringComparison.Ordinal));
        var lines = ImmutableArray.CreateBuilder<PrintedLine>();
        int row = 0,
            number = 0,
            page = hasPages ? 1 : 0;
        foreach (TextLine line in text.Lines)
        {
            number++;
            string[] parts = line.Text.Split('\f');
            for (int i = 0; i < parts.Length; i++)
            {
                if (i > 0)
                {
                    pages.Add(Page(page++, lines));
                    row = 0;
                }

                row++;
                string written = WithBlanks(parts[i]).TrimEnd();
                if (written.Length == 0)
                    continue;
                var place = new PrintedPlace(page, page == 0 ? number : lines.Count + 1);
                lineOf[place] = number;
                lines.Add(
                    new PrintedLine(
                        written,
                        page,
                        place.Line,
                        Margin + CharacterWidth * (written.Length - written.TrimStart().Length),
                        Margin + Pitch * row,
                        "",
                        10,
                        true
                    )
                    {
                        EndX = Margin + CharacterWidth * written.Length,
                        ColumnStart = Margin,
                        CharacterWidth = CharacterWidth,
                    }
                );
            }
        }

        pages.Add(Page(page, lines));
        return (new PrintedDocument(ColumnWidths.Measure([.. pages])), lineOf.ToImmutable());
    }

    private static PrintedPage Page(int number, ImmutableArray<PrintedLine>.Builder lines)
    {
        double height = lines.Count == 0 ? 0 : lines[^1].Y + Margin,
            width = 2 * Margin;
        foreach (PrintedLine line in lines)
            width = Math.Max(width, 2 * Margin + CharacterWidth * line.Text.Length);
        var page = new PrintedPage(number, width, height, lines.ToImmutable(), []);
        lines.Clear();
        return page;
    }

    // Tabs become the room that they show; in quotes and comments a tab stays what it is. A no-break blank in UTF-8 that was read
    // after Windows-1252 is two characters wide: one that is seen and one that is not.
    private static string WithBlanks(string line)
    {
        line = line.Replace("\u00C2\u00A0", "\u00A0", StringComparison.Ordinal);
        if (!line.Contains('\t', StringComparison.Ordinal))
            return line;
        var text = new StringBuilder(line.Length + TabWidth);
        int at = 0;
        for (; at < line.Length && line[at] is not ('"' or '\'' or ';'); at++)
        {
            if (line[at] != '\t')
                text.Append(line[at]);
            else
                do text.Append(' ');
                while (text.Length % TabWidth != 0);
        }

        return text.Append(line, at, line.Length - at).ToString();
    }
}
