namespace AsmLsp.Pdf;

/// <summary>Rows that are read one below the other.</summary>
/// <param name="Column">The text column, from 0 in reading order.</param>
/// <param name="Rows">Its rows from the top down.</param>
/// <param name="IsUncertain">Whether the page may have to be read with another number of columns here.</param>
internal sealed record TextBlock(int Column, List<GlyphRow> Rows, bool IsUncertain);

/// <summary>
/// Finds text set in columns by the white between them. White runs down through listings and tables as well, so each strip is
/// judged by <see cref="ColumnEvidence"/>. A gutter that is proven on one page is looked for on all pages of the document.
/// </summary>
internal sealed class TextColumns
{
    private const int LeastRows = 6;

    // A page with more rows than this is no page of text; it is read straight across.
    private const int MostRows = 2_000;
    private const int MostCandidates = 400;

    // Candidates by weight that are looked at.
    private const int MostJudged = 24;
    private const int Deepest = 3;

    // A band of less than this part of the weight of another one is a detail of it.
    private const double MuchLighter = 0.5;
    private const double Lighter = 0.7;

    private readonly ColumnEvidence evidence;

    // The proven gutters, each from where the white begins to where the texts on its right begin.
    private readonly List<KnownGutter> known = [];

    // The gutters at which the page was divided so far.
    private readonly List<(double Left, double Right)> used = [];

    private TextColumns(FontWidths widths) => evidence = new ColumnEvidence(widths);

    /// <summary>The blocks of each page in reading order.</summary>
    /// <param name="pages">The rows of each page.</param>
    /// <param name="widths">The fonts of the document.</param>
    /// <param name="guard">Ends the work in time.</param>
    public static List<List<TextBlock>> Of(List<List<GlyphRow>> pages, FontWidths widths, ReadingGuard guard)
    {
        var columns = new TextColumns(widths);
        var found = new List<List<TextBlock>>(pages.Count);
        foreach (List<GlyphRow> rows in pages)
        {
            guard.Check();
            found.Add(columns.BlocksOf(rows));
        }

        if (columns.known.Count == 0)
            return found;
        for (int i = 0; i < pages.Count; i++)
        {
            guard.Check();
            found[i] = columns.BlocksOf(pages[i]);
        }

        return found;
    }

    private List<TextBlock> BlocksOf(List<GlyphRow> rows)
    {
        var blocks = new List<TextBlock>();
        used.Clear();
        Split(rows, 0, 0, isUncertain: false, blocks);
        // A row across the gutter, such as a ruler that is too long, ends the columns, and they begin anew below it: whether the page
        // is to be read so is known only where the file draws its texts in this order.
        if (used.Count > 0 && AreInDrawingOrder(blocks))
            return [.. blocks.Select(static b => b with { IsUncertain = false })];
        return IsInterrupted() ? [.. blocks.Select(static b => b with { IsUncertain = true })] : blocks;
    }

    // Headers and footers, of two rows at most, are drawn at any time.
    private static bool AreInDrawingOrder(List<TextBlock> blocks)
    {
        int last = -1;
        foreach (TextBlock block in blocks)
        {
            if (block.Rows.Count <= 2)
                continue;
            if (block.Rows.Exists(static r => r.HasGuess) || block.Rows.Min(static r => r.FirstDrawn) < last)
                return false;
            last = block.Rows.Max(static r => r.LastDrawn);
        }

        return true;
    }

    private bool IsInterrupted()
    {
        for (int i = 0; i < used.Count; i++)
        for (int j = 0; j < i; j++)
            if (used[i].Right > used[j].Left && used[j].Right > used[i].Left)
                return true;
        return false;
    }

    // Gives the number of columns used.
    private int Split(List<GlyphRow> rows, int column, int depth, bool isUncertain, List<TextBlock> blocks)
    {
        if (rows.Count == 0)
            return column;
        bool mayBeMore = false;
        if (
            depth > Deepest
            || rows.Count is < 2 or > MostRows
            || FindBand(rows, out bool isLikely, out mayBeMore) is not { } band
        )
        {
            blocks.Add(new TextBlock(column, rows, isUncertain || mayBeMore));
            return column + 1;
        }

        used.Add((band.Left, band.Right));
        int columns = Split(rows.GetRange(0, band.First), column, depth + 1, isUncertain, blocks);
        (List<GlyphRow> left, List<GlyphRow> right) = band.Sides(rows);
        columns = Math.Max(
            columns,
            Split(right, Split(left, column, depth + 1, isLikely, blocks), depth + 1, isLikely, blocks)
        );
        return Math.Max(
            columns,
            Split(rows.GetRange(band.Last + 1, rows.Count - band.Last - 1), column, depth + 1, isUncertain, blocks)
        );
    }

