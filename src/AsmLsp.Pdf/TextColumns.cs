using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>Rows that are read one below the other.</summary>
/// <param name="Column">The text column, from 0 in reading order.</param>
/// <param name="Rows">Its rows from the top down.</param>
internal sealed record TextBlock(int Column, List<GlyphRow> Rows);

/// <summary>
/// Finds text set in columns by the white between them. White runs down through listings and tables as well, so a gap
/// is one between columns only if both sides look like text of their own.
/// </summary>
internal static class TextColumns
{
    private const double LeastGap = 9;
    private const int LeastRows = 6;
    private const double LeastWidth = 80;

    // A page with more rows than this is no page of text; it is read straight across.
    private const int MostRows = 2_000;
    private const int MostCandidates = 400;

    /// <summary>The blocks of a page in reading order.</summary>
    public static List<TextBlock> Of(List<GlyphRow> rows)
    {
        var blocks = new List<TextBlock>();
        Split(rows, 0, 0, blocks);
        return blocks;
    }

    // Gives the number of columns used.
    private static int Split(List<GlyphRow> rows, int column, int depth, List<TextBlock> blocks)
    {
        if (rows.Count == 0)
            return column;
        if (depth > 3 || rows.Count is < LeastRows or > MostRows || FindBand(rows) is not { } band)
        {
            blocks.Add(new TextBlock(column, rows));
            return column + 1;
        }

        int used = Split(rows.GetRange(0, band.First), column, depth + 1, blocks);
        double middle = (band.Left + band.Right) / 2;
        var left = new List<GlyphRow>();
        var right = new List<GlyphRow>();
        for (int i = band.First; i <= band.Last; i++)
        {
            if (rows[i].Part(double.MinValue, middle) is { } l)
                left.Add(l);
            if (rows[i].Part(middle, double.MaxValue) is { } r)
                right.Add(r);
        }

        used = Math.Max(used, Split(right, Split(left, column, depth + 1, blocks), depth + 1, blocks));
        return Math.Max(
            used,
            Split(rows.GetRange(band.Last + 1, rows.Count - band.Last - 1), column, depth + 1, blocks)
        );
    }

