using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>A line of a printed page, or of a pasted text.</summary>
/// <param name="Page">The page, from 1; 0 for a pasted text.</param>
/// <param name="Line">The line of the page, from 1, header and footer counted and empty room not; of a pasted text, its line.</param>
public readonly record struct PrintedPlace(int Page, int Line);

/// <summary>
/// The printed lines that a line of a source comes from, in order: one mostly, several where lines were joined, none
/// where the line was put in.
/// </summary>
public sealed class LineOrigin
{
    private LineOrigin(ImmutableArray<PrintedPlace> places) => Places = places;

    /// <summary>The origin of a line that was not printed.</summary>
    public static LineOrigin None { get; } = new([]);

    /// <summary>The places.</summary>
    public ImmutableArray<PrintedPlace> Places { get; }

    /// <summary>Whether the line was not printed.</summary>
    public bool IsNone => Places.IsEmpty;

    /// <summary>The first page, from 1, or 0 where there is none.</summary>
    public int Page => Places.IsEmpty ? 0 : Places[0].Page;

    /// <summary>The origin of a line that was printed at one place.</summary>
    public static LineOrigin At(int page, int line) => new([new PrintedPlace(page, line)]);

    /// <summary>The origins of the lines of a pasted text.</summary>
    /// <param name="lines">How many it has.</param>
    public static ImmutableArray<LineOrigin> OfText(int lines)
    {
        var origins = ImmutableArray.CreateBuilder<LineOrigin>(lines);
        for (int i = 1; i <= lines; i++)
            origins.Add(At(0, i));
        return origins.MoveToImmutable();
    }

    /// <summary>The origin of a line that is made of this one and another.</summary>
    public LineOrigin With(LineOrigin other)
    {
        ArgumentNullException.ThrowIfNull(other);
        if (IsNone)
            return other;
        ImmutableArray<PrintedPlace> places = Places;
        foreach (PrintedPlace place in other.Places)
            if (!places.Contains(place))
                places = places.Add(place);
        return places.Length == Places.Length ? this : new LineOrigin(places);
    }

    /// <summary>The places in words: <c>page 3, lines 12 and 13</c>, <c>lines 4 to 6</c>; empty where there is none.</summary>
    public override string ToString()
    {
        var text = new StringBuilder();
        for (int i = 0; i < Places.Length; )
        {
            int page = Places[i].Page,
                from = i;
            while (i < Places.Length && Places[i].Page == page)
                i++;
            if (from > 0)
                text.Append(" and ");
            if (page > 0)
                text.Append(CultureInfo.InvariantCulture, $"page {page}, ");
            int first = Places[from].Line,
                last = Places[i - 1].Line;
            if (i - from == 1)
                text.Append(CultureInfo.InvariantCulture, $"line {first}");
            else
                text.Append(CultureInfo.InvariantCulture, $"lines {first} {(last == first + 1 ? "and" : "to")} {last}");
        }

        return text.ToString();
    }
}
