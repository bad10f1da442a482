using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Collects the problems of one pass. A fault that shows in several expansions of one macro is one problem at the
/// macro's body; the calls are with it as related places.
/// </summary>
internal sealed class ProblemBag
{
    private const int MostRelated = 8;

    private readonly Dictionary<(string Code, SourceFile File, int Line, int Column, string Message), int> known = [];
    private readonly List<Problem> problems = [];
    private readonly Dictionary<(SourceFile File, bool IsError), int> counts = [];

    /// <summary>
    /// The most problems that are kept for one file, errors and others each: however many warnings come first, an error
    /// keeps the HEX from being written.
    /// </summary>
    public const int MostPerFile = 20_000;

    public void Report(
        ProblemKind kind,
        SourcePlace place,
        Expansion? via,
        ReadOnlySpan<string> arguments,
        params ReadOnlySpan<RelatedPlace> related
    )
    {
        // In an expansion the place alone says whether it is known: a loop may come by a million times.
        ImmutableArray<string> kept = via is null ? [.. arguments] : [];
        string message = via is null ? kind.Format([.. kept]) : "";
        var key = (kind.Code, place.File, place.Line, place.Columns.Start, message);
        if (known.TryGetValue(key, out int at))
        {
            Problem earlier = problems[at];
            if (via is not null && earlier.Related.Length < MostRelated)
                problems[at] = earlier with { Related = earlier.Related.AddRange(Calls(via)) };
            return;
        }

        if (via is not null)
        {
            kept = [.. arguments];
            message = kind.Format([.. kept]);
        }

        (SourceFile File, bool IsError) counted = (place.File, kind.Severity == Severity.Error);
        int count = counts.GetValueOrDefault(counted);
        if (count >= MostPerFile)
            return;
        counts[counted] = count + 1;
        HasErrors |= kind.Severity == Severity.Error;
        known.Add(key, problems.Count);
        problems.Add(new Problem(kind, place, message, kept, [.. related, .. Calls(via)]));
    }

    public bool HasErrors { get; private set; }

    /// <summary>The problems in order of files and lines.</summary>
    public ImmutableArray<Problem> ToSorted(IReadOnlyList<SourceFile> files)
    {
        var order = new Dictionary<SourceFile, int>();
        foreach (SourceFile file in files)
            order.TryAdd(file, order.Count);
        return
        [
            .. problems
                .OrderBy(p => order.GetValueOrDefault(p.Place.File, int.MaxValue))
                .ThenBy(p => p.Place.Line)
                .ThenBy(p => p.Place.Columns.Start)
                .ThenBy(p => p.Severity),
        ];
    }

    private static IEnumerable<RelatedPlace> Calls(Expansion? via)
    {
        int count = 0;
        for (; via is not null && count < MostRelated; via = via.Parent, count++)
            yield return new RelatedPlace(
                via.Call,
                OperationWords.KeywordOf(via.Name) == Keyword.While
                    ? "repeated by this loop"
                    : $"called here ({via.Name})"
            );
    }
}
