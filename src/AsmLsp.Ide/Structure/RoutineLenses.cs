using System.Globalization;
using AsmLsp.Core.Flow;

namespace AsmLsp.Ide.Structure;

/// <summary>Which lenses are shown.</summary>
/// <param name="Callers">In how many places a routine is used.</param>
/// <param name="Size">How many words it takes, and its cycles.</param>
public readonly record struct LensOptions(bool Callers, bool Size);

/// <summary>A line of text above a routine.</summary>
/// <param name="Routine">The routine.</param>
/// <param name="Title">The text.</param>
public sealed record RoutineLens(RoutineLines Routine, string Title);

/// <summary>Above each routine in how many places it is used, how many words it takes, and its cycles where they are known.</summary>
public static class RoutineLenses
{
    /// <summary>The lenses of a file, in the order of its lines.</summary>
    /// <exception cref="OperationCanceledException">Nobody wants the answer any more.</exception>
    public static IEnumerable<RoutineLens> Of(ProgramFile file, LensOptions options, CancellationToken cancellation)
    {
        var routines = Routines.Of(file.Program);
        foreach (RoutineLines routine in routines.All.Where(routine => routine.File == file.Source))
        {
            cancellation.ThrowIfCancellationRequested();
            if (options.Callers && routines.Into(routine).Count() is > 0 and var uses)
            {
                yield return new(
                    routine,
                    string.Create(CultureInfo.InvariantCulture, $"used in {uses} place{(uses == 1 ? "" : "s")}")
                );
            }

            if (options.Size && Size(file, routine) is { } size)
            {
                yield return new(routine, size);
            }
        }
    }

    /// <summary>Words and cycles, as following the flow of the program shows; without that (a faulty program) the words of its lines.</summary>
    private static string? Size(ProgramFile file, RoutineLines routine)
    {
        if (FlowOf(file)?.Routine(AddressOf(file, routine)) is { } facts)
        {
            string cycles = facts.Cycles switch
            {
                null => "",
                { IsExact: true } exact => string.Create(CultureInfo.InvariantCulture, $", {exact.Least} cycles"),
                { } range => string.Create(CultureInfo.InvariantCulture, $", {range.Least} to {range.Most} cycles"),
            };
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
