namespace AsmLsp.Pdf;

/// <summary>What is known about a strip of white.</summary>
internal enum ColumnVerdict
{
    /// <summary>A gap inside one text.</summary>
    One,

    /// <summary>Taken as one text, though some rows read as if they held two lines.</summary>
    Unclear,

    /// <summary>It looks like two columns; another reading is possible.</summary>
    Likely,

    /// <summary>Two columns by the words of the rows.</summary>
    ByWords,

    /// <summary>Two columns: the character grids, or other pages, prove it.</summary>
    Proven,
}

/// <summary>How a strip of white was judged.</summary>
/// <param name="Verdict">What it is.</param>
/// <param name="IsInStep">Whether the characters on both sides are on one grid.</param>
/// <param name="Witnesses">How many rows hold two lines, or a line that begins where others have ended.</param>
internal readonly record struct ColumnJudgment(ColumnVerdict Verdict, bool IsInStep, int Witnesses)
{
    /// <summary>Whether the file draws what is on both sides as one text.</summary>
    public bool IsInText { get; init; }
}

/// <summary>
/// Decides whether a strip of white parts two text columns. Geometry decides: two columns are set apart from each other, so that
/// their characters are out of step. Where the grids agree, or there are none, the words decide. No cut may part an operation from its operand.
/// </summary>
/// <param name="widths">The fonts of the document.</param>
internal sealed class ColumnEvidence(FontWidths widths)
{
    // Fewer rows than this part of the shorter column with text on both sides: the columns take turns.
    private const double TakeTurns = 0.5;

    // Rows nearer than this part of the usual distance are two columns out of step.
    private const double OutOfStep = 0.75;

    private const int LeastRows = 6;

    // One torn line in so many may be a line that was wrapped in front of its operand.
    private const int MostTorn = 8;

    // So many rows with two statements each are enough, whatever else is in the columns.
    private const int LeastTwo = 4;

    // So many statements that begin where other rows have ended are the lines of another column.
    private const int LeastOwn = 3;

    /// <summary>Judges the white of a band.</summary>
    /// <param name="rows">The rows of the page.</param>
    /// <param name="band">The band.</param>
    /// <param name="known">The gutter of another page at this place, or null.</param>
    public ColumnJudgment Judge(List<GlyphRow> rows, in ColumnBand band, KnownGutter? known)
    {
        (List<GlyphRow> left, List<GlyphRow> right) = band.Sides(rows);
        bool areApart = DrawingOrder.AreApart(rows, band);
        if (left.Count == 0 || right.Count == 0 || (!areApart && left.Exists(static r => r.RunsOver)))
            return default;
        ColumnGrids grids = ColumnGrids.Of(rows, band, widths);
        ColumnWords words = ColumnWords.Of(rows, band);
        ColumnVerdict verdict =
            areApart && JudgeApart(band, left, right, words) is { } apart
                ? apart
                : Judge(rows, band, known, left, right, grids, words);
        return new ColumnJudgment(verdict, grids.AreInStep, words.TwoLines + words.TwoComments + words.OwnStatements);
    }

    private static ColumnVerdict Judge(
        List<GlyphRow> rows,
        in ColumnBand band,
        KnownGutter? known,
        List<GlyphRow> left,
        List<GlyphRow> right,
        ColumnGrids grids,
        ColumnWords words
    )
    {
        SideWords a = words.Left,
            b = words.Right;
        // A line that was wrapped in front of its operand tears nothing where the texts were set apart and each has its own operations.
        bool areListings = grids.AreOutOfStep && a.HasOperations && b.HasOperations;
        if (!areListings && (IsTorn(words, grids.AreOutOfStep || IsAsKnown(known, grids)) || AreMargin(a, b)))
            return ColumnVerdict.One;
        if (IsRemarksOfCode(words, right))
            return ColumnVerdict.One;
        bool hasCode =
            b.Statements + b.Comments >= Math.Max(1, b.Rows / 7)
            && (b.Statements > 0 || (a.Comments > 2 && b.Comments > 2));
        if (grids.AreOutOfStep && hasCode && a.Rows > 2 && b.Rows > 1)
            return ColumnVerdict.Proven;
        if (IsAsKnown(known, grids))
            return ColumnVerdict.Proven;
        // Lines of their own on either side, at heights of their own: nobody sets a table or a listing so. The labels of one listing keep the step of its lines.
        bool areAlternating = band.Both < TakeTurns * Math.Min(left.Count, right.Count),
            areInterleaved = AreInterleaved(rows, band);
        if (a.Rows >= LeastRows && b.Statements >= LeastOwn && b.Statements * 5 >= b.Rows)
        {
            if (words.TwoLines >= LeastTwo)
                return ColumnVerdict.ByWords;
            if (AreTwoListings(a, b) && (areInterleaved || words.TwoLines > 1))
                return ColumnVerdict.ByWords;
            if (areAlternating && !grids.AreInStep && words.OwnStatements >= LeastOwn && a.Statements >= LeastOwn)
                return ColumnVerdict.ByWords;
        }

        ColumnVerdict one =
            words.TwoLines > 0 && words.TwoLines >= words.Torn + words.BareSigns
                ? ColumnVerdict.Unclear
                : ColumnVerdict.One;
        if (grids.AreInStep || a.Rows < LeastRows || b.Rows < LeastRows || b.Comments >= 0.4 * b.Rows)
            return one;
        if (areAlternating && !areInterleaved)
            return one;
        return ColumnShape.AreColumns(left, right, areAlternating) ? ColumnVerdict.Likely : one;
    }

