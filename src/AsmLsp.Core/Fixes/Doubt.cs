using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Recovery;

namespace AsmLsp.Core.Fixes;

/// <summary>
/// What the mark of a doubt says: <c>;? words [one other reading] [another] (page 3, line 12)</c>. All but the words may be missing.
/// </summary>
/// <param name="Words">Why there is a doubt, in few words.</param>
public sealed record Doubt(string Words)
{
    /// <summary>A reading by which the line is a comment.</summary>
    public const string AsComment = ";";

    /// <summary>
    /// Other readings of the line's code, each as it would stand on the line: with a blank in front where it has no label;
    /// <see cref="AsComment"/> for one by which it is a comment.
    /// </summary>
    public ImmutableArray<string> Alternatives { get; init; } = [];

    /// <summary>Where the line was printed, in words such as <c>page 3, line 12</c>; empty where it is not known.</summary>
    public string Place { get; init; } = "";

    /// <summary>The first printed line of <see cref="Place"/>; null where it is not known.</summary>
    public PrintedPlace? FirstPlace
    {
        get
        {
            int[] numbers = [0, 0];
            int found = 0,
                at = 0;
            while (at < Place.Length && found < 2)
            {
                if (!char.IsAsciiDigit(Place[at]))
                {
                    at++;
                    continue;
                }

                int start = at;
                while (at < Place.Length && char.IsAsciiDigit(Place[at]))
                    at++;
                if (
                    !int.TryParse(
                        Place.AsSpan(start, at - start),
                        NumberStyles.None,
                        CultureInfo.InvariantCulture,
                        out numbers[found++]
                    )
                )
                    return null;
            }

            bool hasPage = Place.StartsWith("page ", StringComparison.Ordinal);
            return found == 0 ? null
                : hasPage ? new PrintedPlace(numbers[0], numbers[1])
                : new PrintedPlace(0, numbers[0]);
        }
    }

    /// <summary>Whether a reading can stand in the mark and be found there again.</summary>
    public static bool CanCarry(string alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return alternative.AsSpan().Trim().Length > 0
            && alternative.AsSpan().IndexOfAny("[]\r\n") < 0
            && !alternative.Contains(DoubtMarker.Sign, StringComparison.Ordinal);
    }

    /// <summary>The text behind the sign; a reading that it cannot carry is left out.</summary>
    public override string ToString()
    {
        string text = Words;
        foreach (string alternative in Alternatives)
            if (CanCarry(alternative))
                text += $" [{alternative.TrimEnd()}]";
        return (Place.Length > 0 ? $"{text} ({Place})" : text).Trim();
    }

    /// <summary>Reads the text behind the sign; every text gives a doubt.</summary>
    public static Doubt Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string rest = text.Trim(),
            place = "";
        if (rest.EndsWith(')') && rest.LastIndexOf('(') is >= 0 and var open && IsPlace(rest.AsSpan()[(open + 1)..^1]))
        {
            place = rest[(open + 1)..^1];
            rest = rest[..open].TrimEnd();
        }

        var alternatives = new List<string>();
        while (rest.EndsWith(']') && rest.LastIndexOf('[') is >= 0 and var start && CanCarry(rest[(start + 1)..^1]))
        {
            alternatives.Insert(0, rest[(start + 1)..^1]);
            rest = rest[..start].TrimEnd();
        }

        return new Doubt(rest) { Alternatives = [.. alternatives], Place = place };
    }

    private static bool IsPlace(ReadOnlySpan<char> text) =>
        (text.StartsWith("page ") || text.StartsWith("line ") || text.StartsWith("lines "))
        && text.ContainsAnyInRange('0', '9');
}
