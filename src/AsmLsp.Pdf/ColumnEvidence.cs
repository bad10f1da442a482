namespace AsmLsp.Pdf;

/// <summary>What is known about a strip of white.</summary>
internal enum ColumnVerdict
{
    /// <summary>A gap inside one text.</summary>
    One,

    /// <summary>It looks like two columns; another reading is possible.</summary>
    Likely,

    /// <summary>Two columns: the character grids, the words, or other pages prove it.</summary>
    Proven,
}

/// <summary>
/// Decides whether a strip of white parts two text columns. Geometry decides: two columns are set apart from each other, so that
/// their characters are out of step. Where the grids agree, or there are none, the words decide. No cut may part an operation from its operand.
/// </summary>
/// <param name="widths">The fonts of the document.</param>
internal sealed class ColumnEvidence(FontWidths widths)
{
    private const int LeastRows = 6;

    // One torn line in so many may be a line that was wrapped in front of its operand.
    private const int MostTorn = 8;

    /// <summary>Judges the white of a band.</summary>
    /// <param name="rows">The rows of the page.</param>
    /// <param name="band">The band.</param>
    /// <param name="isKnown">Whether another page has its gutter at this place.</param>
    /// <param name="isUncertain">Whether it is taken as one text though it may be two.</param>
    public ColumnVerdict Judge(List<GlyphRow> rows, in ColumnBand band, bool isKnown, out bool isUncertain)
    {
        isUncertain = false;
        (List<GlyphRow> left, List<GlyphRow> right) = band.Sides(rows);
        double edge = band.Right;
        if (left.Count == 0 || right.Count == 0 || left.Exists(r => r.EndX > edge))
            return ColumnVerdict.One;
        (CharacterGrid leftGrid, CharacterGrid rightGrid) = Grids(left, right);
        bool outOfStep = leftGrid.IsOutOfStepWith(rightGrid),
            inStep = leftGrid.IsInStepWith(rightGrid);
        Rows across = Across(rows, band);
        // An empty comment in the left column has nothing to do with the text on its right.
        int torn = outOfStep || (isKnown && !inStep) ? across.Torn : across.Torn + across.BareSigns;
        if ((torn > 1 && torn * MostTorn >= across.Both) || (torn > 0 && torn * 3 > across.Both))
            return ColumnVerdict.One;
        Side a = Count(left),
            b = Count(right);
        if (
            a.Numbers * 10 >= left.Count * 7
            || AreMargin(a, left.Count, b, right.Count)
            || IsRemarksOfCode(a, b, right, across)
        )
            return ColumnVerdict.One;
        bool hasCode =
            b.Statements + b.Comments >= Math.Max(1, right.Count / 7)
            && (b.Statements > 0 || (a.Comments > 2 && b.Comments > 2));
        if (outOfStep && hasCode && left.Count > 2 && right.Count > 1)
            return ColumnVerdict.Proven;
        if (isKnown && !inStep)
            return ColumnVerdict.Proven;
        // Lines of their own on either side, at heights of their own: nobody sets a table or a listing so. The labels of one listing keep the step of its lines.
        bool areAlternating = band.Both < 0.5 * Math.Min(left.Count, right.Count),
            areInterleaved = AreInterleaved(rows, band);
        if (
            left.Count >= LeastRows
            && AreTwoListings(a, left.Count, b, right.Count)
            && (areInterleaved || across.Two > 1)
        )
            return ColumnVerdict.Proven;
        if (inStep || left.Count < LeastRows || right.Count < LeastRows)
        {
            isUncertain = across.Two > 0;
            return ColumnVerdict.One;
        }

        if (areAlternating && !areInterleaved)
            return ColumnVerdict.One;
        if (!IsComments(b, right.Count) && ColumnShape.AreColumns(left, right, areAlternating))
            return ColumnVerdict.Likely;
        isUncertain = across.Two > 0;
        return ColumnVerdict.One;
    }

    private static Rows Across(List<GlyphRow> rows, in ColumnBand band)
    {
        int torn = 0,
            bare = 0,
            two = 0,
            comments = 0,
            both = 0;
        for (int i = band.First; i <= band.Last; i++)
        {
            if (band.LeftOf(rows[i]) is not { } left || band.RightOf(rows[i]) is not { } right)
                continue;
            both++;
            HalfTraits l = HalfLine.Of(left),
                r = HalfLine.Of(right);
            if (HalfLine.IsTorn(l, r))
                torn++;
            else if ((l & HalfTraits.BareSign) != 0)
                bare++;
            else if (HalfLine.AreTwoLines(l, r))
                two++;
            if ((l & HalfTraits.HasComment) != 0 && (r & HalfTraits.Comment) != 0)
                comments++;
        }

        return new Rows(torn, bare, two, comments, both);
    }

