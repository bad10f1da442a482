using System.Collections.Immutable;
using System.Runtime.InteropServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>Collects the problems of the checks; one of a kind at each line, with the macro calls that lead there.</summary>
internal sealed class FlowReport
{
    private const int MostCallsShown = 5;

    private readonly Dictionary<(ProblemKind, SourceFile, int Line, int Column), FlowEntry> found = [];

    // Many lines in a row may have one thing to say: it is put into words once.
    private FlowEntry? last;

    public void Add(ProblemKind kind, FlowGraph graph, int address, params ReadOnlySpan<string> arguments) =>
        Add(kind, graph.PlaceOf(address), graph.OriginOf(address).Via, arguments);

    /// <summary>The same as a note, where the harm is less than that of its kind.</summary>
    public void AddNote(ProblemKind kind, FlowGraph graph, int address, params ReadOnlySpan<string> arguments) =>
        AddNote(kind, graph.PlaceOf(address), graph.OriginOf(address).Via, arguments);

    /// <summary>The same as a note, where the harm is less than that of its kind.</summary>
    public void AddNote(ProblemKind kind, SourcePlace place, Expansion? via, params ReadOnlySpan<string> arguments)
    {
        (FlowEntry entry, bool isNew) = EntryOf(kind, place, arguments);
        if (isNew)
            entry.Problem = entry.Problem with { Severity = Severity.Information };
        entry.AddCall(via);
    }

    public void Add(ProblemKind kind, SourcePlace place, Expansion? via, params ReadOnlySpan<string> arguments) =>
        EntryOf(kind, place, arguments).FlowEntry.AddCall(via);

    public ImmutableArray<Problem> Sorted(ProgramAnalysis program)
    {
        if (found.Count == 0)
            return [];
        ImmutableArray<SourceFile> files = program.Files;
        IEnumerable<Problem> problems = found.Values.Select(static e => e.Whole);
        if (files.Length > 1)
            return
            [
                .. problems
                    .OrderBy(p => files.IndexOf(p.Place.File))
                    .ThenBy(static p => p.Place.Line)
                    .ThenBy(static p => p.Place.Columns.Start),
            ];
        return [.. problems.OrderBy(static p => ((long)p.Place.Line << 32) | (uint)p.Place.Columns.Start)];
    }

    private (FlowEntry FlowEntry, bool IsNew) EntryOf(
        ProblemKind kind,
        SourcePlace place,
        params ReadOnlySpan<string> arguments
    )
    {
        ref FlowEntry? entry = ref CollectionsMarshal.GetValueRefOrAddDefault(
            found,
            (kind, place.File, place.Line, place.Columns.Start),
            out bool isKnown
        );
        if (isKnown)
            return (entry!, false);
        if (last is { Problem: { } same } && same.Kind == kind && arguments.SequenceEqual(same.Arguments.AsSpan()))
        {
            entry = new FlowEntry(new Problem(kind, place, same.Message, same.Arguments, []));
        }
        else
        {
            object?[] values = [.. arguments];
            entry = new FlowEntry(new Problem(kind, place, kind.Format(values), [.. arguments], []));
        }

        last = entry;
        return (entry, true);
    }

    private sealed class FlowEntry(Problem problem)
    {
        private List<RelatedPlace>? related;

        public Problem Problem { get; set; } = problem;

        public Problem Whole => related is null ? Problem : Problem with { Related = [.. related] };

        public void AddCall(Expansion? via)
        {
            if (via is null || related?.Count >= MostCallsShown)
                return;
            SourcePlace call = via.Outermost;
            related ??= [];
            if (!related.Exists(r => r.Place.File == call.File && r.Place.Line == call.Line))
                related.Add(new RelatedPlace(call, $"{via.Name} is put in here"));
        }
    }
}
