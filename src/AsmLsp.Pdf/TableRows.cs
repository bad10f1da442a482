using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>
/// Puts the rows of a table together whose cells hold several lines of text. Lines of one cell are closer than the rows
/// of the table; a rest is below, or with the cell's text in the middle also above, its own cell. Only where the starts of the
/// texts prove a table, and only where no row would get two operations.
/// </summary>
internal static class TableRows
{
    // Distances that differ by less than this part are one distance.
    private const double SameStep = 0.02;

    // Rows nearer than this part of the usual distance are accents or indices of one row.
    private const double LeastStep = 0.2;

    // A step wider than this many usual ones leaves the table.
    private const double WideStep = 1.5;

    // A gap of this part of the height is enough where another cell is known to start after it.
    private const double GapBeforeCell = 0.25;

    // A blank of a text font is about this part of the height.
    private const double BlankWidth = 0.28;

    // Characters wider than this part of the height belong to a fixed-width font, whose blank is as wide as they are.
    private const double WideCharacter = 0.55;

    // A gap wider than this part of the height is a blank, as in LineBuilder.
    private const double GapOfBlank = 0.15;

    // A wider gap than this part of the height parts cells.
    private const double GapOfCells = 1.2;

    // Starts of cells nearer than this are the same column's, in points.
    private const double SameStart = 1;

    private const int LeastRows = 8;
    private const int MostLines = 8;

    // Lines closer than this part of the usual distance belong to one row.
    private const double Close = 0.92;

    // Printers put rows on whole dots of the screen, 0.75 points: distances that differ by one dot are the same.
    private const double Dot = 0.8;

    // Cells of a table start anywhere; words of a line on one grid of characters start at this part of a character at most from it.
    private const double OnGrid = 0.03;

    /// <summary>The rows with those put together that are one; the same list where there is no table.</summary>
    /// <param name="rows">The rows of one text column.</param>
    /// <param name="pitch">The step of its grid of characters, or 0 where it has none.</param>
    public static List<GlyphRow> Join(List<GlyphRow> rows, double pitch)
    {
        if (rows.Count < LeastRows || Usual(rows) is not { } usual)
            return rows;
        List<List<TableCell>> cells = [.. rows.Select(static r => CellsOf(r, []))];
        double[] columns = Columns(cells);
        if (columns.Length < 3)
            return rows;
        // A full cell leaves little room before the next one, whose start is known now.
        cells = [.. rows.Select(r => CellsOf(r, columns))];
        int operations = OperationColumn(cells, columns);
        if (operations < 0 || AreOnOneGrid(columns, pitch))
            return rows;
        var joined = new List<GlyphRow>(rows.Count);
        for (int i = 0; i < rows.Count; )
        {
            int next = i + 1;
            while (next < rows.Count && IsClose(rows[next].Y - rows[next - 1].Y, usual))
                next++;
            if (next - i > 1 && Put(cells, i, next, columns, operations) is { } one)
                joined.Add(one);
            else
                joined.AddRange(rows.GetRange(i, next - i));
            i = next;
        }

        return joined;
    }

    // The distance that most rows have, or null where they have none in common.
    private static double? Usual(List<GlyphRow> rows)
    {
        double[] steps = new double[rows.Count - 1];
        for (int i = 1; i < rows.Count; i++)
            steps[i - 1] = rows[i].Y - rows[i - 1].Y;
        int most = 0;
        double usual = 0;
        bool anyClose = false;
        foreach (double step in steps)
        {
            int alike = steps.Count(s => Math.Abs(s - step) < SameStep * step);
            if (alike > most)
                (most, usual) = (alike, step);
        }

        foreach (double step in steps)
            anyClose |= IsClose(step, usual);
        return anyClose && most * 2 >= steps.Length && !IsRounded(steps, usual) ? usual : null;
    }

    private static bool IsClose(double step, double usual) =>
        step < Close * usual && step > LeastStep * usual && usual - step > Dot;

    // Rounded twice, distances differ by two dots; but the rows never leave an even distance by more than one.
    private static bool IsRounded(double[] steps, double usual)
    {
        double sum = 0;
        int count = 0;
        foreach (double step in steps)
        {
            if (step > WideStep * usual)
                continue;
            if (Math.Abs(step - usual) > 2 * Dot)
                return false;
            (sum, count) = (sum + step, count + 1);
        }

        double mean = sum / count,
            off = 0;
        foreach (double step in steps)
        {
            off = step > WideStep * usual ? 0 : off + step - mean;
            if (Math.Abs(off) > 2 * Dot)
                return false;
        }

        return true;
    }