    private static Band? FindBand(List<GlyphRow> rows)
    {
        Band? best = null;
        int candidates = 0;
        var tried = new HashSet<(int, int)>();
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
                Band band = Grow(rows, i, left, right);
                if ((best is null || band.Weight > best.Value.Weight) && AreColumns(rows, band))
                    best = band;
            }
        }

        return best;
    }

    private static void Gaps(GlyphRow row, List<(double Left, double Right)> gaps)
    {
        double end = double.MinValue;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            if (end > double.MinValue && glyph.X - end >= LeastGap)
                gaps.Add((end, glyph.X));
            end = Math.Max(end, glyph.EndX);
        }
    }

    // Columns whose baselines differ have no row with both in it.
    private static void GapBetween(GlyphRow above, GlyphRow below, List<(double Left, double Right)> gaps)
    {
        if (below.X - above.EndX >= LeastGap)
            gaps.Add((above.EndX, below.X));
        else if (above.X - below.EndX >= LeastGap)
            gaps.Add((below.EndX, above.X));
    }

    // The run of rows around one that all leave a gap in common.
    private static Band Grow(List<GlyphRow> rows, int row, double left, double right)
    {
        int first = row,
            last = row;
        while (last + 1 < rows.Count && Narrow(rows[last + 1], ref left, ref right))
            last++;
        while (first > 0 && Narrow(rows[first - 1], ref left, ref right))
            first--;

        // A header with something at either edge, or a title, is above the columns and not in them.
        double usual = UsualDistance(rows, first, last);
        while (
            last - first >= LeastRows
            && rows[first + 1].Y - rows[first].Y > 1.6 * usual
            && !IsLineOfColumn(rows, first, left, right)
        )
            first++;
        while (
            last - first >= LeastRows
            && rows[last].Y - rows[last - 1].Y > 1.6 * usual
            && !IsLineOfColumn(rows, last, left, right)
        )
            last--;
        last = BeforeOtherText(rows, first, last, left, right, usual);

        int both = 0;
        for (int i = first; i <= last; i++)
            if (rows[i].X < left + 0.01 && rows[i].EndX > right - 0.01)
                both++;
        return new Band(first, last, left, right, both);
    }

    // Behind an empty line, a line of the program on one side only, where others start too, is the column's own.
    private static bool IsLineOfColumn(List<GlyphRow> rows, int row, double left, double right)
    {
        GlyphRow line = rows[row];
        if (
            (line.EndX > left && line.X < right)
            || ListingSide.Of([line]) is { Operations: 0, Remarks: 0 }
            || IsPageNumber(line)
        )
            return false;
        int alike = 0;
        foreach (GlyphRow other in rows)
            if (
                (line.EndX <= left ? other : other.Part(right - 0.01, double.MaxValue)) is { } part
                && Math.Abs(part.X - line.X) < 1
            )
                alike++;
        return alike >= 3;
    }

    // 'Page 2' reads as a directive.
    private static bool IsPageNumber(GlyphRow row) =>
        OperationWords.KeywordOf(
            string.Concat(row.Glyphs.Where(static g => !g.IsBlank).Take(4).Select(static g => g.Text))
        ) == Keyword.Page;

    // Where the right column has ended, text of another size behind a gap, as a listing that runs over both columns, begins anew.
    private static int BeforeOtherText(
        List<GlyphRow> rows,
        int first,
        int last,
        double left,
        double right,
        double usual
    )
    {
        int lastRight = last;
        while (lastRight > first && rows[lastRight].EndX <= left)
            lastRight--;
        if (lastRight == last || lastRight - first < LeastRows)
            return last;
        double[] sizes = [.. rows.GetRange(first, lastRight - first + 1).Select(static r => r.Size).Order()];
        double size = sizes[sizes.Length / 2];
        for (int i = lastRight + 1; i <= last; i++)
            if (
                rows[i].Y - rows[i - 1].Y > 1.2 * usual
                && rows.GetRange(i, last - i + 1).TrueForAll(r => Math.Abs(r.Size - size) > 0.05 * size)
            )
                return i - 1;
        return last;
    }

    private static bool Narrow(GlyphRow row, ref double left, ref double right)
    {
        if (row.EndX <= left || row.X >= right)
            return true;
        // The white of this row that meets the gap: before its first character, between two, or behind its last.
        double end = double.MinValue,
            bestLeft = 0,
            bestRight = 0;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            Meet(end, glyph.X, left, right, ref bestLeft, ref bestRight);
            end = Math.Max(end, glyph.EndX);
        }

        Meet(end, double.MaxValue, left, right, ref bestLeft, ref bestRight);
        if (bestRight - bestLeft < LeastGap)
            return false;
        (left, right) = (bestLeft, bestRight);
        return true;
    }

    private static void Meet(
        double from,
        double to,
        double left,
        double right,
        ref double bestLeft,
        ref double bestRight
    )
    {
        (double l, double r) = (Math.Max(from, left), Math.Min(to, right));
        if (r - l > bestRight - bestLeft)
            (bestLeft, bestRight) = (l, r);
    }

    private static double UsualDistance(List<GlyphRow> rows, int first, int last)
    {
        var distances = new List<double>();
        for (int i = first + 1; i <= last; i++)
            distances.Add(rows[i].Y - rows[i - 1].Y);
        if (distances.Count == 0)
            return double.MaxValue;
        distances.Sort();
        return distances[distances.Count / 2];
    }

    private static bool AreColumns(List<GlyphRow> rows, Band band)
    {
        var left = new List<GlyphRow>();
        var right = new List<GlyphRow>();
        for (int i = band.First; i <= band.Last; i++)
        {
            if (rows[i].Part(double.MinValue, band.Right - 0.01) is { } l)
                left.Add(l);
            if (rows[i].Part(band.Right - 0.01, double.MaxValue) is { } r)
                right.Add(r);
        }

        if (left.Count < LeastRows || right.Count == 0 || left.Exists(r => r.EndX > band.Right))
            return false;
        ListingSide leftSide = ListingSide.Of(left),
            rightSide = ListingSide.Of(right);
        // Lines of their own on either side, at heights of their own: nobody sets a table or a listing so. The labels of one listing keep the step of its lines.
        bool areAlternating = band.Both < 0.5 * Math.Min(left.Count, right.Count),
            areInterleaved = AreInterleaved(rows, band);
        if (areAlternating && !areInterleaved)
            return false;
        if (
            AreTwoListings(leftSide, left.Count, rightSide, right.Count)
            && (areInterleaved || HaveTwoOperations(rows, band))
        )
            return true;
        if (
            right.Count < LeastRows
            || IsComments(right)
            || IsNumbers(left)
            || AreMargin(leftSide, left, rightSide, right)
        )
            return false;
        ColumnShape a = ColumnShape.Of(left),
            b = ColumnShape.Of(right);
        if (a.Width < LeastWidth || b.Width < LeastWidth || a.UsualLine < 0.3 * a.Width || b.UsualLine < 0.3 * b.Width)
            return false;
        if (areAlternating)
            return a.UsualLine >= LeastWidth / 2 && b.UsualLine >= LeastWidth / 2;

        // Labels stand beside few of the lines; a column of text has a line at each height that it covers.
        if (Density(left, right) < 0.7 || Density(right, left) < 0.7)
            return false;
        double ratio = a.Width / b.Width;
        if (ratio is < 0.5 or > 2)
            return false;
        // Prose fills its lines; cells of a table and words of a listing do not.
        if (a.Filled >= 0.6 && b.Filled >= 0.6)
            return a.UsualLine >= 1.2 * LeastWidth;
        // A listing in two columns starts some lines at the label and more at the operation, on both sides alike.
        return a.Indented is >= 0.15 and <= 0.95
            && b.Indented is >= 0.15 and <= 0.95
            && ratio is > 0.6 and < 1.67
            && Math.Abs(a.UsualIndent - b.UsualIndent) < 4;
    }

    // One listing has one operation a line; two listings side by side have operations on both sides of the white.
    private static bool AreTwoListings(ListingSide a, int left, ListingSide b, int right) =>
        // Remarks behind code begin with the same sign as a heading of remarks, so that they prove nothing on the right.
        b.Mixed == 0
        && b.Operations >= 3
        && b.Operations * 5 >= right
        && b.LoneWords * 3 < right
        && a.Operations + a.Remarks >= 3
        && (a.Operations + a.Remarks) * 5 >= left
        && a.LoneWords * 3 < left;

    // A row of one listing has one operation; a row across two of them often has two.
    private static bool HaveTwoOperations(List<GlyphRow> rows, Band band)
    {
        int found = 0;
        for (int i = band.First; i <= band.Last; i++)
        {
            if (
                rows[i].Part(double.MinValue, band.Right - 0.01) is { } l
                && rows[i].Part(band.Right - 0.01, double.MaxValue) is { } r
                && ListingSide.Of([l]).Operations > 0
                && ListingSide.Of([r]).Operations > 0
                && ++found == 2
            )
                return true;
        }

        return false;
    }

    // The numbers or the labels in front of a listing: operations on the right alone, and no text on the left.
    private static bool AreMargin(ListingSide a, List<GlyphRow> left, ListingSide b, List<GlyphRow> right) =>
        b.Operations >= 3
        && b.Operations * 3 >= right.Count
        && a.Operations + a.Remarks < 3
        && (
            a.LoneWords * 2 >= left.Count
            || left.Count(r =>
                First(r) is [var c] && char.IsAsciiHexDigit(c) && r.Glyphs.Exists(g => g.Text is [>= '0' and <= '9'])
            ) * 2
                >= left.Count
        );

    // Rows of both sides closer to each other than the rows of either side are: two columns whose lines are not at the same heights.
    private static bool AreInterleaved(List<GlyphRow> rows, Band band)
    {
        double usual = double.MaxValue;
        foreach (bool side in (ReadOnlySpan<bool>)[true, false])
        {
            List<GlyphRow> own = rows.GetRange(band.First, band.Last - band.First + 1)
                .FindAll(r => r.X < band.Left + 0.01 == side);
            if (own.Count > 1)
                usual = Math.Min(usual, UsualDistance(own, 0, own.Count - 1));
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

    // How many of the other side's rows have one of this side at their height, from this side's first row to its last.
    private static double Density(List<GlyphRow> rows, List<GlyphRow> others)
    {
        int covered = others.Count(o => o.Y >= rows[0].Y - 1 && o.Y <= rows[^1].Y + 1);
        return covered == 0 ? 1 : rows.Count / (double)covered;
    }

    private static bool IsComments(List<GlyphRow> rows) => rows.Count(r => First(r) is ";") >= 0.4 * rows.Count;

    private static bool IsNumbers(List<GlyphRow> rows) =>
        rows.Count(r =>
            r.Glyphs.TrueForAll(g =>
                g.IsBlank || (g.Text.Length == 1 && (char.IsAsciiHexDigit(g.Text[0]) || g.Text[0] is '.' or ':'))
            )
        )
        >= 0.7 * rows.Count;

    private static string First(GlyphRow row) => row.Glyphs.Find(g => !g.IsBlank).Text;

    /// <summary>A run of rows with a gap in common: rows from first to last, the gap's edges, and how many rows stand on both sides.</summary>
    private readonly record struct Band(int First, int Last, double Left, double Right, int Both)
    {
        // White that runs on where baselines differ, so that no row stands on both sides, is as good as white with rows on both sides.
        public int Weight => Both + (Last - First + 1);
    }

    /// <summary>How the lines of a column stand: its width, the usual length of a line, the part of lines that reach near the right edge, the part that is indented and how far.</summary>
    private readonly record struct ColumnShape(
        double Width,
        double UsualLine,
        double Filled,
        double Indented,
        double UsualIndent
    )
    {
        public static ColumnShape Of(List<GlyphRow> rows)
        {
            double x = rows.Min(r => r.X),
                end = rows.Max(r => r.EndX),
                width = end - x;
            double[] lengths = [.. rows.Select(r => r.EndX - r.X).Order()];
            double[] indents = [.. rows.Select(r => r.X - x).Where(i => i > 4).Order()];
            int filled = rows.Count(r => r.EndX - x >= 0.8 * width && r.X - x < 0.3 * width);
            return new ColumnShape(
                width,
                lengths[lengths.Length / 2],
                filled / (double)rows.Count,
                indents.Length / (double)rows.Count,
                indents.Length > 0 ? indents[indents.Length / 2] : 0
            );
        }
    }
}
