using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Review;

/// <summary>A doubt or a problem that a person has to look at.</summary>
/// <param name="Number">Its number on the page, from 1.</param>
/// <param name="Entry">What the report says.</param>
/// <param name="Key">What it is known by when the page is made once more: the same for the same doubt at the same printed place.</param>
/// <param name="Origin">Where its line is printed; none for what concerns the document.</param>
internal sealed record ReviewStop(int Number, RecoveryEntry Entry, string Key, LineOrigin Origin)
{
    /// <summary>The name of its anchor.</summary>
    public string Anchor => AnchorOf(Number);

    /// <summary>What it is, in a word.</summary>
    public string Word => Entry.Severity == Severity.Error ? "Problem" : "Doubt";

    /// <summary>The name of the anchor of a number.</summary>
    public static string AnchorOf(int number) => "doubt-" + number.ToString(CultureInfo.InvariantCulture);
}

/// <summary>The report by the lines of the source; the stops of the printed files that it includes are counted after its own.</summary>
internal sealed class ReviewStops
{
    private readonly Dictionary<int, List<ReviewStop>> stops = [];
    private readonly Dictionary<int, List<RecoveryEntry>> changes = [];
    private readonly ReviewStops root;

    public ReviewStops(RecoveryResult result)
        : this(result, null, []) { }

    private ReviewStops(RecoveryResult result, ReviewStops? root, Dictionary<string, int> known)
    {
        this.root = root ?? this;
        foreach (
            RecoveryEntry entry in result
                .Entries.Where(static e => e.IsAboutDocument)
                .Concat(result.Entries.Where(static e => !e.IsAboutDocument))
        )
        {
            int line = entry.IsAboutDocument ? -1 : Math.Min(entry.Line, result.Source.LineCount - 1);
            if (entry.Severity == Severity.Information)
                Of(changes, line).Add(entry);
            else
                Of(stops, line)
                    .Add(
                        new ReviewStop(
                            ++this.root.last,
                            entry,
                            KeyOf(entry, result, known),
                            line >= 0 && line < result.Origins.Length ? result.Origins[line] : LineOrigin.None
                        )
                    );
        }

        Files = [.. result.Files.Select(f => new ReviewStops(f.Result, this.root, known))];
    }

    private int last;

    /// <summary>The stops of the printed files, in their order.</summary>
    public IReadOnlyList<ReviewStops> Files { get; }

    /// <summary>How many there are to look at, in the source and in all files.</summary>
    public int Count => root.last;

    /// <summary>All of them, in the order of their numbers.</summary>
    public IEnumerable<ReviewStop> All =>
        root
            .stops.Values.Concat(root.Files.SelectMany(static f => f.stops.Values))
            .SelectMany(static s => s)
            .OrderBy(static s => s.Number);

    /// <summary>What there is to look at on a line, from 0; of the document as a whole for -1.</summary>
    public IReadOnlyList<ReviewStop> At(int line) => stops.GetValueOrDefault(line) ?? [];

    /// <summary>What was changed without doubt on a line, from 0; in the document as a whole for -1.</summary>
    public IReadOnlyList<RecoveryEntry> ChangesAt(int line) => changes.GetValueOrDefault(line) ?? [];

    // Equal ones are counted.
    private static string KeyOf(RecoveryEntry entry, RecoveryResult result, Dictionary<string, int> known)
    {
        string place =
            !entry.IsAboutDocument && entry.Line < result.Origins.Length ? result.Origins[entry.Line].ToString() : "";
        byte[] sum = SHA256.HashData(Encoding.UTF8.GetBytes($"{entry.Code}\n{place}\n{entry.Message}"));
        string key = Convert.ToHexStringLower(sum.AsSpan(0, 6));
        int number = known[key] = known.GetValueOrDefault(key) + 1;
        return number == 1 ? key : string.Create(CultureInfo.InvariantCulture, $"{key}-{number}");
    }

    private static List<T> Of<T>(Dictionary<int, List<T>> lists, int line)
    {
        if (!lists.TryGetValue(line, out List<T>? list))
            lists[line] = list = [];
        return list;
    }
}