    private static bool AreOnOneGrid(double[] columns, double pitch)
    {
        if (pitch <= 0)
            return false;
        for (int i = 1; i < columns.Length; i++)
            if ((columns[i] - columns[0]) / pitch is var steps && Math.Abs(steps - Math.Round(steps)) > OnGrid)
                return false;
        return true;
    }

    private static List<TableCell> CellsOf(GlyphRow row, double[] columns)
    {
        var cells = new List<TableCell>();
        // A remark runs over all columns.
        int first = row.Glyphs.FindIndex(static g => !g.IsBlank);
        if (row.Glyphs[first].Text[0] == ';')
            return [new TableCell(row, first, row.Glyphs.Count)];
        int start = -1;
        double end = double.NaN;
        for (int i = 0; i < row.Glyphs.Count; i++)
        {
            Glyph glyph = row.Glyphs[i];
            if (glyph.IsBlank)
                continue;
            if (
                start >= 0
                && glyph.X - end is var gap
                && (
                    gap > GapOfCells * glyph.Size
                    || (gap > GapBeforeCell * glyph.Size && ColumnOf(columns, glyph.X) >= 0)
                )
            )
            {
                cells.Add(new TableCell(row, start, i));
                start = i;
            }

            if (start < 0)
                start = i;
            end = glyph.EndX;
        }

        if (start >= 0)
            cells.Add(new TableCell(row, start, row.Glyphs.Count));
        return cells;
    }

    // The places at which cells start in many rows.
    private static double[] Columns(List<List<TableCell>> rows)
    {
        double[] starts = [.. rows.SelectMany(r => r).Select(c => c.X).Order()];
        var columns = new List<double>();
        for (int i = 0; i < starts.Length; )
        {
            int next = i;
            while (next < starts.Length && starts[next] - starts[i] < SameStart)
                next++;
            if (next - i >= Math.Max(4, rows.Count / 12))
                columns.Add(starts[i]);
            i = next;
        }

        int inColumns = starts.Count(s => ColumnOf(columns, s) >= 0);
        return inColumns * 10 >= starts.Length * 7 ? [.. columns] : [];
    }

    private static int ColumnOf(IReadOnlyList<double> columns, double x)
    {
        for (int i = 0; i < columns.Count; i++)
            if (Math.Abs(columns[i] - x) < SameStart)
                return i;
        return -1;
    }

    // The column whose cells begin with operations, or -1.
    private static int OperationColumn(List<List<TableCell>> rows, double[] columns)
    {
        var counts = new int[columns.Length];
        var all = new int[columns.Length];
        foreach (TableCell cell in rows.SelectMany(r => r))
        {
            int column = ColumnOf(columns, cell.X);
            if (column < 0)
                continue;
            all[column]++;
            string word = cell.FirstWord();
            if (IsOperation(word))
                counts[column]++;
        }

        int best = Array.IndexOf(counts, counts.Max());
        return counts[best] >= LeastRows && counts[best] * 10 >= all[best] * 6 ? best : -1;
    }

    private static bool IsOperation(string word) =>
        word.Length > 1 && OperationWords.KindOf(word) != OperationKind.Unknown;

    // One row of some lines, or null where they are no cells of one row.
    private static GlyphRow? Put(List<List<TableCell>> rows, int from, int to, double[] columns, int operations)
    {
        if (to - from > MostLines)
            return null;
        var pieces = new SortedDictionary<int, List<TableCell>>();
        for (int i = from; i < to; i++)
        {
            foreach (TableCell cell in rows[i])
            {
                int column = ColumnOf(columns, cell.X);
                if (column < 0)
                    return null;
                if (!pieces.TryGetValue(column, out List<TableCell>? own))
                    pieces.Add(column, own = []);
                own.Add(cell);
            }
        }

        // Two operations are two lines; a long name in their column may be broken.
        if (
            pieces.TryGetValue(operations, out List<TableCell>? operation)
            && operation.Count > 1
            && (operation.Exists(static c => IsOperation(c.FirstWord())) || !operation[0].IsOneWord)
        )
            return null;
        if (!pieces.Values.Any(p => p.Count > 1) || AreLinesOfTheirOwn(rows, from, to, columns))
            return null;
        // All is written on the base line of one of the lines; where a cell is longer than its room, what follows moves to the right.
        double y = (operation ?? pieces.First().Value)[0].Row.Y,
            moved = 0,
            last = double.MinValue;
        var glyphs = new List<Glyph>();
        var seams = new List<int>();
        foreach (List<TableCell> cell in pieces.Values)
        {
            moved = Math.Max(moved, last - cell[0].X);
            double x = cell[0].X + moved;
            for (int i = 0; i < cell.Count; i++)
            {
                // A word that is wider than its cell is broken anywhere; other lines end between words.
                bool broken =
                    i > 0 && cell[i - 1].IsOneWord && cell[i].FirstWord().Length > 0 && cell[i - 1].EndsInWord;
                if (i > 0 && !broken)
                    x += cell[i].Blank;
                if (broken)
                    seams.Add(glyphs.Count);
                x = cell[i].CopyTo(glyphs, x, y);
            }

            last = x + 2 * cell[^1].Blank;
        }

        return GlyphRow.Joined(glyphs, [.. seams]);
    }

