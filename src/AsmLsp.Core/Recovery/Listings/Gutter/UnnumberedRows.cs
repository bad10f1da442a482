using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Rows that cannot be rows of their own: those without a number in a listing that numbers every row, and those that begin in the columns of the
/// gutter with something else. Each continues with the row above, where that one is full, or is page header or footer.
/// </summary>
internal static class UnnumberedRows
{
    // Sizes that differ by less are one size, in points.
    private const double SameSize = 0.5;

    // Lines further apart than this many times the usual distance have room between them.
    private const double Room = 1.4;

    /// <summary>Decides what the rows between the first and the last numbered one are.</summary>
    public static void Classify(
        PrintedLine[] lines,
        int first,
        int last,
        DocumentGutter gutter,
        Dictionary<PrintedLine, GutterRowKind> kinds
    )
    {
        double pitch = Pitch(lines);
        var heads = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = first; i <= last; i++)
            if (IsBare(i))
                heads[Key(lines[i].Text)] = heads.GetValueOrDefault(Key(lines[i].Text)) + 1;
        // No row is longer than the printer's, and one that was broken has no room for another word.
        int width = 0;
        for (int i = first; i <= last; i++)
            if (!IsBare(i) || heads[Key(lines[i].Text)] == 1)
                width = Math.Max(width, lines[i].Text.Length);
        // What continues with the last row of a page may be below the next page's head.
        int above = first;
        for (int i = first + 1; i < lines.Length; i++)
        {
            PrintedLine line = lines[i];
            if (!IsBare(i))
            {
                above = i;
                continue;
            }

            if (i > last && (line.Page != lines[last].Page || above < last))
                break;
            bool isBelow =
                line.Page == lines[above].Page
                    ? above == i - 1 && (pitch <= 0 || line.Y - lines[above].Y <= Room * pitch)
                    : heads.GetValueOrDefault(Key(line.Text)) <= 1;
            if (isBelow && IsSameType(lines[above], line) && IsFull(lines[above], gutter.TextOf(line), width))
            {
                kinds[line] = GutterRowKind.Rest;
                above = i;
            }
            else if (i < last && AssemblyLook.Of(line.Text) is not (Look.Code or Look.Comment))
                kinds[line] = GutterRowKind.Page;
        }

        bool IsBare(int i) =>
            gutter.Of(lines[i])
                is { Reading: { Number: < 0, Words.Count: 0, Address: < 0 }, Row.TextStart: >= 0 and var start }
            && (gutter.NumbersAll || (start < gutter.End && lines[i].IsMonospaced));
    }

    private static bool IsSameType(PrintedLine above, PrintedLine line) =>
        above.IsMonospaced == line.IsMonospaced && Math.Abs(above.FontSize - line.FontSize) < SameSize;

    /// <summary>Whether a row had no room for the first word of the next one.</summary>
    public static bool IsFull(PrintedLine above, string rest, int width)
    {
        if (!above.IsMonospaced)
            return true;
        ReadOnlySpan<char> text = rest.AsSpan().Trim();
        int end = text.IndexOfAny(' ', '\t', '\u00A0');
        return above.Text.Length + 1 + (end < 0 ? text.Length : end) > width;
    }

    private static string Key(string text) =>
        string.Concat(text.Where(static c => !char.IsDigit(c) && !char.IsWhiteSpace(c)));

    private static double Pitch(PrintedLine[] lines)
    {
        var steps = new List<double>();
        for (int i = 1; i < lines.Length; i++)
            if (lines[i].Page == lines[i - 1].Page && lines[i].Y > lines[i - 1].Y)
                steps.Add(lines[i].Y - lines[i - 1].Y);
        steps.Sort();
        return steps.Count == 0 ? 0 : steps[steps.Count / 2];
    }
}
