using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>Collects the problems of the checks; one of a kind at each line, with the macro calls that lead there.</summary>
internal sealed class FlowReport
{
    private const int MostCallsShown = 5;

    private readonly Dictionary<
        (ProblemKind, SourceFile, int Line, int Column),
        (Problem Problem, List<RelatedPlace> Related)
    > found = [];

    public void Add(ProblemKind kind, FlowGraph graph, int address, params ReadOnlySpan<string> arguments) =>
        Add(kind, graph.PlaceOf(address), graph.OriginOf(address).Via, arguments);

    /// <summary>The same as a note, where the harm is less than that of its kind.</summary>
    public void AddNote(ProblemKind kind, FlowGraph graph, int address, params ReadOnlySpan<string> arguments) =>
        AddNote(kind, graph.PlaceOf(address), graph.OriginOf(address).Via, arguments);

    /// <summary>The same as a note, where the harm is less than that of its kind.</summary>
    public void AddNote(ProblemKind kind, SourcePlace place, Expansion? via, params ReadOnlySpan<string> arguments)
    {
        var key = (kind, place.File, place.Line, place.Columns.Start);
        bool isNew = !found.ContainsKey(key);
        Add(kind, place, via, arguments);
        if (isNew)
            found[key] = (found[key].Problem with { Severity = Severity.Information }, found[key].Related);
    }

    public void Add(ProblemKind kind, SourcePlace place, Expansion? via, params ReadOnlySpan<string> arguments)
    {
        var key = (kind, place.File, place.Line, place.Columns.Start);
        if (!found.TryGetValue(key, out (Problem Problem, List<RelatedPlace> Related) entry))
        {
            object?[] values = [.. arguments];
            entry = (new Problem(kind, place, kind.Format(values), [.. arguments], []), []);
            found.Add(key, entry);
        }

        if (via is null || entry.Related.Count >= MostCallsShown)
            return;
        SourcePlace call = via.Outermost;
        if (!entry.Related.Exists(r => r.Place.File == call.File && r.Place.Line == call.Line))
            entry.Related.Add(new RelatedPlace(call, $"{via.Name} is put in here"));
    }

    public ImmutableArray<Problem> Sorted(ProgramAnalysis program)
    {
        if (found.Count == 0)
            return [];
        ImmutableArray<SourceFile> files = program.Files;
        return
        [
            .. found
                .Values.Select(e => e.Problem with { Related = [.. e.Related] })
                .OrderBy(p => files.IndexOf(p.Place.File))
                .ThenBy(p => p.Place.Line)
                .ThenBy(p => p.Place.Columns.Start),
        ];
    }
}
