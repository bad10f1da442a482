using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>A line of a printed page, or of a pasted text.</summary>
/// <param name="Page">The page, from 1; 0 for a pasted text.</param>
/// <param name="Line">The line of the page, from 1, header and footer counted and empty room not; of a pasted text, its line.</param>
public readonly record struct PrintedPlace(int Page, int Line);

/// <summary>
/// The printed lines that a line of a source comes from, in order: one mostly, several where lines were joined, none
/// where the line was put in.
/// </summary>
public sealed class LineOrigin : IEquatable<LineOrigin>
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

    /// <summary>Reads what <see cref="ToString"/> writes.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, [NotNullWhen(true)] out LineOrigin? origin)
    {
        var places = ImmutableArray.CreateBuilder<PrintedPlace>();
        ReadOnlySpan<char> rest = text;
        origin = null;
        int page = 0;
        while (rest.Length > 0)
        {
            if (places.Count > 0 && !Take(ref rest, " and "))
                return false;
            bool hasPage = Take(ref rest, "page ");
            if (hasPage && !TakeNumber(ref rest, out page))
                return false;
            if (hasPage && rest.IsEmpty)
            {
                places.Add(new PrintedPlace(page, 0));
                break;
            }

            if (hasPage && !Take(ref rest, ", "))
                return false;
            if (!(Take(ref rest, "lines ") || Take(ref rest, "line ")) || !TakeNumber(ref rest, out int first))
                return false;
            places.Add(new PrintedPlace(page, first));
            if (!(Take(ref rest, " to ") || TakeAndNumber(ref rest)))
                continue;
            if (!TakeNumber(ref rest, out int last) || last - first > MostLines)
                return false;
            for (int line = first + 1; line < last; line++)
                places.Add(new PrintedPlace(page, line));
            places.Add(new PrintedPlace(page, last));
        }

        if (places.Count == 0)
            return false;
        origin = new LineOrigin(places.ToImmutable());
        return text.SequenceEqual(origin.ToString());
    }

    // No line is joined of more printed ones; a text that says so is none of ours.
    private const int MostLines = 1000;

    private static bool Take(ref ReadOnlySpan<char> text, string word)
    {
        if (!text.StartsWith(word, StringComparison.Ordinal))
            return false;
        text = text[word.Length..];
        return true;
    }

    // 'lines 12 and 13', not 'line 12 and page 4'.
    private static bool TakeAndNumber(ref ReadOnlySpan<char> text) =>
        text.StartsWith(" and ", StringComparison.Ordinal)
        && text.Length > 5
        && char.IsAsciiDigit(text[5])
        && Take(ref text, " and ");

    private static bool TakeNumber(ref ReadOnlySpan<char> text, out int number)
    {
        int digits = 0;
        while (digits < text.Length && char.IsAsciiDigit(text[digits]))
            digits++;
        bool isNumber = int.TryParse(text[..digits], NumberStyles.None, CultureInfo.InvariantCulture, out number);
        text = text[digits..];
        return isNumber;
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

    /// <inheritdoc/>
    public bool Equals(LineOrigin? other) => other is not null && Places.SequenceEqual(other.Places);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as LineOrigin);

    /// <inheritdoc/>
    public override int GetHashCode() => Places.IsEmpty ? 0 : Places[0].GetHashCode();

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
                text.Append(CultureInfo.InvariantCulture, $"page {page}");
            if (i - from == 1 && Places[from].Line == 0)
                continue;
            if (page > 0)
                text.Append(", ");
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
