namespace AsmLsp.Pdf;

/// <summary>
/// A drawing of a page: boxes with the lines that join them, a table, a frame, a shaded area, a picture. What touches each other is one drawing.
/// </summary>
/// <param name="Area">All of it.</param>
/// <param name="Cells">The frames that it draws; those that share a border are one group.</param>
/// <param name="Shades">Its filled areas.</param>
/// <param name="Pictures">Its pictures.</param>
internal sealed record DrawnFigure(Area Area, List<Area> Cells, List<Area> Shades, List<Area> Pictures)
{
    // Marks nearer than this touch each other.
    private const double Near = 1.5;

    // Shades of rows that follow each other, and of cells with a thin line of white between them, are one area.
    private const double NearShades = 2.5;

    // A ground below the whole page frames nothing.
    private const double WholePage = 0.9;

    // Comparing more marks with each other takes too long.
    private const int MostMarks = 3_000;

    /// <summary>The drawings of a page.</summary>
    /// <param name="marks">What it draws.</param>
    /// <param name="width">Its width.</param>
    /// <param name="height">Its height.</param>
    public static List<DrawnFigure> Of(List<DrawnMark> marks, double width, double height)
    {
        if (marks.Count == 0)
            return [];
        marks = RuledCells.Merge(marks);
        marks.RemoveAll(m =>
            m.Kind is DrawnKind.Shade or DrawnKind.Picture && m.Area.Width * m.Area.Height >= WholePage * width * height
        );
        if (marks.Count > MostMarks)
            return [];
        var figures = new List<DrawnFigure>();
        foreach (List<DrawnMark> group in Groups(marks))
        {
            List<Area> cells = RuledCells.Of(AreasOf(group, DrawnKind.Rule));
            cells.AddRange(AreasOf(group, DrawnKind.Outline));
            List<Area> shades = AreasOf(group, DrawnKind.Shade),
                pictures = AreasOf(group, DrawnKind.Picture);
            if (cells.Count + shades.Count + pictures.Count == 0)
                continue;
            Area all = group[0].Area;
            foreach (DrawnMark mark in group)
                all = all.With(mark.Area);
            figures.Add(new DrawnFigure(all, cells, shades, pictures));
        }

        return figures;
    }

    private static List<Area> AreasOf(List<DrawnMark> marks, DrawnKind kind) =>
        [.. marks.Where(m => m.Kind == kind).Select(static m => m.Area)];

    // Each mark with all that it touches.
    private static IEnumerable<List<DrawnMark>> Groups(List<DrawnMark> marks)
    {
        marks.Sort(static (a, b) => a.Area.Left.CompareTo(b.Area.Left));
        int[] parent = [.. Enumerable.Range(0, marks.Count)];
        for (int i = 0; i < marks.Count; i++)
        for (int j = i + 1; j < marks.Count && marks[j].Area.Left <= marks[i].Area.Right + NearShades; j++)
        {
            bool areShades = marks[i].Kind == DrawnKind.Shade && marks[j].Kind == DrawnKind.Shade;
            if (marks[i].Area.Touches(marks[j].Area, areShades ? NearShades : Near) && Meet(marks[i], marks[j]))
                parent[Root(j)] = Root(i);
        }

        return Enumerable.Range(0, marks.Count).GroupBy(Root).Select(g => g.Select(i => marks[i]).ToList());

        int Root(int i)
        {
            while (parent[i] != i)
                i = parent[i] = parent[parent[i]];
            return i;
        }
    }

    // The frame of a page or of a listing touches what it goes around only where it is drawn: an outline has a hollow inside.
    private static bool Meet(in DrawnMark a, in DrawnMark b) =>
        (a.Kind, b.Kind) switch
        {
            (DrawnKind.Outline, DrawnKind.Outline) => !Encloses(a.Area, b.Area) && !Encloses(b.Area, a.Area),
            _ => true,
        };

    private static bool Encloses(in Area outer, in Area inner) =>
        inner.Left > outer.Left + Near
        && inner.Top > outer.Top + Near
        && inner.Right < outer.Right - Near
        && inner.Bottom < outer.Bottom - Near;
}