    private ColumnBand? FindBand(List<GlyphRow> rows, out bool isLikely, out bool mayBeMore)
    {
        (isLikely, mayBeMore) = (false, false);
        (ColumnBand Band, ColumnJudgment Judgment)? proven = null,
            byWords = null,
            likely = null;
        foreach ((ColumnBand band, KnownGutter? gutter) in Candidates(rows))
        {
            // What is left is no half as long as what was found.
            if (proven is { } best && band.Weight < MuchLighter * best.Band.Weight)
                break;
            ColumnJudgment judgment = evidence.Judge(rows, band, gutter) with
            {
                IsInText = DrawingOrder.AreOneText(rows, band),
            };
            mayBeMore |= judgment.Verdict == ColumnVerdict.Unclear;
            switch (judgment.Verdict)
            {
                // White inside of one column is beside the texts of both columns; the gutter has most of its rows divided rightly.
                case ColumnVerdict.Proven when IsBetter(proven, band, judgment):
                    proven = (band, judgment);
                    break;
                case ColumnVerdict.ByWords
                    when byWords is null || judgment.Witnesses > byWords.Value.Judgment.Witnesses:
                    byWords = (band, judgment);
                    break;
                case ColumnVerdict.Likely:
                    likely ??= (band, judgment);
                    break;
            }
        }

        // A note beside a listing may be out of step with it; a proof for a small part must not cut the columns of the whole page.
        if (byWords is { } words && proven is { } small && small.Band.Weight < MuchLighter * words.Band.Weight)
            proven = null;
        if ((proven ?? byWords) is { } found)
        {
            mayBeMore = false;
            if (found.Band.Last - found.Band.First >= LeastRows)
                Learn(rows, found.Band, found.Judgment.IsInStep);
            return found.Band;
        }

        isLikely = likely is not null;
        return likely?.Band;
    }

    private static bool IsBetter(
        (ColumnBand Band, ColumnJudgment Judgment)? best,
        ColumnBand band,
        ColumnJudgment judgment
    ) =>
        best is not { } known
        || (known.Judgment.IsInText && !judgment.IsInText)
        || (
            known.Judgment.IsInText == judgment.IsInText
            && judgment.Witnesses > known.Judgment.Witnesses
            && band.Weight >= Lighter * known.Band.Weight
        );

    // On a page whose right column has no labels, its texts begin further right; the gutter is the same white.
    private void Learn(List<GlyphRow> rows, ColumnBand band, bool inStep)
    {
        KnownGutter? gutter = known.Find(k => k.Right > band.Left && band.Right > k.Left);
        if (gutter is null)
            known.Add(gutter = new KnownGutter(band.Left, band.Right, inStep));
        gutter.Add(band, rows);
    }

    // The heaviest bands first, and among those the ones at a gutter of another page.
    private List<(ColumnBand Band, KnownGutter? Known)> Candidates(List<GlyphRow> rows)
    {
        var found = new List<(ColumnBand Band, KnownGutter? Known)>();
        foreach (KnownGutter gutter in known)
            AddKnown(rows, gutter, found);
        if (rows.Count >= LeastRows)
            AddGaps(rows, found);
        found.Sort(
            static (a, b) =>
                b.Band.Weight.CompareTo(a.Band.Weight) is var c and not 0
                    ? c
                    : (b.Known is not null).CompareTo(a.Known is not null)
        );
        if (found.Count > MostJudged)
            found.RemoveRange(MostJudged, found.Count - MostJudged);
        return found;
    }

    private static void AddKnown(
        List<GlyphRow> rows,
        KnownGutter gutter,
        List<(ColumnBand Band, KnownGutter? Known)> found
    )
    {
        for (int i = 0; i < rows.Count; i++)
        {
            (double left, double right) = gutter.Strip;
            if (!ColumnBand.Narrow(rows[i], ref left, ref right))
                continue;
            ColumnBand band = ColumnBand.Grow(rows, i, left, right).OverLongRows(rows);
            i = Math.Max(i, band.Last);
            // What is on its right has to begin where lines of the other page do.
            double start = double.MaxValue;
            for (int j = band.First; j <= band.Last; j++)
                if (band.RightOf(rows[j]) is { } part)
                    start = Math.Min(start, part.X);
            if (gutter.HasStart(start))
                found.Add((band with { Right = start }, gutter));
        }
    }

    private static void AddGaps(List<GlyphRow> rows, List<(ColumnBand Band, KnownGutter? Known)> found)
    {
        int candidates = 0;
        var tried = new HashSet<(int, int)>();
        var bands = new HashSet<(int, int, double, double)>();
        var gaps = new List<(double Left, double Right)>();
        for (int i = 0; i < rows.Count; i++)
        {
            gaps.Clear();
            Gaps(rows[i], gaps);
            if (i > 0)
                GapBetween(rows[i - 1], rows[i], gaps);
            foreach ((double left, double right) in gaps)
            {
                // Gaps of the same place, to six points, give the same band.
                if (!tried.Add(((int)(left / 6), (int)(right / 6))) || candidates++ >= MostCandidates)
                    continue;
                ColumnBand band = ColumnBand.Grow(rows, i, left, right).OverLongRows(rows);
                if (
                    band.Last - band.First + 1 >= LeastRows
                    && bands.Add((band.First, band.Last, band.Left, band.Right))
                )
                    found.Add((band, null));
            }
        }
    }

    private static void Gaps(GlyphRow row, List<(double Left, double Right)> gaps)
    {
        double end = double.MinValue;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            if (end > double.MinValue && glyph.X - end >= ColumnBand.LeastGap)
                gaps.Add((end, glyph.X));
            end = Math.Max(end, glyph.EndX);
        }
    }

    // Columns whose baselines differ have no row with both in it.
    private static void GapBetween(GlyphRow above, GlyphRow below, List<(double Left, double Right)> gaps)
    {
        if (below.X - above.EndX >= ColumnBand.LeastGap)
            gaps.Add((above.EndX, below.X));
        else if (above.X - below.EndX >= ColumnBand.LeastGap)
            gaps.Add((below.EndX, above.X));
    }
}
