using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Pictures;

/// <summary>The part of a page that one printed line takes, or several right below each other. In points from the upper left corner of the page.</summary>
/// <param name="Page">The page, from 1.</param>
/// <param name="FirstLine">The first line, from 1.</param>
/// <param name="LastLine">The last line.</param>
/// <param name="Left">Where its ink begins, with some room.</param>
/// <param name="Top">Above its letters.</param>
/// <param name="Right">Where the text column ends.</param>
/// <param name="Bottom">Below its letters.</param>
public sealed record PrintedArea(
    int Page,
    int FirstLine,
    int LastLine,
    double Left,
    double Top,
    double Right,
    double Bottom
)
{
    // In sizes of the letters: from the base line to the top of a capital with an accent, and to the foot of a g (from memory: most types need less).
    private const double Ascent = 0.88,
        Descent = 0.28;

    // The room around it.
    private const double Margin = 4;

    /// <summary>Its name, for files and anchors: <c>page-3-line-12</c>, <c>page-3-lines-12-13</c>.</summary>
    public string Name =>
        FirstLine == LastLine
            ? string.Create(CultureInfo.InvariantCulture, $"page-{Page}-line-{FirstLine}")
            : string.Create(CultureInfo.InvariantCulture, $"page-{Page}-lines-{FirstLine}-{LastLine}");

    /// <summary>Its place in words.</summary>
    public string Place =>
        FirstLine == LastLine
            ? string.Create(CultureInfo.InvariantCulture, $"page {Page}, line {FirstLine}")
            : string.Create(CultureInfo.InvariantCulture, $"page {Page}, lines {FirstLine} to {LastLine}");

    /// <summary>The areas of the printed lines that a source line comes of: one mostly; none where the place of none is known.</summary>
    /// <param name="origin">Where the line was printed.</param>
    /// <param name="find">Finds the printed line of a place.</param>
    public static ImmutableArray<PrintedArea> Of(LineOrigin origin, Func<PrintedPlace, PrintedLine?> find)
    {
        ArgumentNullException.ThrowIfNull(origin);
        ArgumentNullException.ThrowIfNull(find);
        ImmutableArray<PrintedArea>.Builder areas = ImmutableArray.CreateBuilder<PrintedArea>();
        PrintedLine? last = null;
        foreach (PrintedPlace place in origin.Places)
        {
            if (place.Page < 1 || find(place) is not { } line || !HasPlace(line))
                continue;
            PrintedArea area = Of(line);
            if (last is not null && last.Page == line.Page && last.Number + 1 == line.Number && last.Y < line.Y)
                areas[^1] = areas[^1].With(area);
            else
                areas.Add(area);
            last = line;
        }

        return areas.ToImmutable();
    }

    /// <summary>The area of one printed line.</summary>
    public static PrintedArea Of(PrintedLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        double size = Math.Clamp(line.FontSize, 4, 72),
            left = line.ColumnStart > 0 ? Math.Min(line.X, line.ColumnStart) : line.X,
            right = Math.Max(line.EndX, line.ColumnEnd);
        return new PrintedArea(
            line.Page,
            line.Number,
            line.Number,
            Math.Max(0, left - Margin),
            Math.Max(0, line.Y - Ascent * size),
            right > line.X ? right + Margin : double.PositiveInfinity,
            line.Y + Descent * size
        );
    }

    private static bool HasPlace(PrintedLine line) =>
        double.IsFinite(line.X) && double.IsFinite(line.Y) && double.IsFinite(line.FontSize) && line.Y > 0;

    private PrintedArea With(PrintedArea below) =>
        this with
        {
            LastLine = below.LastLine,
            Left = Math.Min(Left, below.Left),
            Top = Math.Min(Top, below.Top),
            Right = Math.Max(Right, below.Right),
            Bottom = Math.Max(Bottom, below.Bottom),
        };
}