    // Drawn one after the other, only numbers or labels in front of a listing, and what is in boxes beside it, are no column of text. The words of
    // a drawing are drawn in any order: null where neither side reads as a column.
    private static ColumnVerdict? JudgeApart(
        in ColumnBand band,
        List<GlyphRow> left,
        List<GlyphRow> right,
        ColumnWords words
    )
    {
        SideWords a = words.Left,
            b = words.Right;
        if (a.HasOperations && b.HasOperations)
            return ColumnVerdict.Proven;
        bool isTorn = words.Torn * 2 > words.Both && (words.Torn >= LeastTwo || b.Rows < LeastTwo);
        if (isTorn || AreMargin(a, b) || AreBoxesOfRemarks(words) || IsFrame(right))
            return ColumnVerdict.One;
        if (a.Rows < LeastRows || b.Rows < LeastRows)
            return null;
        bool hasCode =
                b.Statements >= LeastOwn && b.Statements * 5 >= b.Rows && (a.Statements + a.Remarks) * 5 >= a.Rows,
            areAlternating = band.Both < TakeTurns * Math.Min(left.Count, right.Count);
        // A column of remarks, or of code that was switched off, beside rows that have comments of their own.
        hasCode |= b.Remarks * 2 >= b.Rows && words.TwoComments * 5 > words.Both;
        // A title or ruler across both columns says nothing about the width of the left one.
        return hasCode || ColumnShape.AreColumns([.. left.Where(static r => !r.RunsOver)], right, areAlternating)
            ? ColumnVerdict.Proven
            : null;
    }

    // Remarks beside a listing that a word processor keeps in boxes of their own and draws last: a few words on the base lines of code.
    private static bool AreBoxesOfRemarks(ColumnWords words)
    {
        SideWords a = words.Left,
            b = words.Right;
        return b.Statements == 0
            && words.TwoLines == 0
            && words.TwoComments == 0
            && b.Rows * 2 < a.Rows
            && words.Both * 10 >= b.Rows * 8
            && words.BesideCode * 10 >= words.Both * 8;
    }

    // The right edge of a frame of signs around remarks.
    private static bool IsFrame(List<GlyphRow> right)
    {
        int words = 0;
        foreach (GlyphRow row in right)
            if (row.Glyphs.Exists(static g => g.Text.Length > 0 && char.IsLetterOrDigit(g.Text[0])))
                words++;
        return words * 10 < right.Count;
    }

    private static bool IsTorn(ColumnWords words, bool areSetApart)
    {
        int torn = words.Torn;
        // An empty comment in the left column has nothing to do with the text on its right.
        if (!areSetApart && (words.TwoLines < LeastTwo || words.TwoLines < words.BareSigns))
            torn += words.BareSigns;
        // Where the rows of both sides are at heights of their own, one row across says little.
        bool isAcross = words.Both * 4 >= Math.Min(words.Left.Rows, words.Right.Rows);
        return (torn > 1 && torn * MostTorn >= words.Both) || (torn > 0 && torn * 3 > words.Both && isAcross);
    }

    private static bool IsAsKnown(KnownGutter? known, ColumnGrids grids) =>
        known is not null && (!grids.AreInStep || known.IsInStep);

    private static bool AreTwoListings(SideWords a, SideWords b) =>
        b.LoneWords * 3 < b.Rows
        && a.Statements + a.Remarks >= 3
        && (a.Statements + a.Remarks) * 5 >= a.Rows
        && a.LoneWords * 3 < a.Rows;

    // The numbers or the labels in front of a listing: no text on the left, or numbers that count on the left alone.
    private static bool AreMargin(SideWords a, SideWords b) =>
        a.Numbers * 10 >= a.Rows * 7
        || (a.Numbered * 10 >= a.Rows * 6 && b.Numbered * 5 < b.Rows)
        || (
            b.Statements >= 3
            && b.Statements * 3 >= b.Rows
            && a.Statements + a.Remarks < 3
            && (a.LoneWords + a.Numbers) * 2 >= a.Rows
        );

    // Comments that all start at one place, beside code, are the code's.
    private static bool IsRemarksOfCode(ColumnWords words, List<GlyphRow> right)
    {
        SideWords a = words.Left,
            b = words.Right;
        if (a.Statements == 0 || b.Statements > 0 || b.Comments * 2 < b.Rows || words.TwoComments * 5 > words.Both)
            return false;
        double x = right.Min(static r => r.X);
        return b.Comments * 10 >= b.Rows * 9 || right.Count(r => r.X - x < 1) * 2 >= b.Rows;
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
            if (rows[i].Y - rows[i - 1].Y < OutOfStep * usual)
                close++;
        }

        return close >= 3 && close * 3 >= changes;
    }
}
