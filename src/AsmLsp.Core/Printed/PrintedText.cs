using System.Collections.Immutable;
using System.Text;

namespace AsmLsp.Core.Printed;

/// <summary>The lines of a document as one text, with the page of each line.</summary>
/// <param name="Text">The lines, each ended by LF; a wider gap between two lines of print is one empty line.</param>
/// <param name="Pages">The page of each line of <see cref="Text"/>, from 1.</param>
public sealed record PrintedText(string Text, ImmutableArray<int> Pages)
{
    // Lines further apart than this many times the usual distance have an empty line between them.
    private const double EmptyLineFrom = 1.6;

    /// <summary>Lays the lines of a document one below the other, in reading order.</summary>
    public static PrintedText Of(PrintedDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var text = new StringBuilder();
        ImmutableArray<int>.Builder pages = ImmutableArray.CreateBuilder<int>();
        foreach (PrintedPage page in document.Pages)
        {
            double usual = UsualDistance(page.Lines);
            for (int i = 0; i < page.Lines.Length; i++)
            {
                PrintedLine line = page.Lines[i];
                if (
                    i > 0
                    && line.TextColumn == page.Lines[i - 1].TextColumn
                    && line.Y - page.Lines[i - 1].Y > EmptyLineFrom * usual
                )
                {
                    text.Append('\n');
                    pages.Add(page.Number);
                }

                text.Append(line.Text).Append('\n');
                pages.Add(page.Number);
            }
        }

        return new PrintedText(text.ToString(), pages.ToImmutable());
    }

    // The median distance of a line from the one above it; huge where a page has fewer than two lines.
    private static double UsualDistance(ImmutableArray<PrintedLine> lines)
    {
        var distances = new List<double>(lines.Length);
        for (int i = 1; i < lines.Length; i++)
            if (lines[i].Y > lines[i - 1].Y && lines[i].TextColumn == lines[i - 1].TextColumn)
                distances.Add(lines[i].Y - lines[i - 1].Y);
        if (distances.Count == 0)
            return double.MaxValue;
        distances.Sort();
        return distances[distances.Count / 2];
    }
}
