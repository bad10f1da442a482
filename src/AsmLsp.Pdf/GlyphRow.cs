namespace AsmLsp.Pdf;

/// <summary>Characters on one baseline, by their place from left to right. Never without one that is no blank.</summary>
internal sealed class GlyphRow
{
    // Baselines nearer than this part of the font's height are one: slightly lowered characters, the skew of a scan.
    private const double SameLine = 0.35;

    // The same character twice within this part of its height is printed twice to look bold.
    private const double SamePlace = 0.12;

    private GlyphRow(List<Glyph> glyphs, int[]? seams = null)
    {
        Glyphs = glyphs;
        Seams = seams ?? [];
        (X, EndX, Size) = (double.MaxValue, double.MinValue, 0);
        (FirstDrawn, LastDrawn) = (int.MaxValue, -1);
        double sum = 0;
        int count = 0;
        foreach (Glyph glyph in glyphs)
        {
            if (glyph.IsBlank)
                continue;
            X = Math.Min(X, glyph.X);
            EndX = Math.Max(EndX, glyph.EndX);
            Size = Math.Max(Size, glyph.Size);
            FirstDrawn = Math.Min(FirstDrawn, glyph.Order);
            LastDrawn = Math.Max(LastDrawn, glyph.Order);
            HasGuess |= glyph.IsGuess;
            sum += glyph.Y;
            count++;
        }

        Y = sum / count;
    }

    public List<Glyph> Glyphs { get; }

    /// <summary>The places in <see cref="Glyphs"/> at which the second piece of a word begins that was printed in two.</summary>
    public int[] Seams { get; }

    public double X { get; }

    public double EndX { get; }

    public double Y { get; }

    public double Size { get; }

    /// <summary>The place of its first character in the order in which the file draws the page.</summary>
    public int FirstDrawn { get; }

    /// <summary>The place of its last character in that order.</summary>
    public int LastDrawn { get; }

    /// <summary>Whether its text was too long for its column and ran over the white beside it.</summary>
    public bool RunsOver { get; set; }

    /// <summary>Whether another text lies over it, and nothing says where the two belong.</summary>
    public bool IsOverprinted { get; set; }

    /// <summary>Whether the file draws a blank after its last character, as it does where it wrapped the text there.</summary>
    public bool EndsInBlank
    {
        get
        {
            int last = Glyphs.FindLastIndex(static g => !g.IsBlank);
            return last + 1 < Glyphs.Count && Glyphs[last + 1].Run == Glyphs[last].Run;
        }
    }

    /// <summary>Whether a machine has read some of it from a picture, so that the order of drawing is that of the machine.</summary>
    public bool HasGuess { get; }

    /// <summary>Sorts characters into rows, from the top down.</summary>
    public static List<GlyphRow> Of(List<Glyph> glyphs)
    {
        var sorted = new List<Glyph>(glyphs);
        // Stable by the order of drawing, so that equal places always give the same text.
        var order = new int[sorted.Count];
        for (int i = 0; i < order.Length; i++)
            order[i] = i;
        Array.Sort(order, (a, b) => sorted[a].Y.CompareTo(sorted[b].Y) is var c and not 0 ? c : a.CompareTo(b));

        var rows = new List<GlyphRow>();
        var current = new List<Glyph>();
        double start = 0,
            size = 0;
        foreach (int index in order)
        {
            Glyph glyph = sorted[index];
            if (current.Count > 0 && glyph.Y - start > SameLine * Math.Max(1, Math.Min(glyph.Size, size)))
            {
                Add(rows, current);
                current = [];
            }

            if (current.Count == 0)
                (start, size) = (glyph.Y, glyph.Size);
            current.Add(glyph);
            size = Math.Max(size, glyph.Size);
        }

        Add(rows, current);
        return rows;
    }

    /// <summary>A row of characters that was in several.</summary>
    public static GlyphRow Joined(List<Glyph> glyphs, int[] seams) => new(glyphs, seams);

    /// <summary>The part of the row whose characters start within a stretch, or null where there is none.</summary>
    public GlyphRow? Part(double fromX, double toX)
    {
        if (fromX <= X && toX > EndX)
            return this;
        return Where(g => g.X >= fromX && g.X < toX);
    }

    private static void Add(List<GlyphRow> rows, List<Glyph> glyphs)
    {
        if (!glyphs.Exists(g => !g.IsBlank))
            return;
        var order = new int[glyphs.Count];
        for (int i = 0; i < order.Length; i++)
            order[i] = i;
        Array.Sort(order, (a, b) => glyphs[a].X.CompareTo(glyphs[b].X) is var c and not 0 ? c : a.CompareTo(b));
        List<Glyph> row = [.. order.Select(i => glyphs[i])];
        HashSet<(int, int)> apart = DrawnRuns.Overprinted(row);
        var kept = new List<Glyph>(row.Count);
        foreach (Glyph glyph in row)
            if (!IsAgain(kept, glyph, apart))
                kept.Add(glyph);
        rows.Add(new GlyphRow(kept));
    }

    /// <summary>The characters that a test picks, as a row; null where none of them is visible.</summary>
    public GlyphRow? Where(Predicate<Glyph> isPicked)
    {
        List<Glyph> part = Glyphs.FindAll(isPicked);
        return part.Exists(static g => !g.IsBlank) ? new GlyphRow(part) { RunsOver = RunsOver } : null;
    }

    private static bool IsAgain(List<Glyph> row, in Glyph glyph, HashSet<(int, int)> apart)
    {
        for (int i = row.Count - 1; i >= 0 && i >= row.Count - 4; i--)
        {
            if (glyph.X - row[i].X >= SamePlace * glyph.Size)
                return false;
            if (row[i].Text == glyph.Text && !apart.Contains((row[i].Run, glyph.Run)))
                return true;
        }

        return false;
    }
}
