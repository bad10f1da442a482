namespace AsmLsp.Pdf;

/// <summary>
/// Where column one is, for each page, text column and kind of text. It is the leftmost start of a line there, unless
/// other pages show that such lines are indented ones: they have lines that start at this very place and others further left, or start a whole
/// number of columns further left.
/// </summary>
internal sealed class Origins
{
    // Half a column: what is nearer is the same column.
    private const double HalfColumn = 0.5;

    // Places nearer than this part of a column are one place.
    private const double SamePlace = 0.02;

    // Between these parts of a column a place is on neither side.
    private const double LeastPart = 0.15;

    // As above.
    private const double MostPart = 0.85;

    // Starts nearer than this are the same, in points.
    private const double Same = 0.7;

    // Part of a column by which a whole number of columns may be missed: a margin that changes from page to page hits this seldom.
    private const double WholeColumn = 0.03;

    // The most whole columns that a page is taken to be indented by.
    private const int MostColumns = 16;

    // No indentation is wider.
    private const double MostIndent = 220;

    private readonly Dictionary<(int Column, int Pitch), List<double>> edges = [];
    private readonly Dictionary<(int Page, int Column, bool IsMonospaced), Place> places = [];

    /// <summary>Finds the places for all rows of a document.</summary>
    public static Origins Of(List<MeasuredRow> rows)
    {
        var origins = new Origins();
        foreach (MeasuredRow row in rows)
        {
            (int, int, bool) key = (row.Page, row.Column, row.IsMonospaced);
            if (!origins.places.TryGetValue(key, out Place? place))
                origins.places.Add(key, place = new Place());
            place.Least = Math.Min(place.Least, row.Row.X);
            if (row.IsMonospaced)
                place.Pitch = row.Pitch;
            int start = (int)Math.Round(row.Row.X * 2);
            place.Starts[start] = place.Starts.GetValueOrDefault(start) + 1;
        }

        origins.Learn();
        foreach (MeasuredRow row in rows)
            origins.places[(row.Page, row.Column, row.IsMonospaced)].AddToGrid(row);
        foreach (Place place in origins.places.Values)
            place.SnapToGrid();
        return origins;
    }

    /// <summary>Where column one is for a row, in points from the left edge.</summary>
    public double Of(MeasuredRow row) => places[(row.Page, row.Column, row.IsMonospaced)].Origin;

    private void Learn()
    {
        // For each start of lines, the place furthest left on a page that has such lines: what indented lines belong to.
        var furthest = new Dictionary<(int Column, bool IsMonospaced, int Start), double>();
        foreach (((int _, int column, bool isMonospaced), Place place) in places)
        {
            place.Origin = place.Least;
            foreach ((int start, int count) in place.Starts)
            {
                if (count < 2)
                    continue;
                (int, bool, int) key = (column, isMonospaced, start);
                double known = furthest.GetValueOrDefault(key, double.MaxValue);
                if (place.Least < known && start / 2.0 - place.Least < MostIndent)
                    furthest[key] = place.Least;
            }
        }

        foreach (((int _, int column, bool isMonospaced), Place place) in places)
        {
            int start = (int)Math.Round(place.Least * 2);
            for (int near = start - 1; near <= start + 1; near++)
            {
                if (!furthest.TryGetValue((column, isMonospaced, near), out double other))
                    continue;
                if (Math.Abs(near / 2.0 - place.Least) <= Same && other < place.Origin - Same)
                    place.Origin = other;
            }
        }

        foreach (((int Page, int Column, bool IsMonospaced) key, Place place) in places)
        {
            if (!key.IsMonospaced)
                continue;
            foreach (double edge in EdgesLike(key.Column, place.Pitch))
            {
                double columns = (place.Least - edge) / place.Pitch;
                if (
                    columns is > HalfColumn and < MostColumns + HalfColumn
                    && Math.Abs(columns - Math.Round(columns)) < WholeColumn
                )
                    place.Origin = Math.Min(place.Origin, edge);
            }
        }
    }

    // The leftmost starts of all pages in a grid of the same step; few, as pages are mostly alike.
    private List<double> EdgesLike(int column, double pitch)
    {
        (int, int) key = (column, (int)Math.Round(pitch * 50));
        if (edges.TryGetValue(key, out List<double>? known))
            return known;
        known = [];
        foreach (((int _, int otherColumn, bool isMonospaced), Place place) in places)
        {
            if (!isMonospaced || otherColumn != column || (int)Math.Round(place.Pitch * 50) != key.Item2)
                continue;
            if (known.Count < 100 && !known.Exists(e => Math.Abs(e - place.Least) < SamePlace))
                known.Add(place.Least);
        }

        edges.Add(key, known);
        return known;
    }

    private sealed class Place
    {
        public double Least { get; set; } = double.MaxValue;

        public double Origin { get; set; }

        public double Pitch { get; set; }

        public Dictionary<int, int> Starts { get; } = [];

        // How many rows start at each twentieth of a step of the grid.
        private readonly int[] parts = new int[20];

        public void AddToGrid(MeasuredRow row)
        {
            if (!row.IsMonospaced)
                return;
            double steps = (row.Measure.Start - Origin) / row.Pitch;
            parts[(int)Math.Floor((steps - Math.Floor(steps)) * 20) % 20]++;
        }

        /// <summary>
        /// Moves the place to the left so that most rows start on the grid: a header in the same font may be further left than the
        /// listing by any distance, and half a step would leave each character's column to chance.
        /// </summary>
        public void SnapToGrid()
        {
            int most = 0;
            for (int i = 1; i < 20; i++)
                if (parts[i] > parts[most])
                    most = i;
            // Lines that start at the place itself, many of them, are the labels of a table whose other columns have grids of their own.
            int here = parts[0] + parts[19],
                all = 0;
            foreach (int count in parts)
                all += count;
            if (here >= 3 && here * 10 >= all)
                return;
            double part = (most + 0.5) / 20;
            if (part is > LeastPart and < MostPart)
                Origin -= (1 - part) * Pitch;
        }
    }
}