    // Two lines that both begin in the first column and continue in a second one in common, or that have two comments or two numbers, are two rows.
    private static bool AreLinesOfTheirOwn(List<List<TableCell>> rows, int from, int to, double[] columns)
    {
        int comments = 0,
            numbers = 0;
        var seen = new HashSet<int>();
        for (int i = from; i < to; i++)
        {
            int[] own = [.. rows[i].Select(c => ColumnOf(columns, c.X))];
            if (own[0] == 0 && own.Length > 1 && own.Skip(1).Any(seen.Contains))
                return true;
            if (own[0] == 0)
                seen.UnionWith(own.Skip(1));
            if (rows[i].Exists(static c => c.StartsWith(';')))
                comments++;
            if (rows[i][0].FirstWord() is { Length: > 0 } word && word.All(char.IsAsciiDigit))
                numbers++;
        }

        return comments > 1 || numbers > 1;
    }

    /// <summary>Characters of a row without a wide gap between them.</summary>
    private sealed record TableCell(GlyphRow Row, int From, int To)
    {
        public double X => Row.Glyphs[From].X;

        public bool StartsWith(char sign) => Row.Glyphs[From].Text[0] == sign;

        /// <summary>The room of a blank after it.</summary>
        public double Blank =>
            Math.Max(
                BlankWidth * Row.Size,
                Row.Glyphs[From].Width > WideCharacter * Row.Size ? Row.Glyphs[From].Width : 0
            );

        /// <summary>Whether there is no blank in it.</summary>
        public bool IsOneWord
        {
            get
            {
                for (int i = From + 1; i < To; i++)
                    if (!Row.Glyphs[i].IsBlank && Row.Glyphs[i].X - Row.Glyphs[i - 1].EndX > GapOfBlank * Row.Size)
                        return false;
                    else if (Row.Glyphs[i].IsBlank && Rest(i))
                        return false;
                return true;
            }
        }

        public bool EndsInWord
        {
            get
            {
                int i = To - 1;
                while (i > From && Row.Glyphs[i].IsBlank)
                    i--;
                return IsPartOfWord(Row.Glyphs[i].Text[^1]);
            }
        }

        private static bool IsPartOfWord(char c) => char.IsLetterOrDigit(c) || c is '_' or '?' or '@' or '#';

        public string FirstWord()
        {
            var word = new System.Text.StringBuilder();
            for (
                int i = From;
                i < To
                    && !Row.Glyphs[i].IsBlank
                    && (i == From || Row.Glyphs[i].X - Row.Glyphs[i - 1].EndX < GapOfBlank * Row.Size);
                i++
            )
            {
                if (!IsPartOfWord(Row.Glyphs[i].Text[0]))
                    break;
                word.Append(Row.Glyphs[i].Text);
            }

            return word.ToString();
        }

        /// <summary>Writes it at a place; gives where it ends.</summary>
        public double CopyTo(List<Glyph> glyphs, double x, double y)
        {
            double by = x - X,
                end = x;
            for (int i = From; i < To; i++)
            {
                Glyph glyph = Row.Glyphs[i];
                glyphs.Add(glyph with { X = glyph.X + by, EndX = glyph.EndX + by, Y = y, EndY = y });
                if (!glyph.IsBlank)
                    end = glyph.EndX + by;
            }

            while (glyphs[^1].IsBlank)
                glyphs.RemoveAt(glyphs.Count - 1);
            return end;
        }

        private bool Rest(int from)
        {
            for (int i = from; i < To; i++)
                if (!Row.Glyphs[i].IsBlank)
                    return true;
            return false;
        }
    }
}
