using System.Globalization;
using System.Text;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Comparison;

/// <summary>
/// One reading of two: the first, with a doubt on every line where the second says something else, and the lines that only the second has.
/// Nothing of either program is lost; what both agree on carries no new doubt.
/// </summary>
public static class MergedSource
{
    /// <summary>The merged text, with the line ends of the first reading.</summary>
    /// <param name="comparison">The two readings.</param>
    /// <param name="firstName">How the first is called in the doubts.</param>
    /// <param name="secondName">How the second is called.</param>
    public static string Of(SourceComparison comparison, string firstName, string secondName)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        SourceText first = comparison.First.Root.Text,
            second = comparison.Second.Root.Text;
        var doubts = new Dictionary<int, Doubt>();
        var before = new Dictionary<int, List<string>>();
        foreach (SourceDifference difference in comparison.Differences)
        {
            int line = difference.First,
                place = difference.PlaceInFirst;
            if (line >= 0 && difference.Second >= 0)
            {
                doubts[line] = Joined(
                    first[line].Text,
                    Line($"{secondName} differs at line", difference.Second),
                    DoubtReading.Of(second[difference.Second].Text)
                );
            }
            else if (line >= 0)
            {
                if (difference.Count > 1)
                    Put(
                        before,
                        line,
                        Line(
                            $"{DoubtMark.Sign} {difference.Count} lines from here are read in {firstName} alone; they are not in {secondName}"
                        )
                    );
                else
                    doubts[line] = Joined(first[line].Text, $"not in {secondName}", Doubt.AsComment);
            }
            else if (difference.Count > 1)
            {
                Put(
                    before,
                    place,
                    Line(
                        $"{DoubtMark.Sign} {difference.Count} lines from here are read in {secondName} alone, from its line {difference.Second + 1} on"
                    )
                );
                for (int i = difference.Second; i <= difference.LastLine; i++)
                    Put(before, place, second[i].Text);
            }
            else
            {
                Put(
                    before,
                    place,
                    DoubtMark.Add(
                        second[difference.Second].Text,
                        Joined(
                            second[difference.Second].Text,
                            Line($"only in {secondName}, line", difference.Second),
                            Doubt.AsComment
                        )
                    )
                );
            }
        }

        var merged = new StringBuilder();
        string ending = first.UsualEnding;
        for (int i = 0; i < first.LineCount; i++)
        {
            foreach (string line in before.GetValueOrDefault(i) ?? [])
                merged.Append(line).Append(ending);
            string text = first[i].Text;
            merged
                .Append(doubts.TryGetValue(i, out Doubt? doubt) ? DoubtMark.Add(text, doubt) : text)
                .Append(first[i].Ending);
        }

        if (before.TryGetValue(first.LineCount, out List<string>? rest))
        {
            if (merged.Length > 0 && merged[^1] is not ('\n' or '\r'))
                merged.Append(ending);
            foreach (string line in rest)
                merged.Append(line).Append(ending);
        }

        return merged.ToString();
    }

    // A doubt that the line has already stays; the new one is said after it.
    private static Doubt Joined(string line, string words, string reading)
    {
        Doubt known = DoubtMark.Read(line) ?? new Doubt("");
        return known with
        {
            Words = known.Words.Length == 0 ? words : $"{known.Words}; {words}",
            Alternatives = known.Alternatives.Contains(reading) ? known.Alternatives : known.Alternatives.Add(reading),
        };
    }

    private static string Line(string words, int line) =>
        string.Create(CultureInfo.InvariantCulture, $"{words} {line + 1}");

    private static string Line(FormattableString text) => FormattableString.Invariant(text);

    private static void Put(Dictionary<int, List<string>> before, int line, string text)
    {
        if (!before.TryGetValue(line, out List<string>? lines))
            before[line] = lines = [];
        lines.Add(text);
    }
}
