using System.Globalization;
using AsmLsp.Core.Flow;

namespace AsmLsp.Ide.Structure;

/// <summary>Which lenses are shown.</summary>
/// <param name="Callers">Which routines call it.</param>
/// <param name="Size">How many words it takes, and its cycles.</param>
public readonly record struct LensOptions(bool Callers, bool Size);

/// <summary>A line of text above a routine.</summary>
/// <param name="Routine">The routine.</param>
/// <param name="Title">The text.</param>
public sealed record RoutineLens(RoutineLines Routine, string Title);

/// <summary>Above each routine who calls it, how many words it takes, and its cycles where they are known.</summary>
public static class RoutineLenses
{
    private const int MostNames = 3;

    /// <summary>The lenses of a file, in the order of its lines.</summary>
    /// <exception cref="OperationCanceledException">Nobody wants the answer any more.</exception>
    public static IEnumerable<RoutineLens> Of(ProgramFile file, LensOptions options, CancellationToken cancellation)
    {
        var routines = Routines.Of(file.Program);
        foreach (RoutineLines routine in routines.All.Where(routine => routine.File == file.Source))
        {
            cancellation.ThrowIfCancellationRequested();
            if (options.Callers && Callers(routines, routine) is { } callers)
            {
                yield return new(routine, callers);
            }

            if (options.Size && Size(file, routine) is { } size)
            {
                yield return new(routine, size);
            }
        }
    }

    /// <summary>The routines that call it, else those that jump to it, in the order of their lines: "called by main, tick and 2 more".</summary>
    private static string? Callers(Routines routines, RoutineLines routine)
    {
        RoutineUse[] all = [.. routines.Into(routine)],
            calls = [.. all.Where(static use => use.IsCall)];
        string[] names =
        [
            .. (calls.Length > 0 ? calls : all)
                .Select(use => routines.At(use.File, use.Line)?.Name ?? $"line {use.Line + 1}")
                .Distinct(),
        ];
        if (names.Length == 0)
            return null;
        int more = names.Length - MostNames;
        string several = more > 0 ? string.Create(CultureInfo.InvariantCulture, $" and {more} more") : "";
        return $"{(calls.Length > 0 ? "called by" : "reached from")} {string.Join(", ", names.Take(MostNames))}{several}";
    }

    /// <summary>Words and cycles, as following the flow of the program shows; without that (a faulty program) the words of its lines.</summary>
    private static string? Size(ProgramFile file, RoutineLines routine)
    {
        if (FlowOf(file)?.Routine(AddressOf(file, routine)) is { } facts)
        {
            string cycles = facts.Cycles is { } range
                ? ", " + range.Describe(ClockFinder.Find(file.Analysis, file.Analysis.Options.ClockHertz))
                : "";
            return Words(facts.Words) + cycles;
        }

        int words = 0;
        for (int line = routine.Entry.FirstLine; line <= routine.Entry.LastLine; line++)
        {
            words += file.Analysis.FactsOf(file.Source, line).Words;
        }

        return words > 0 ? Words(words) : null;
    }

    private static FlowGraph? FlowOf(ProgramFile file) => file.Analysis.HasErrors ? null : FlowGraph.Of(file.Analysis);

    private static int AddressOf(ProgramFile file, RoutineLines routine) =>
        file.Analysis.FindSymbol(routine.Name) is { IsKnown: true } symbol ? symbol.Value : -1;

    private static string Words(int words) =>
        string.Create(CultureInfo.InvariantCulture, $"{words} word{(words == 1 ? "" : "s")}");
}
