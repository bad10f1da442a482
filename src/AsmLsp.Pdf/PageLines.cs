using System.Collections.Immutable;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf;

/// <summary>The characters of a page, or why there are none.</summary>
/// <param name="Number">The page's number, from 1.</param>
/// <param name="Glyphs">The characters; null where the page is damaged.</param>
internal sealed record PageInput(int Number, PageGlyphs? Glyphs)
{
    // Letters that were turned into outlines: a page of text has a thousand of them, a drawing seldom so many and no word beside them.
    private const int ShapesOfText = 200;

    // Up to this part, or so few, single characters of lines are reported as unknown; above it, nobody can work from the page.
    private const double MostUnknown = 0.2;
    private const int FewUnknown = 20;

    // Who made the file available may have put a line of his own on each scan.
    private const double MostlyUnseen = 0.8;

    public bool HasText => Glyphs is not null && Glyphs.Glyphs.Exists(g => !g.IsBlank);

    /// <summary>Whether its text lies unseen in front of or after what can be seen, which a picture of the page would show.</summary>
    public bool IsLayer()
    {
        if (Glyphs is null || (Glyphs.Pictures == 0 && Glyphs.Shapes < ShapesOfText))
            return false;
        int shown = 0,
            unseen = 0;
        foreach (Glyph glyph in Glyphs.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            shown++;
            if (glyph.IsInvisible)
                unseen++;
        }

        return unseen > 0 && unseen >= MostlyUnseen * shown;
    }

    /// <summary>Whether there is text that can be seen and not read: a picture of it would have to be read.</summary>
    public bool IsPicture => Glyphs is not null && !HasText && (Glyphs.Pictures > 0 || Glyphs.Shapes >= ShapesOfText);

    /// <summary>Whether the document does not say what its letters mean, save for a few.</summary>
    public bool IsIllegible()
    {
        if (Glyphs is null)
            return false;
        int shown = 0,
            unknown = 0;
        foreach (Glyph glyph in Glyphs.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            shown++;
            if (glyph.Text == Glyph.Unknown)
                unknown++;
        }

        return shown > 0 && (unknown == shown || (unknown > FewUnknown && unknown > MostUnknown * shown));
    }
}

/// <summary>Makes the lines of all pages. Column one is found over all pages together: a page whose lines are all indented must not lose that.</summary>
internal sealed class PageLines
{
    private readonly FontWidths widths = new();
    private readonly LineBuilder builder;
    private readonly List<MeasuredRow> rows = [];

    // What is printed in the margin beside a listing, by the page's index.
    private readonly List<(int Page, GlyphRow Row)> beside = [];

    private PageLines() => builder = new LineBuilder(widths);

    /// <summary>The pages of a document.</summary>
    public static ImmutableArray<PrintedPage> Of(List<PageInput> pages, ReadingGuard guard)
    {
        var lines = new PageLines();
        foreach (PageInput page in pages)
        {
            if (page.Glyphs is null)
                continue;
            foreach (Glyph glyph in page.Glyphs.Glyphs)
                lines.widths.Add(glyph);
        }

        var frames = new PageFrame?[pages.Count];
        var rowsOf = new List<List<GlyphRow>>(pages.Count);
        for (int i = 0; i < frames.Length; i++)
        {
            guard.Check();
            if (pages[i].Glyphs is { } glyphs && !pages[i].IsIllegible())
                frames[i] = PageFrame.Of(glyphs);
        }

        List<PartedPage> parted = FigureText.Of(frames, guard);
        foreach (PartedPage page in parted)
            rowsOf.Add(page.Lines.Count > 0 ? GlyphRow.Of(page.Lines) : []);

        List<List<TextBlock>> blocks = TextColumns.Of(rowsOf, lines.widths, guard);
        for (int i = 0; i < frames.Length; i++)
            lines.Measure(i, blocks[i]);

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
                text.Add(
                    lines.builder.Build(
                        row.Row,
                        pages[i].Number,
                        text.Count + 1,
                        row.Column,
                        origins.Of(row),
                        row.Measure
                    ) with
                    {
                        HasUncertainColumns = row.IsUncertain,
                    }
                );
            }

