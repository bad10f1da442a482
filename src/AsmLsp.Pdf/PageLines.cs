using System.Collections.Immutable;
using AsmLsp.Core.Recovery.Printed;

namespace AsmLsp.Pdf;

/// <summary>The characters of a page, or why there are none.</summary>
/// <param name="Number">The page's number, from 1.</param>
/// <param name="Glyphs">The characters; null where the page is damaged.</param>
internal sealed record PageInput(int Number, PageGlyphs? Glyphs)
{
    public bool HasText => Glyphs is not null && Glyphs.Glyphs.Exists(g => !g.IsBlank);
}

/// <summary>Makes the lines of all pages. Column one is found over all pages together: a page whose lines are all indented must not lose that.</summary>
internal sealed class PageLines
{
    private readonly FontWidths widths = new();
    private readonly LineBuilder builder;
    private readonly List<MeasuredRow> rows = [];

    private PageLines() => builder = new LineBuilder(widths);

    /// <summary>The pages of a document.</summary>
    public static ImmutableArray<PrintedPage> Of(List<PageInput> pages, ReadingGuard guard)
    {
        var lines = new PageLines();
        foreach (PageInput page in pages)
        {
            if (page.Glyphs is null) continue;
            foreach (Glyph glyph in page.Glyphs.Glyphs) lines.widths.Add(glyph);
        }

        var frames = new PageFrame?[pages.Count];
        for (int i = 0; i < frames.Length; i++)
        {
            guard.Check();
            if (pages[i].Glyphs is { } glyphs) lines.Measure(i, frames[i] = PageFrame.Of(glyphs));
        }

        Origins origins = Origins.Of(lines.rows);
        ImmutableArray<PrintedPage>.Builder result = ImmutableArray.CreateBuilder<PrintedPage>(pages.Count);
        int next = 0;
        for (int i = 0; i < frames.Length; i++)
        {
            guard.Check();
            ImmutableArray<PrintedLine>.Builder text = ImmutableArray.CreateBuilder<PrintedLine>();
            for (; next < lines.rows.Count && lines.rows[next].Page == i; next++)
            {
                MeasuredRow row = lines.rows[next];
                text.Add(lines.builder.Build(row.Row, pages[i].Number, text.Count + 1, row.Column, origins.Of(row), row.IsMonospaced, row.Pitch));
            }

            result.Add(new PrintedPage(pages[i].Number, Round(frames[i]?.Width ?? 0), Round(frames[i]?.Height ?? 0), text.ToImmutable(), frames[i] is { } frame ? lines.SetAside(frame, pages[i].Number) : [], State(pages[i])));
        }

        return result.MoveToImmutable();
    }

    private void Measure(int page, PageFrame frame)
    {
        if (frame.Upright.Count == 0) return;
        foreach (TextBlock block in TextColumns.Of(GlyphRow.Of(frame.Upright)))
        {
            foreach (GlyphRow row in block.Rows)
            {
                (bool isMonospaced, double pitch) = builder.Measure(row);
                rows.Add(new MeasuredRow(page, block.Column, row, isMonospaced, pitch));
            }
        }
    }

    private ImmutableArray<PrintedLine> SetAside(PageFrame frame, int page)
    {
        ImmutableArray<PrintedLine>.Builder aside = ImmutableArray.CreateBuilder<PrintedLine>();
        foreach (List<Glyph> group in frame.Aside)
        {
            foreach (GlyphRow row in GlyphRow.Of(group))
            {
                (bool isMonospaced, double pitch) = builder.Measure(row);
                aside.Add(builder.Build(row, page, aside.Count + 1, 0, row.X, isMonospaced, pitch));
            }
        }

        return aside.ToImmutable();
    }

    private static PrintedPageState State(PageInput page)
    {
        if (page.Glyphs is null) return PrintedPageState.Unreadable;
        return page.HasText || page.Glyphs.Pictures == 0 ? PrintedPageState.Read : PrintedPageState.PictureOnly;
    }

    private static double Round(double points) => Math.Round(points, 2);
}

/// <summary>A row with its place in the document.</summary>
/// <param name="Page">The page's index, from 0.</param>
/// <param name="Column">The text column.</param>
/// <param name="Row">The row.</param>
/// <param name="IsMonospaced">Whether its characters stand on a grid.</param>
/// <param name="Pitch">The step of the grid, or of wide gaps, in points.</param>
internal sealed record MeasuredRow(int Page, int Column, GlyphRow Row, bool IsMonospaced, double Pitch);