    private static Side Count(List<GlyphRow> rows)
    {
        int statements = 0,
            comments = 0,
            remarks = 0,
            lone = 0,
            numbers = 0;
        foreach (GlyphRow row in rows)
        {
            HalfTraits traits = HalfLine.Of(row);
            if ((traits & HalfTraits.Statement) != 0)
                statements++;
            if ((traits & HalfTraits.Comment) != 0)
                comments++;
            if ((traits & HalfTraits.Remark) != 0)
                remarks++;
            if ((traits & HalfTraits.LoneWord) != 0 && (traits & HalfTraits.Statement) == 0)
                lone++;
            if ((traits & HalfTraits.Numbers) != 0)
                numbers++;
        }

        return new Side(statements, comments, remarks, lone, numbers);
    }

    private (CharacterGrid Left, CharacterGrid Right) Grids(List<GlyphRow> left, List<GlyphRow> right)
    {
        double pitch = PitchOf(left, right);
        return pitch <= 0 ? default : (CharacterGrid.Of(left, pitch, widths), CharacterGrid.Of(right, pitch, widths));
    }

    // The step from one character to the next that is the most frequent one in words of fixed width.
    private double PitchOf(List<GlyphRow> left, List<GlyphRow> right)
    {
        var counts = new Dictionary<int, (int Count, double Sum)>();
        foreach (List<GlyphRow> side in (ReadOnlySpan<List<GlyphRow>>)[left, right])
        foreach (GlyphRow row in side)
        {
            for (int i = 0; i + 1 < row.Glyphs.Count; i++)
            {
                Glyph glyph = row.Glyphs[i];
                if (glyph.IsBlank || row.Glyphs[i + 1].IsBlank || !widths.IsMonospaced(glyph.Font))
                    continue;
                double step = row.Glyphs[i + 1].X - glyph.X;
                if (step < 0.5 * glyph.Width || step > 1.5 * glyph.Width)
                    continue;
                int key = (int)Math.Round(step * 20);
                (int count, double sum) = counts.GetValueOrDefault(key);
                counts[key] = (count + 1, sum + step);
            }
        }

        return counts.Count == 0 ? 0
            : counts.Values.MaxBy(static c => c.Count) is var (n, total) ? total / n
            : 0;
    }

    private static bool AreTwoListings(Side a, int left, Side b, int right) =>
        b.Statements >= 3
        && b.Statements * 5 >= right
        && b.LoneWords * 3 < right
        && a.Statements + a.Remarks >= 3
        && (a.Statements + a.Remarks) * 5 >= left
        && a.LoneWords * 3 < left;

    // The numbers or the labels in front of a listing: operations on the right alone, and no text on the left.
    private static bool AreMargin(Side a, int left, Side b, int right) =>
        b.Statements >= 3
        && b.Statements * 3 >= right
        && a.Statements + a.Remarks < 3
        && (a.LoneWords + a.Numbers) * 2 >= left;

    private static bool IsComments(Side b, int right) => b.Comments >= 0.4 * right;

    // Comments that all start at one place, beside code, are the code's.
    private static bool IsRemarksOfCode(Side a, Side b, List<GlyphRow> right, Rows across)
    {
        if (
            a.Statements == 0
            || b.Statements > 0
            || b.Comments * 2 < right.Count
            || across.TwoComments * 5 > across.Both
        )
            return false;
        double x = right.Min(static r => r.X);
        return b.Comments * 10 >= right.Count * 9 || right.Count(r => r.X - x < 1) * 2 >= right.Count;
    }

    // Rows of both sides closer to each other than the rows of either side are: two columns whose lines are not at the same heights.
    private static bool AreInterleaved(List<GlyphRow> rows, ColumnBand band)
    {
        double usual = double.MaxValue;
        foreach (bool side in (ReadOnlySpan<bool>)[true, false])
        {
            List<GlyphRow> own = rows.GetRange(band.First, band.Last - band.First + 1)
                .FindAll(r => r.X < band.Left + 0.01 == side);
            if (own.Count > 1)
                usual = Math.Min(usual, ColumnBand.UsualDistance(own, 0, own.Count - 1));
        }

        int close = 0,
            changes = 0;
        for (int i = band.First + 1; i <= band.Last; i++)
        {
            if (rows[i].X < band.Left + 0.01 == rows[i - 1].X < band.Left + 0.01)
                continue;
            changes++;
            if (rows[i].Y - rows[i - 1].Y < 0.75 * usual)
                close++;
        }

        return close >= 3 && close * 3 >= changes;
    }

    /// <summary>Rows with text on both sides: how many are torn by the white, begin with an empty comment, hold two lines, hold two comments.</summary>
    private readonly record struct Rows(int Torn, int BareSigns, int Two, int TwoComments, int Both);

    /// <summary>How many rows of a side are statements, comments, comments of words, lone words, numbers.</summary>
    private readonly record struct Side(int Statements, int Comments, int Remarks, int LoneWords, int Numbers);
}
