using System.Collections.Immutable;

namespace AsmLsp.Core.Printed;

/// <summary>
/// Gives each line the place where the longest line of its text column ends. Lines of one type at one place belong together, on whatever page they
/// are: the last page of a listing is seldom full, and a heading in another type is wider than its column.
/// </summary>
public static class ColumnWidths
{
    // Columns that start within so many points of each other are one.
    private const double SameStart = 3;

    /// <summary>The pages with <see cref="PrintedLine.ColumnEnd"/> set on each line whose end is known.</summary>
    public static ImmutableArray<PrintedPage> Measure(ImmutableArray<PrintedPage> pages)
    {
        var ends = new Dictionary<(int Column, int Start, string Font, int Size), double>();
        foreach (PrintedPage page in pages)
        foreach (PrintedLine line in page.Lines)
            if (line is { EndX: > 0, RunsOver: false })
                ends[Key(line)] = Math.Max(line.EndX, ends.GetValueOrDefault(Key(line)));
        return
        [
            .. pages.Select(p =>
                p with
                {
                    Lines =
                    [
                        .. p.Lines.Select(l =>
                            l.EndX > 0 && ends.TryGetValue(Key(l), out double end) ? l with { ColumnEnd = end } : l
                        ),
                    ],
                }
            ),
        ];
    }

    // Bold and slanted cuts of a font are the same type here.
    private static (int, int, string, int) Key(PrintedLine line)
    {
        int cut = line.FontFamily.AsSpan().IndexOfAny('-', ',');
        return (
            line.TextColumn,
            (int)Math.Round(line.ColumnStart / SameStart),
            cut > 0 ? line.FontFamily[..cut] : line.FontFamily,
            (int)Math.Round(line.FontSize * 2)
        );
    }
}
