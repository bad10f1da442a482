namespace AsmLsp.Pdf;

/// <summary>The cells that straight rules enclose, as the borders of a table or the four lines of a box do.</summary>
internal static class RuledCells
{
    // Rules nearer than this are one, and a rule that ends so near to another one meets it.
    private const double Same = 1.5;

    // Dashes and the lines of neighboring cells continue each other over so much white.
    private const double Dash = 3;

    // A larger grid is no table that anybody reads.
    private const int MostCells = 40_000;

    // No word fits into less.
    private const double LeastWidth = 8,
        LeastHeight = 5;

    /// <summary>Puts together what continues in a straight line.</summary>
    public static List<DrawnMark> Merge(List<DrawnMark> marks)
    {
        var merged = new List<DrawnMark>(marks.Count);
        foreach (bool isAcross in (ReadOnlySpan<bool>)[true, false])
        {
            List<Area> rules =
            [
                .. marks
                    .Where(m => m.Kind == DrawnKind.Rule && IsAcross(m.Area) == isAcross)
                    .Select(static m => m.Area),
            ];
            rules.Sort(
                (a, b) =>
                    isAcross
                        ? (Math.Round(a.Top), a.Left).CompareTo((Math.Round(b.Top), b.Left))
                        : (Math.Round(a.Left), a.Top).CompareTo((Math.Round(b.Left), b.Top))
            );
            for (int i = 0; i < rules.Count; )
            {
                Area rule = rules[i++];
                while (i < rules.Count && Continues(rule, rules[i], isAcross))
                    rule = rule.With(rules[i++]);
                merged.Add(new DrawnMark(DrawnKind.Rule, rule));
            }
        }

        merged.AddRange(marks.Where(static m => m.Kind != DrawnKind.Rule));
        return merged;
    }

    private static bool Continues(in Area rule, in Area next, bool isAcross) =>
        isAcross
            ? Math.Abs(next.Top - rule.Top) < Same / 2 && next.Left <= rule.Right + Dash
            : Math.Abs(next.Left - rule.Left) < Same / 2 && next.Top <= rule.Bottom + Dash;

    private static bool IsAcross(in Area rule) => rule.Width >= rule.Height;

    /// <summary>The cells that the rules of one drawing enclose.</summary>
    public static List<Area> Of(List<Area> rules)
    {
        List<Area> across = rules.FindAll(static r => IsAcross(r)),
            down = rules.FindAll(static r => !IsAcross(r));
        double[] xs = Places(down.Select(static r => r.Left)),
            ys = Places(across.Select(static r => r.Top));
        if (xs.Length < 2 || ys.Length < 2 || (xs.Length + 1L) * (ys.Length + 1) > MostCells)
            return [];
        // Cell (i, j) is right of the place i - 1 and below the place j - 1; those of row and column 0 and of the last ones are outside.
        int columns = xs.Length + 1,
            rows = ys.Length + 1;
        bool[] wallLeft = new bool[columns * rows],
            wallAbove = new bool[columns * rows];
        foreach (Area rule in down)
        {
            int x = Nearest(xs, rule.Left) + 1;
            for (int j = 1; j < ys.Length; j++)
                if (rule.Top <= ys[j - 1] + Same && rule.Bottom >= ys[j] - Same)
                    wallLeft[j * columns + x] = true;
        }

        foreach (Area rule in across)
        {
            int y = Nearest(ys, rule.Top) + 1;
            for (int i = 1; i < xs.Length; i++)
                if (rule.Left <= xs[i - 1] + Same && rule.Right >= xs[i] - Same)
                    wallAbove[y * columns + i] = true;
        }

        return Enclosed(xs, ys, wallLeft, wallAbove);
    }

    // What cannot be reached from outside, each enclosed part as one area.
    private static List<Area> Enclosed(double[] xs, double[] ys, bool[] wallLeft, bool[] wallAbove)
    {
        int columns = xs.Length + 1,
            rows = ys.Length + 1;
        int[] part = new int[columns * rows];
        var found = new List<Area>();
        var open = new Stack<int>();
        for (int start = 0, number = 0; start < part.Length; start++)
        {
            if (part[start] != 0)
                continue;
            number++;
            part[start] = number;
            open.Push(start);
            Area area = default;
            bool isFirst = true,
                isOutside = false;
            while (open.TryPop(out int cell))
            {
                int i = cell % columns,
                    j = cell / columns;
                if (i == 0 || j == 0 || i == columns - 1 || j == rows - 1)
                    isOutside = true;
                else
                {
                    var own = new Area(xs[i - 1], ys[j - 1], xs[i], ys[j]);
                    area = isFirst ? own : area.With(own);
                    isFirst = false;
                }

                if (i > 0 && !wallLeft[cell])
                    Reach(cell - 1);
                if (i < columns - 1 && !wallLeft[cell + 1])
                    Reach(cell + 1);
                if (j > 0 && !wallAbove[cell])
                    Reach(cell - columns);
                if (j < rows - 1 && !wallAbove[cell + columns])
                    Reach(cell + columns);
            }

            if (!isOutside && area.Width >= LeastWidth && area.Height >= LeastHeight)
                found.Add(area);

            void Reach(int next)
            {
                if (part[next] != 0)
                    return;
                part[next] = number;
                open.Push(next);
            }
        }

        return found;
    }

    private static double[] Places(IEnumerable<double> values)
    {
        var places = new List<double>();
        foreach (double value in values.Order())
            if (places.Count == 0 || value - places[^1] > Same)
                places.Add(value);
        return [.. places];
    }

    private static int Nearest(double[] places, double value)
    {
        int at = Array.BinarySearch(places, value);
        if (at >= 0)
            return at;
        at = ~at;
        return at == places.Length || (at > 0 && value - places[at - 1] < places[at] - value) ? at - 1 : at;
    }
}
