using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>A run of rows that leave one vertical strip of white in common: a gutter, or a gap inside one listing.</summary>
/// <param name="First">The first row.</param>
/// <param name="Last">The last row.</param>
/// <param name="Left">The left edge of the white, in points.</param>
/// <param name="Right">The right edge of the white: where the texts on its right begin.</param>
/// <param name="Both">How many rows have text on both sides.</param>
internal readonly record struct ColumnBand(int First, int Last, double Left, double Right, int Both)
{
    // Sizes of letters that differ by less than this part are one size.
    private const double SameSize = 0.05;

    // Rows farther apart than this many usual distances are parted.
    private const double WideStep = 1.2;

    /// <summary>A narrower gap is one between words.</summary>
    public const double LeastGap = 9;

    // Rows of a column are at most so many times the usual distance apart; beyond it, a row has to prove that it belongs.
    private const double NextRow = 1.6;

    // A row after one or two empty lines is the column's own if it is set as its other rows are.
    private const double FewEmptyLines = 3.3;

    private const int LeastRows = 6;

    // Starts of rows nearer than this are the same place, in points.
    private const double SameStart = 1;

    /// <summary>White that continues where baselines differ, so that no row has text on both sides, is as good as white within rows.</summary>
    public int Weight => Both + (Last - First + 1);

    /// <summary>The sides of the rows of the band.</summary>
    public (List<GlyphRow> Left, List<GlyphRow> Right) Sides(List<GlyphRow> rows)
    {
        var left = new List<GlyphRow>();
        var right = new List<GlyphRow>();
        for (int i = First; i <= Last; i++)
        {
            if (LeftOf(rows[i]) is { } l)
                left.Add(l);
            if (RightOf(rows[i]) is { } r)
                right.Add(r);
        }

        return (left, right);
    }

    /// <summary>The part of a row on the left of the white, or null; a text that runs over the white belongs to it.</summary>
    public GlyphRow? LeftOf(GlyphRow row)
    {
        double right = Right - 0.01;
        if (RunOvers(row) is not { } over)
            return row.Part(double.MinValue, right);
        GlyphRow? part = row.Where(g => g.X < right || over.Contains(g.Run));
        if (part is not null)
            part.RunsOver = true;
        return part;
    }

    /// <summary>The part of a row on the right of the white, or null.</summary>
    public GlyphRow? RightOf(GlyphRow row)
    {
        double right = Right - 0.01;
        return RunOvers(row) is { } over
            ? row.Where(g => g.X >= right && !over.Contains(g.Run))
            : row.Part(right, double.MaxValue);
    }

    /// <summary>Whether a text of a row that starts on the left runs over the white.</summary>
    public bool IsRunOver(GlyphRow row) => RunOvers(row) is not null;

    // The runs that have a character in the white.
    private HashSet<int>? RunOvers(GlyphRow row)
    {
        HashSet<int>? over = null;
        if (row.X >= Right || row.EndX <= Left)
            return null;
        foreach (Glyph glyph in row.Glyphs)
            if (!glyph.IsBlank && glyph.X < Right - 0.01 && glyph.EndX > Left + 0.01)
                (over ??= []).Add(glyph.Run);
        return over;
    }

    /// <summary>
    /// The band with the rows above and below in which a text of the left column is too long and runs over the white, and those that
    /// follow: as far as the order of drawing proves that both columns continue there.
    /// </summary>
    public ColumnBand OverLongRows(List<GlyphRow> rows)
    {
        ColumnBand band = this;
        if (!DrawingOrder.MayBeApart(rows, band))
            return band;
        foreach (int step in (ReadOnlySpan<int>)[1, -1])
        {
            while (Next(rows, band, step) is { } longer && DrawingOrder.AreApart(rows, longer))
                band = longer;
        }

        return band;
    }

    // The band with the next rows whose text runs over the white, and those after them that leave it; null where the next row is none.
    private static ColumnBand? Next(List<GlyphRow> rows, in ColumnBand band, int step)
    {
        (double left, double right) = (band.Left, band.Right);
        int end = step > 0 ? band.Last : band.First,
            next = end + step;
        while (next >= 0 && next < rows.Count && !Narrow(rows[next], ref left, ref right))
        {
            if (!NarrowBeside(rows[next], ref left, ref right))
                break;
            end = next;
            next += step;
        }

        if (end == (step > 0 ? band.Last : band.First))
            return null;
        int over = end;
        for (; next >= 0 && next < rows.Count && Narrow(rows[next], ref left, ref right); next += step)
            end = next;
        ColumnBand longer = band with
        {
            First = Math.Min(band.First, end),
            Last = Math.Max(band.Last, end),
            Left = left,
            Right = right,
        };
        double usual = UsualDistance(rows, longer.First, longer.Last);
        while (end != over && !Belongs(rows, end, end - step, longer, usual))
        {
            end -= step;
            longer = step > 0 ? longer with { Last = end } : longer with { First = end };
        }

        int both = 0;
        for (int i = longer.First; i <= longer.Last; i++)
            if (longer.LeftOf(rows[i]) is not null && longer.RightOf(rows[i]) is not null)
                both++;
        return longer with { Both = both };
    }

    // Narrows the strip to the room that the texts of a row leave but for those that start on its left and run over it.
    private static bool NarrowBeside(GlyphRow row, ref double left, ref double right)
    {
        (double l, double r) = (left, right);
        bool isOver = false;
        foreach (IGrouping<int, Glyph> run in row.Glyphs.GroupBy(static g => g.Run))
        {
            if (row.Where(g => g.Run == run.Key) is not { } text)
                continue;
            (double narrowLeft, double narrowRight) = (l, r);
            if (Narrow(text, ref narrowLeft, ref narrowRight))
                (l, r) = (narrowLeft, narrowRight);
            else if (text.X < left)
                isOver = true;
            else
                return false;
        }

        if (isOver)
            (left, right) = (l, r);
        return isOver;
    }

    /// <summary>The run of rows around one that all leave a gap in common.</summary>
    public static ColumnBand Grow(List<GlyphRow> rows, int row, double left, double right)
    {
        int first = row,
            last = row;
        while (last + 1 < rows.Count && Narrow(rows[last + 1], ref left, ref right))
            last++;
        while (first > 0 && Narrow(rows[first - 1], ref left, ref right))
            first--;

        // A header with something at either edge, or a title, is above the columns and not in them.
        double usual = UsualDistance(rows, first, last);
        while (last - first >= LeastRows && !Belongs(rows, first, first + 1, new(first, last, left, right, 0), usual))
            first++;
        while (last - first >= LeastRows && !Belongs(rows, last, last - 1, new(first, last, left, right, 0), usual))
            last--;
        last = BeforeOtherText(rows, first, last, left, usual);
        (first, last) = DrawingOrder.ColumnsAmong(rows, first, last, right);
        int both = 0;
        for (int i = first; i <= last; i++)
            if (rows[i].X < left + 0.01 && rows[i].EndX > right - 0.01)
                both++;
        return new ColumnBand(first, last, left, right, both);
    }

    /// <summary>Whether a row leaves room in a strip; narrows the strip to that room.</summary>
    public static bool Narrow(GlyphRow row, ref double left, ref double right)
    {
        if (row.EndX <= left || row.X >= right)
            return true;
        // The white of this row that meets the gap: before its first character, between two, or after its last.
        double end = double.MinValue,
            bestLeft = 0,
            bestRight = 0;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            Intersect(end, glyph.X, left, right, ref bestLeft, ref bestRight);
            end = Math.Max(end, glyph.EndX);
        }

        Intersect(end, double.MaxValue, left, right, ref bestLeft, ref bestRight);
        if (bestRight - bestLeft < LeastGap)
            return false;
        (left, right) = (bestLeft, bestRight);
        return true;
    }

    /// <summary>The median distance of the rows from one to another.</summary>
    public static double UsualDistance(List<GlyphRow> rows, int first, int last)
    {
        var distances = new List<double>();
        for (int i = first + 1; i <= last; i++)
            distances.Add(rows[i].Y - rows[i - 1].Y);
        if (distances.Count == 0)
            return double.MaxValue;
        distances.Sort();
        return distances[distances.Count / 2];
    }

    // The outermost row belongs to the columns if it is near, or is set as the other rows of its side are. A foot is further away.
    private static bool Belongs(List<GlyphRow> rows, int row, int neighbor, ColumnBand band, double usual)
    {
        double distance = Math.Abs(rows[row].Y - rows[neighbor].Y);
        if (distance <= NextRow * usual)
            return true;
        if (rows[row].EndX > band.Left && rows[row].X < band.Right && band.RightOf(rows[row]) is null)
            return false;
        bool isFar = distance > FewEmptyLines * usual;
        GlyphRow? left = band.LeftOf(rows[row]),
            right = band.RightOf(rows[row]);
        return Is(left, isLeft: true) || Is(right, isLeft: false);

        bool Is(GlyphRow? side, bool isLeft)
        {
            if (side is null || !IsSetAsOthers(rows, row, side, band, isLeft))
                return false;
            string text = HalfLine.TextOf(side);
            if (IsPageNumber(text))
                return false;
            return !isFar || (HalfLine.Of(text) & (HalfTraits.Statement | HalfTraits.Remark)) != 0;
        }
    }

    private static bool IsSetAsOthers(List<GlyphRow> rows, int row, GlyphRow side, ColumnBand band, bool isLeft)
    {
        int alike = 0;
        string font = side.Glyphs.Find(static g => !g.IsBlank).Font.Key;
        for (int i = band.First; i <= band.Last; i++)
        {
            if (i == row || (isLeft ? band.LeftOf(rows[i]) : band.RightOf(rows[i])) is not { } other)
                continue;
            if (
                Math.Abs(other.X - side.X) < SameStart
                && Math.Abs(other.Size - side.Size) < SameSize * side.Size
                && other.Glyphs.Find(static g => !g.IsBlank).Font.Key == font
                && ++alike == 2
            )
                return true;
        }

        return false;
    }

    // 'Page 2' reads as a directive, '- 2 -' as a rest.
    private static bool IsPageNumber(string text)
    {
        ReadOnlySpan<char> number = text.AsSpan().Trim("-\u2013\u2014 ");
        int letters = 0;
        while (letters < number.Length && char.IsLetter(number[letters]))
            letters++;
        return OperationWords.KeywordOf(number[..letters]) == Keyword.Page
            || (number.Length is > 0 and <= 4 && number.IndexOfAnyExceptInRange('0', '9') < 0);
    }

    // Where the right column has ended, text of another size after a gap, as a listing that runs over both columns, begins anew.
    private static int BeforeOtherText(List<GlyphRow> rows, int first, int last, double left, double usual)
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
                rows[i].Y - rows[i - 1].Y > WideStep * usual
                && rows.GetRange(i, last - i + 1).TrueForAll(r => Math.Abs(r.Size - size) > SameSize * size)
            )
                return i - 1;
        return last;
    }

    private static void Intersect(
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
}
