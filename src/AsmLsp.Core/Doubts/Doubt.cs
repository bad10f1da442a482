using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Doubts;

/// <summary>
/// Something about a line that a person has to decide. As a mark in a source it reads
/// <c>;? words [one alternative] [another] (page 3, line 12)</c>; all but the words may be missing. Several doubts of one
/// line are one mark: <c>;? words / other words [reading] (page 3, line 12)</c>.
/// </summary>
/// <param name="Words">Why there is a doubt, in few words.</param>
public sealed record Doubt(string Words)
{
    /// <summary>A reading by which the line is a comment.</summary>
    public const string AsComment = ";";

    /// <summary>What is between the words of several doubts.</summary>
    public const string Separator = " / ";

    /// <summary>What it is about.</summary>
    public DoubtKind Kind { get; init; }

    /// <summary>The word as printed, where another one was taken for it; else empty.</summary>
    public string Printed { get; init; } = "";

    /// <summary>
    /// Other readings of the line's code, each as it would be on the line: with a blank in front where it has no label;
    /// <see cref="AsComment"/> for one by which it is a comment.
    /// </summary>
    public ImmutableArray<string> Alternatives { get; init; } = [];

    /// <summary>Where the line was printed; <see cref="LineOrigin.None"/> where it is not known.</summary>
    public LineOrigin Origin { get; init; } = LineOrigin.None;

    /// <summary>The code of the problem, or of the report, that it comes of; empty where it was read from a source.</summary>
    public string Evidence { get; init; } = "";

    /// <summary>Whether it is about what the line itself says, so that a word printed beside the line can confirm it.</summary>
    public bool IsAboutTheLine =>
        Kind is not (DoubtKind.Written or DoubtKind.Missing or DoubtKind.Remark or DoubtKind.Document);

    /// <summary>Where the line was printed in words, such as <c>page 3, line 12</c>; empty where it is not known.</summary>
    public string Place => Origin.ToString();

    /// <summary>The first printed line of <see cref="Origin"/>; null where it is not known.</summary>
    public PrintedPlace? FirstPlace => Origin.IsNone ? null : Origin.Places[0];

    /// <summary>A doubt that has no more to it than its words.</summary>
    [return: NotNullIfNotNull(nameof(words))]
    public static implicit operator Doubt?(string? words) => FromString(words);

    /// <summary>A doubt that has no more to it than its words.</summary>
    [return: NotNullIfNotNull(nameof(words))]
    public static Doubt? FromString(string? words) => words is null ? null : new Doubt(words);

    /// <summary>The doubt about a word that was taken for another one.</summary>
    /// <param name="printed">The word as printed.</param>
    /// <param name="question">What is to be asked about it; empty where the word says it all.</param>
    public static Doubt Was(string printed, string question = "") =>
        new(question.Length > 0 ? $"was {printed}: {question}" : $"was {printed}")
        {
            Kind = DoubtKind.Word,
            Printed = printed,
        };

    /// <summary>The doubt about where a line begins or ends, or what is between its words.</summary>
    public static Doubt Extent(string words) => new(words) { Kind = DoubtKind.Extent };

    /// <summary>The doubt about whether a line, or a part of it, is code or a remark.</summary>
    public static Doubt Remark(string words) => new(words) { Kind = DoubtKind.Remark };

    /// <summary>Whether a reading can be in the mark and be found there again.</summary>
    public static bool CanCarry(string alternative)
    {
        ArgumentNullException.ThrowIfNull(alternative);
        return alternative.AsSpan().Trim().Length > 0
            && alternative.AsSpan().IndexOfAny("[]\r\n") < 0
            && !alternative.Contains(DoubtMark.Sign, StringComparison.Ordinal);
    }

    // More of them would make a line that nobody reads; the report has them all.
    private const int MostWords = 4;

    /// <summary>The doubts of one line as one: their words side by side, and all their readings.</summary>
    public static Doubt Merge(ImmutableArray<Doubt> doubts)
    {
        if (doubts.Length == 1)
            return doubts[0];
        Doubt first = doubts[0];
        LineOrigin origin = LineOrigin.None;
        foreach (Doubt doubt in doubts)
            if (origin.IsNone)
                origin = doubt.Origin;
        string[] words = [.. doubts.Select(static d => d.Words).Where(static w => w.Length > 0).Distinct()];
        if (words.Length > MostWords)
            words = [.. words[..(MostWords - 1)], $"{words.Length - MostWords + 1} more in the report"];
        return first with
        {
            Words = string.Join(Separator, words),
            Printed = doubts.FirstOrDefault(static d => d.Printed.Length > 0)?.Printed ?? "",
            Alternatives = [.. doubts.SelectMany(static d => d.Alternatives).Distinct()],
            Origin = origin,
        };
    }

    /// <summary>The text after the sign; a reading that it cannot carry is left out.</summary>
    public override string ToString()
    {
        string text = Words;
        foreach (string alternative in Alternatives)
            if (CanCarry(alternative))
                text += $" [{alternative.TrimEnd()}]";
        return (Origin.IsNone ? text : $"{text} ({Place})").Trim();
    }

    /// <summary>What to do about a doubt whose printed page is there.</summary>
    public const string CompareWithPage = "Compare the line with the printed page";

    /// <summary>The doubt as a sentence of the report and of an editor.</summary>
    public string InWords()
    {
        string words =
            Words.Length > 0 ? Words
            : Alternatives.IsEmpty ? "no reason is given"
            : "it can be read otherwise";
        if (Alternatives.Length > 0)
        {
            string readings = string.Join(
                ", ",
                Alternatives.Select(static r => r == AsComment ? "a comment" : $"'{r.Trim()}'")
            );
            words +=
                $"{(words[^1] is '?' or '.' ? "" : ";")} other possible text{(Alternatives.Length == 1 ? "" : "s")}: {readings}";
        }

        string sentence = Origin.IsNone ? words : $"{words} ({Place})";
        return sentence[^1] == '?' ? sentence : sentence + ".";
    }

    /// <summary>Reads what comes after the sign. Whatever is no reading and no place belongs to the words.</summary>
    public static Doubt Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string rest = text.Trim();
        LineOrigin origin = LineOrigin.None;
        if (
            rest.EndsWith(')')
            && rest.LastIndexOf('(') is >= 0 and var open
            && LineOrigin.TryParse(rest.AsSpan((open + 1)..^1), out LineOrigin? place)
        )
        {
            origin = place;
            rest = rest[..open].TrimEnd();
        }

        var alternatives = new List<string>();
        while (rest.EndsWith(']') && rest.LastIndexOf('[') is >= 0 and var start && CanCarry(rest[(start + 1)..^1]))
        {
            alternatives.Insert(0, rest[(start + 1)..^1]);
            rest = rest[..start].TrimEnd();
        }

        return new Doubt(rest)
        {
            Kind = DoubtKind.Written,
            Alternatives = [.. alternatives],
            Origin = origin,
        };
    }
}
