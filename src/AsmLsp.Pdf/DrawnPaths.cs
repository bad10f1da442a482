using UglyToad.PdfPig.Core;

namespace AsmLsp.Pdf;

/// <summary>
/// Follows the paths that a page draws (ISO 32000-1, 8.5) and keeps what frames can be made of: straight rules, closed lines, filled areas. Programs
/// draw one and the same box as a rectangle, as four lines, as four thin areas or as an area with a hole.
/// </summary>
internal sealed class DrawnPaths(double height)
{
    // A page with more of them is a drawing, such as a circuit; its frames are not looked for.
    private const int MostMarks = 6_000;

    // What is thinner is a line, in points; what is smaller holds no word.
    private const double Thin = 2.5;
    private const double Small = 8;

    // A line that leaves its direction by less is straight across or down.
    private const double Straight = 0.6;
    private const double LeastRule = 3;

    // Lines lighter than this are as white as the paper; areas may be lighter.
    private const float White = 0.97f;
    private const float WhiteArea = 0.985f;

    private readonly List<DrawnMark> marks = [];
    private readonly List<Subpath> path = [];

    /// <summary>What was drawn so far; nothing where it is too much.</summary>
    public List<DrawnMark> Marks => marks.Count > MostMarks ? [] : marks;

    public void MoveTo(double x, double y, in TransformationMatrix matrix) => Start().Add(Place(x, y, matrix));

    public void LineTo(double x, double y, in TransformationMatrix matrix) => Current().Add(Place(x, y, matrix));

    public void CurveTo((double X, double Y)[] points, in TransformationMatrix matrix)
    {
        Subpath current = Current();
        current.IsCurved = true;
        foreach ((double x, double y) in points)
            current.Add(Place(x, y, matrix));
    }

    public void Rectangle(double x, double y, double width, double height, in TransformationMatrix matrix)
    {
        Subpath current = Start();
        current.Add(Place(x, y, matrix));
        current.Add(Place(x + width, y, matrix));
        current.Add(Place(x + width, y + height, matrix));
        current.Add(Place(x, y + height, matrix));
        current.IsClosed = true;
    }

    public void Close()
    {
        if (path.Count > 0)
            path[^1].IsClosed = true;
    }

    /// <summary>Forgets the path.</summary>
    public void End() => path.Clear();

    /// <summary>Draws the lines of the path.</summary>
    public void Stroke(float brightness)
    {
        if (brightness > White || marks.Count > MostMarks)
            return;
        foreach (Subpath part in path)
            Outline(part);
    }

    /// <summary>Fills the areas of the path.</summary>
    public void Fill(float brightness)
    {
        if (brightness > WhiteArea || marks.Count > MostMarks)
            return;
        // An area with a hole that leaves a narrow rim is a frame.
        if (path is [var outer, var inner] && IsRim(outer.Area, inner.Area))
        {
            Outline(outer with { IsClosed = true });
            return;
        }

        foreach (Subpath part in path)
        {
            if (!part.IsFinite || part.Points.Count < 2)
                continue;
            Area area = part.Area;
            if (Math.Min(area.Width, area.Height) <= Thin)
                Add(Math.Max(area.Width, area.Height) >= LeastRule ? DrawnKind.Rule : DrawnKind.Line, Middle(area));
            else
                Add(area is { Width: < Small, Height: < Small } ? DrawnKind.Line : DrawnKind.Shade, area);
        }
    }

    private static bool IsRim(in Area outer, in Area inner)
    {
        double left = inner.Left - outer.Left,
            top = inner.Top - outer.Top,
            right = outer.Right - inner.Right,
            bottom = outer.Bottom - inner.Bottom;
        return Math.Min(Math.Min(left, top), Math.Min(right, bottom)) >= 0
            && Math.Max(Math.Max(left, top), Math.Max(right, bottom)) <= Thin + 1
            && inner is { Width: > Small, Height: > Small / 2 };
    }

    private static Area Middle(in Area area) =>
        area.Width >= area.Height
            ? area with
            {
                Top = (area.Top + area.Bottom) / 2,
                Bottom = (area.Top + area.Bottom) / 2,
            }
            : area with
            {
                Left = (area.Left + area.Right) / 2,
                Right = (area.Left + area.Right) / 2,
            };

    private void Outline(Subpath part)
    {
        if (!part.IsFinite || part.Points.Count < 2)
            return;
        bool isSquare = !part.IsCurved;
        for (int i = 1; i < part.Points.Count + (part.IsClosed ? 1 : 0); i++)
        {
            (double X, double Y) from = part.Points[i - 1],
                to = part.Points[i % part.Points.Count];
            double across = Math.Abs(to.X - from.X),
                down = Math.Abs(to.Y - from.Y);
            var area = new Area(
                Math.Min(from.X, to.X),
                Math.Min(from.Y, to.Y),
                Math.Max(from.X, to.X),
                Math.Max(from.Y, to.Y)
            );
            if (Math.Min(across, down) > Straight)
                isSquare = false;
            else if (!part.IsCurved && Math.Max(across, down) >= LeastRule)
            {
                Add(DrawnKind.Rule, Middle(area));
                continue;
            }

            if (across + down > 0 && !part.IsClosed)
                Add(DrawnKind.Line, area);
        }

        bool isClosed = part.IsClosed || IsNear(part.Points[0], part.Points[^1]);
        if (isSquare || part.Points.Count < 3)
            return;
        Add(
            isClosed && part.Area is { Width: >= Small, Height: >= Small / 2 } ? DrawnKind.Outline : DrawnKind.Line,
            part.Area
        );
    }

    private static bool IsNear((double X, double Y) a, (double X, double Y) b) =>
        Math.Abs(a.X - b.X) + Math.Abs(a.Y - b.Y) < 1;

    private void Add(DrawnKind kind, in Area area) => marks.Add(new DrawnMark(kind, area));

    private Subpath Start()
    {
        path.Add(new Subpath([]));
        return path[^1];
    }

    // A path that continues after it was closed begins anew where it began.
    private Subpath Current()
    {
        if (path.Count == 0)
            return Start();
        if (!path[^1].IsClosed)
            return path[^1];
        (double X, double Y)? first = path[^1].Points is [var start, ..] ? start : null;
        Subpath next = Start();
        if (first is { } point)
            next.Add(point);
        return next;
    }

    private (double X, double Y) Place(double x, double y, in TransformationMatrix matrix)
    {
        (x, y) = matrix.Transform(x, y);
        return (x, height - y);
    }

    /// <summary>A piece of a path that is drawn in one go.</summary>
    private sealed record Subpath(List<(double X, double Y)> Points)
    {
        public bool IsClosed { get; set; }

        public bool IsCurved { get; set; }

        public bool IsFinite { get; private set; } = true;

        public Area Area { get; private set; }

        public void Add((double X, double Y) point)
        {
            IsFinite &= double.IsFinite(point.X + point.Y);
            var place = new Area(point.X, point.Y, point.X, point.Y);
            Area = Points.Count == 0 ? place : Area.With(place);
            Points.Add(point);
        }
    }
}