            result.Add(
                new PrintedPage(
                    pages[i].Number,
                    Round(frames[i]?.Width ?? 0),
                    Round(frames[i]?.Height ?? 0),
                    text.ToImmutable(),
                    frames[i] is { } frame ? lines.SetAside(frame, parted[i], i, pages[i].Number) : [],
                    State(pages[i])
                )
                {
                    HasHiddenText = pages[i].IsLayer(),
                    QuarterTurns = frames[i]?.QuarterTurns ?? 0,
                    Figures =
                    [
                        .. parted[i]
                            .Figures.Select(static f => new PrintedFigure(
                                Round(f.Figure.Area.Left),
                                Round(f.Figure.Area.Top),
                                Round(f.Figure.Area.Right),
                                Round(f.Figure.Area.Bottom)
                            )),
                    ],
                }
            );
        }

        return ColumnWidths.Measure(result.MoveToImmutable());
    }

    private void Measure(int page, List<TextBlock> blocks)
    {
        int first = rows.Count;
        for (int i = 0; i < blocks.Count; i++)
        {
            TextBlock block = blocks[i];
            if (i + 1 < blocks.Count && MarginHeadings.AreOf(block.Rows, blocks[i + 1].Rows))
            {
                beside.AddRange(block.Rows.Select(r => (page, r)));
                continue;
            }

            List<GlyphRow> parted = SideHeadings.Part(WithoutHeadings(page, block.Rows), widths);
            foreach (GlyphRow row in TableRows.Join(parted, PitchOf(parted)).SelectMany(DrawnRuns.Apart))
                rows.Add(
                    new MeasuredRow(page, block.Column, row, builder.Measure(row)) { IsUncertain = block.IsUncertain }
                );
        }

        StretchedGrid.Refine(rows, first);
    }

    // What is printed in the margin is set aside.
    private List<GlyphRow> WithoutHeadings(int page, List<GlyphRow> block)
    {
        if (MarginHeadings.EdgeOf(block) is not (> 0 and var edge))
            return block;
        foreach (GlyphRow row in block)
            if (row.Part(double.MinValue, edge) is { } heading)
                beside.Add((page, heading));
        return [.. block.Select(r => r.Part(edge, double.MaxValue)).OfType<GlyphRow>()];
    }

    // The step of most rows that are on a grid of characters; 0 where few do.
    private double PitchOf(List<GlyphRow> block)
    {
        double[] pitches =
        [
            .. block.Select(builder.Measure).Where(static m => m.IsMonospaced).Select(static m => m.Pitch).Order(),
        ];
        return pitches.Length * 2 < block.Count ? 0 : pitches[pitches.Length / 2];
    }

    private ImmutableArray<PrintedLine> SetAside(PageFrame frame, PartedPage parted, int index, int page)
    {
        ImmutableArray<PrintedLine>.Builder aside = ImmutableArray.CreateBuilder<PrintedLine>();
        foreach (List<Glyph> group in frame.Aside)
        {
            foreach (GlyphRow row in GlyphRow.Of(group))
                aside.Add(builder.Build(row, page, aside.Count + 1, 0, row.X, builder.Measure(row)));
        }

        foreach ((int at, GlyphRow row) in beside)
            if (at == index)
                aside.Add(builder.Build(row, page, aside.Count + 1, 0, row.X, builder.Measure(row)));
        for (int figure = 0; figure < parted.Figures.Count; figure++)
        {
            foreach (GlyphRow row in GlyphRow.Of(parted.Figures[figure].Glyphs))
                aside.Add(
                    builder.Build(row, page, aside.Count + 1, 0, row.X, builder.Measure(row)) with
                    {
                        Figure = figure + 1,
                    }
                );
        }

        return aside.ToImmutable();
    }

    private static PrintedPageState State(PageInput page)
    {
        if (page.Glyphs is null)
            return PrintedPageState.Unreadable;
        if (page.IsIllegible())
            return PrintedPageState.Illegible;
        return page.IsPicture ? PrintedPageState.PictureOnly : PrintedPageState.Read;
    }

    private static double Round(double points) => Math.Round(points, 2);
}

/// <summary>A row with its place in the document.</summary>
/// <param name="Page">The page's index, from 0.</param>
/// <param name="Column">The text column.</param>
/// <param name="Row">The row.</param>
/// <param name="Measure">How it is set.</param>
internal sealed record MeasuredRow(int Page, int Column, GlyphRow Row, RowMeasure Measure)
{
    /// <summary>Whether the page may have to be read with another number of columns here.</summary>
    public bool IsUncertain { get; init; }

    public bool IsMonospaced => Measure.IsMonospaced;

    public double Pitch => Measure.Pitch;
}
