namespace AsmLsp.Pdf;

/// <summary>
/// A page turned so that its text runs to the right, with what is no part of the run of lines set aside: text turned
/// against it, faint, or pale and huge (marks across the page), or outside the visible page.
/// </summary>
/// <param name="Width">The width of the page as it is read, in points.</param>
/// <param name="Height">Its height, in points.</param>
/// <param name="Upright">The characters of the lines.</param>
/// <param name="Aside">The others, each kind turned so that it runs to the right.</param>
internal sealed record PageFrame(double Width, double Height, List<Glyph> Upright, List<List<Glyph>> Aside)
{
    // A character that starts within this many heights of the last one continues its line.
    private const double MostGap = 1.5;

    private const float Faint = 0.8f;
    private const float Pale = 0.35f;
    private const double Huge = 48;

    // A page is read turned when nearly all of its text is: a wide listing on an upright page.
    private const double Turned = 0.8;

    /// <summary>By how many quarters to the right the page was turned; 0 to 3.</summary>
    public int QuarterTurns { get; private init; }

    /// <summary>What the page draws beside its characters, turned with it.</summary>
    public List<DrawnMark> Marks { get; private init; } = [];

    public static PageFrame Of(PageGlyphs page)
    {
        var byDirection = new List<Glyph>[5];
        for (int i = 0; i < byDirection.Length; i++)
            byDirection[i] = [];
        foreach (Glyph glyph in page.Glyphs)
            byDirection[(int)DirectionOf(glyph)].Add(glyph);

        Direction main = Direction.Right;
        for (var direction = Direction.Right; direction <= Direction.Left; direction++)
            if (byDirection[(int)direction].Count >= Turned * page.Glyphs.Count)
                main = direction;

        bool swap = main is Direction.Down or Direction.Up;
        (double width, double height) = swap ? (page.Height, page.Width) : (page.Width, page.Height);
        List<Glyph> upright = Turn(byDirection[(int)main], main, page.Width, page.Height);
        var aside = new List<List<Glyph>>();
        for (var direction = Direction.Right; direction <= Direction.Askew; direction++)
        {
            if (direction == main || byDirection[(int)direction].Count == 0)
                continue;
            aside.Add(
                direction == Direction.Askew
                    ? byDirection[(int)direction]
                    : Turn(byDirection[(int)direction], direction, page.Width, page.Height)
            );
        }

        SetAside(ref upright, aside, width, height);
        return new PageFrame(width, height, DrawnRuns.Number(upright), aside)
        {
            Marks = [.. page.Marks.Select(m => m with { Area = Turn(m.Area, main, page.Width, page.Height) })],
            QuarterTurns = main switch
            {
                Direction.Down => 3,
                Direction.Up => 1,
                Direction.Left => 2,
                _ => 0,
            },
        };
    }

    private static void SetAside(ref List<Glyph> upright, List<List<Glyph>> aside, double width, double height)
    {
        if (upright.Count == 0)
            return;
        double[] sizes = [.. upright.Select(g => g.Size)];
        Array.Sort(sizes);
        double usual = sizes[sizes.Length / 2];
        // Where most of the text is light, it is on a dark ground.
        bool onDark = upright.Count(g => g.Brightness >= Faint) > upright.Count / 2;
        var kept = new List<Glyph>(upright.Count);
        var faint = new List<Glyph>();
        var beyond = new List<Glyph>();
        foreach (Glyph glyph in upright)
        {
            bool isMark =
                (!onDark && glyph.Brightness >= Faint)
                || (glyph.Brightness > Pale && glyph.Size > Huge && glyph.Size > 3 * usual);
            bool isOutside = glyph.EndX < -1 || glyph.X > width + 1 || glyph.Y < -1 || glyph.Y > height + glyph.Size;
            (
                !isMark && !isOutside ? kept
                : !isMark && glyph.X > width + 1 ? beyond
                : faint
            ).Add(glyph);
        }

        AddRests(kept, beyond, faint);
        upright = kept;
        if (faint.Count > 0)
            aside.Add(faint);
    }

    // A line that is too long for the paper continues beyond its edge: the file has what the print lacks.
    private static void AddRests(List<Glyph> kept, List<Glyph> beyond, List<Glyph> faint)
    {
        if (beyond.Count == 0)
            return;
        var ends = new Dictionary<int, double>();
        foreach (Glyph glyph in kept)
        {
            int line = (int)Math.Round(glyph.Y * 2);
            if (!ends.TryGetValue(line, out double end) || glyph.EndX > end)
                ends[line] = glyph.EndX;
        }

        beyond.Sort(static (a, b) => a.X.CompareTo(b.X));
        foreach (Glyph glyph in beyond)
        {
            int line = (int)Math.Round(glyph.Y * 2);
            bool goesOn = ends.TryGetValue(line, out double end) && Math.Abs(glyph.X - end) < MostGap * glyph.Size;
            (goesOn ? kept : faint).Add(glyph);
            if (goesOn)
                ends[line] = Math.Max(end, glyph.EndX);
        }
    }

    private static Direction DirectionOf(in Glyph glyph)
    {
        double dx = glyph.EndX - glyph.X,
            dy = glyph.EndY - glyph.Y;
        double across = Math.Abs(dx),
            down = Math.Abs(dy);
        // Three degrees: the text layer of a scan that lay a little askew.
        if (down <= 0.05 * across)
            return dx >= 0 ? Direction.Right : Direction.Left;
        if (across <= 0.05 * down)
            return dy > 0 ? Direction.Down : Direction.Up;
        return Direction.Askew;
    }

    private static List<Glyph> Turn(List<Glyph> glyphs, Direction direction, double width, double height)
    {
        if (direction == Direction.Right)
            return glyphs;
        var turned = new List<Glyph>(glyphs.Count);
        foreach (Glyph glyph in glyphs)
        {
            (double x, double y) = Turn(glyph.X, glyph.Y, direction, width, height);
            (double endX, double endY) = Turn(glyph.EndX, glyph.EndY, direction, width, height);
            turned.Add(glyph with { X = x, Y = y, EndX = endX, EndY = endY });
        }

        return turned;
    }

    private static (double X, double Y) Turn(double x, double y, Direction direction, double width, double height) =>
        direction switch
        {
            Direction.Down => (y, width - x),
            Direction.Up => (height - y, x),
            Direction.Left => (width - x, height - y),
            _ => (x, y),
        };

    private static Area Turn(in Area area, Direction direction, double width, double height)
    {
        (double x, double y) = Turn(area.Left, area.Top, direction, width, height);
        (double endX, double endY) = Turn(area.Right, area.Bottom, direction, width, height);
        return new Area(Math.Min(x, endX), Math.Min(y, endY), Math.Max(x, endX), Math.Max(y, endY));
    }

    private enum Direction
    {
        Right,
        Down,
        Up,
        Left,
        Askew,
    }
}
