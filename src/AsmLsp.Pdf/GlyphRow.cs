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
        double sum = 0;
        int count = 0;
        foreach (Glyph glyph in glyphs)
        {
            if (glyph.IsBlank)
                continue;
            X = Math.Min(X, glyph.X);
            EndX = Math.Max(EndX, glyph.EndX);
            Size = Math.Max(Size, glyph.Size);
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

    /// <summary>A row of characters that stood in several.</summary>
    public static GlyphRow Joined(List<Glyph> glyphs, int[] seams) => new(glyphs, seams);

    /// <summary>The part of the row whose characters start within a stretch, or null where there is none.</summary>
    public GlyphRow? Part(double fromX, double toX)
    {
        if (fromX <= X && toX > EndX)
            return this;
        List<Glyph> part = Glyphs.FindAll(g => g.X >= fromX && g.X < toX);
        return part.Exists(g => !g.IsBlank) ? new GlyphRow(part) : null;
    }

    private static void Add(List<GlyphRow> rows, List<Glyph> glyphs)
    {
        if (!glyphs.Exists(g => !g.IsBlank))
            return;
        var order = new int[glyphs.Count];
        for (int i = 0; i < order.Length; i++)
            order[i] = i;
        Array.Sort(order, (a, b) => glyphs[a].X.CompareTo(glyphs[b].X) is var c and not 0 ? c : a.CompareTo(b));
        var row = new List<Glyph>(glyphs.Count);
        foreach (int index in order)
            if (!IsAgain(row, glyphs[index]))
                row.Add(glyphs[index]);
        rows.Add(new GlyphRow(row));
    }

    private static bool IsAgain(List<Glyph> row, in Glyph glyph)
    {
        for (int i = row.Count - 1; i >= 0 && i >= row.Count - 4; i--)
        {
            if (glyph.X - row[i].X >= SamePlace * glyph.Size)
                return false;
            if (row[i].Text == glyph.Text)
                return true;
        }

        return false;
    }
}
