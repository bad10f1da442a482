using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Host.Review;

/// <summary>A doubt or a problem that a person has to look at.</summary>
/// <param name="Number">Its number on the page, from 1.</param>
/// <param name="Entry">What the report says.</param>
internal sealed record ReviewStop(int Number, RecoveryEntry Entry)
{
    /// <summary>The name of its anchor.</summary>
    public string Anchor => AnchorOf(Number);

    /// <summary>What it is, in a word.</summary>
    public string Word => Entry.Severity == Severity.Error ? "Problem" : "Doubt";

    /// <summary>The name of the anchor of a number.</summary>
    public static string AnchorOf(int number) => "doubt-" + number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>The report by the lines of the source.</summary>
internal sealed class ReviewStops
{
    private readonly Dictionary<int, List<ReviewStop>> stops = [];
    private readonly Dictionary<int, List<RecoveryEntry>> changes = [];

    public ReviewStops(RecoveryResult result)
    {
        foreach (
            RecoveryEntry entry in result
                .Entries.Where(IsAboutDocument)
                .Concat(result.Entries.Where(static e => !IsAboutDocument(e)))
        )
        {
            int line = IsAboutDocument(entry) ? -1 : Math.Min(entry.Line, result.Source.LineCount - 1);
            if (entry.Severity == Severity.Information)
                Of(changes, line).Add(entry);
            else
                Of(stops, line).Add(new ReviewStop(++Count, entry));
        }
    }

    /// <summary>How many there are to look at.</summary>
    public int Count { get; }

    /// <summary>All of them, in the order of their numbers.</summary>
    public IEnumerable<ReviewStop> All => stops.Values.SelectMany(static s => s).OrderBy(static s => s.Number);

    /// <summary>What there is to look at on a line, from 0; of the document as a whole for -1.</summary>
    public IReadOnlyList<ReviewStop> At(int line) => stops.GetValueOrDefault(line) ?? [];

    /// <summary>What was changed without doubt on a line, from 0; in the document as a whole for -1.</summary>
    public IReadOnlyList<RecoveryEntry> ChangesAt(int line) => changes.GetValueOrDefault(line) ?? [];

    // An entry about the whole document stands at the first line and means no stretch of it.
    private static bool IsAboutDocument(RecoveryEntry entry) => entry is { Line: 0, Column: 0, EndColumn: 0 };

    private static List<T> Of<T>(Dictionary<int, List<T>> lists, int line)
    {
        if (!lists.TryGetValue(line, out List<T>? list))
            lists[line] = list = [];
        return list;
    }
}
