namespace AsmLsp.Pdf;

/// <summary>What a mark of a page is.</summary>
internal enum DrawnKind
{
    /// <summary>A straight line, across or down.</summary>
    Rule,

    /// <summary>Another line, or something too small to hold words: an arrow, a curve.</summary>
    Line,

    /// <summary>A closed line that is no rectangle: a diamond, an ellipse, a box with round corners.</summary>
    Outline,

    /// <summary>A filled area.</summary>
    Shade,

    /// <summary>A picture.</summary>
    Picture,
}

/// <summary>A rectangle of the page in points from its upper left corner.</summary>
internal readonly record struct Area(double Left, double Top, double Right, double Bottom)
{
    public double Width => Right - Left;

    public double Height => Bottom - Top;

    /// <summary>Whether the middle of a character is in it.</summary>
    public bool Holds(in Glyph glyph)
    {
        double x = (glyph.X + glyph.EndX) / 2,
            y = glyph.Y - 0.3 * glyph.Size;
        return x > Left && x < Right && y > Top && y < Bottom;
    }

    /// <summary>Whether two areas overlap or are no further apart than a distance.</summary>
    public bool Touches(in Area other, double distance) =>
        Left <= other.Right + distance
        && other.Left <= Right + distance
        && Top <= other.Bottom + distance
        && other.Top <= Bottom + distance;

    public Area With(in Area other) =>
        new(
            Math.Min(Left, other.Left),
            Math.Min(Top, other.Top),
            Math.Max(Right, other.Right),
            Math.Max(Bottom, other.Bottom)
        );
}

/// <summary>Something that a page draws beside its letters.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Area">Where it is.</param>
internal readonly record struct DrawnMark(DrawnKind Kind, Area Area);
