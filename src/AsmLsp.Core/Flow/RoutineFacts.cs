using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow;

/// <summary>Instruction cycles from the fewest to the most.</summary>
/// <param name="Least">The shortest path.</param>
/// <param name="Most">The longest path; null where no limit is known, most often because a loop waits for something from outside.</param>
public readonly record struct CycleRange(long Least, long? Most)
{
    /// <summary>Whether every path takes the same.</summary>
    public bool IsExact => Least == Most;

    /// <summary>So many cycles more.</summary>
    public CycleRange Plus(long cycles) => new(Least + cycles, Most + cycles);

    /// <summary>For people, with the time where the clock is known: <c>773 cycles (773 µs at 4 MHz)</c>.</summary>
    public string Describe(Clock? clock)
    {
        string count =
            IsExact ? Number(Least)
            : Most is { } most ? $"{Number(Least)} to {Number(most)}"
            : $"at least {Number(Least)}";
        string unit = IsExact && Least == 1 ? "cycle" : "cycles";
        string limit = Most is null ? ", no upper limit known" : "";
        if (clock is null)
            return $"{count} {unit}{limit}";
        string shortest = clock.Time(Least),
            longest = Most is { } last ? clock.Time(last) : "";
        string time =
            Most is null ? $"at least {shortest}"
            : shortest == longest ? shortest
            : $"{shortest} to {longest}";
        return $"{count} {unit} ({time} at {clock.Rate}){limit}";
    }

    private static string Number(long value) => value.ToString("N0", CultureInfo.InvariantCulture);
}

/// <summary>What is known of a routine: something that is called, the program from the reset on, or an interrupt's code.</summary>
/// <param name="Address">Address of its first word.</param>
/// <param name="Label">The label there, or null.</param>
/// <param name="Last">Address of the last word that follows on the first without a gap.</param>
/// <param name="Words">All words that are carried out in it, those after a gap included, without the routines that it calls.</param>
/// <param name="CallSites">Addresses of the calls that lead to it, in order.</param>
/// <param name="Calls">Addresses of the routines that it calls, in order, each once.</param>
/// <param name="Depth">How many return addresses the calls inside it put on the stack at the most, or null where it calls itself.</param>
/// <param name="Cycles">
/// Instruction cycles from its first instruction to its return, that one included (the call takes 2 more); null where
/// they cannot be counted, or it does not return. Interrupts are not counted.
/// </param>
public sealed record RoutineFacts(
    int Address,
    string? Label,
    int Last,
    int Words,
    ImmutableArray<int> CallSites,
    ImmutableArray<int> Calls,
    int? Depth,
    CycleRange? Cycles
)
{
    internal static RoutineFacts? Of(FlowGraph graph, int address)
    {
        CallGraph calls = graph.Calls;
        RoutineBody? body = calls.Routines.GetValueOrDefault(address);
        if (body is null && calls.Main?.Address == address)
            body = calls.Main;
        if (body is null && calls.Interrupt?.Address == address)
            body = calls.Interrupt;
        if (body is null)
            return null;

        var words = new HashSet<int>(body.Words);
        int last = address;
        while (words.Contains(last + 1))
            last++;
        return new RoutineFacts(
            address,
            LabelAt(graph.Program, address),
            last,
            words.Count,
            [.. body.CallSites.Order()],
            [.. body.Calls.Select(c => c.Target).Distinct().Order()],
            CallDepth.Of(graph, body),
            body == calls.Main ? null : graph.Times.Routine(body)
        );
    }

    internal static string? LabelAt(ProgramAnalysis program, int address)
    {
        Symbol? found = null;
        foreach (Symbol symbol in program.Symbols)
        {
            if (
                symbol is not { Kind: SymbolKind.Label, IsKnown: true }
                || symbol.Value != address
                || symbol.Name.Contains('·', StringComparison.Ordinal)
            )
                continue;
            if (found is null || IsBefore(symbol.Definition, found.Definition))
                found = symbol;
        }

        return found?.Name;
    }

    private static bool IsBefore(SourcePlace a, SourcePlace b) => a.File == b.File && a.Line < b.Line;
}
