using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Flow.Pins;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain.Outlines;

/// <summary>Puts the outline of a program together.</summary>
internal sealed class OutlineBuilder
{
    private const int EepromEnd = 0x2200;

    private readonly ProgramAnalysis program;
    private readonly FlowGraph graph;
    private readonly MainLoop? loop;
    private readonly Dictionary<int, List<string>> owners = [];
    private readonly Dictionary<int, string> labels = [];

    private OutlineBuilder(ProgramAnalysis program)
    {
        this.program = program;
        graph = FlowGraph.Of(program);
        loop = MainLoop.Of(graph);
        foreach (Symbol symbol in program.Symbols)
            if (
                symbol is { Kind: SymbolKind.Label, IsKnown: true }
                && !symbol.Name.Contains('·', StringComparison.Ordinal)
                && (
                    !labels.TryGetValue(symbol.Value, out string? other)
                    || program.FindSymbol(other) is { } first
                        && symbol.Definition.File == first.Definition.File
                        && symbol.Definition.Line < first.Definition.Line
                )
            )
                labels[symbol.Value] = symbol.Name;
        foreach (RoutineBody routine in graph.Calls.Routines.Values)
            Own(routine.Words, NameOf(routine.Address));
        if (graph.Calls.Interrupt is { } interrupt)
            Own(interrupt.Words, "the interrupt");
        if (graph.Calls.Main is { } main)
        {
            Own(main.Words.Where(at => loop?.Words.Contains(at) == true), "the main loop");
            Own(main.Words.Where(at => loop?.Words.Contains(at) != true), loop is null ? "the program" : "start-up");
        }
    }

    public static ProgramOutline Build(ProgramAnalysis program, ExplainOptions options)
    {
        Device? device = program.Device;
        var outline = new ProgramOutline
        {
            Program = program,
            Title = PurposeComments.Title(program),
            Clock = ClockFinder.Find(program, options.ClockHertz),
            UsedWords = program.Image.ProgramWords,
            Configuration =
                device is not null && device.ConfigurationWords.Any(w => program.Image.TryGet(w.Address, out _, out _))
                    ? ConfigurationReading.Read(device, program.Image.Memory)
                    : null,
            Pins = PinReport.Of(program),
        };
        return program.HasErrors ? outline : new OutlineBuilder(program).Fill(outline);
    }

    private ProgramOutline Fill(ProgramOutline outline)
    {
        int reset = program.Device?.ResetVector ?? 0;
        RoutineBody? main = graph.Calls.Main,
            interrupt = graph.Calls.Interrupt;
        int[] start = main is null ? [] : [.. main.Words.Where(at => loop?.Words.Contains(at) != true)];
        return outline with
        {
            Start =
                start.Length > 0 && loop is not { Entries.Count: 0 }
                    ? Part(reset, start, loop is null ? null : graph.Times.Until(reset, loop.Head))
                    : null,
            Loop = loop is null ? null : Part(loop.Head, loop.Words, graph.Times.Lap(loop.Head)),
            Interrupt = interrupt is null
                ? null
                : Part(interrupt.Address, interrupt.Words, graph.Times.Routine(interrupt)),
            Lost = [.. Lost()],
            Routines = [.. graph.Calls.Routines.Values.Select(Routine)],
            Variables = [.. Variables()],
            Tables = [.. Tables()],
            Eeprom = [.. Eeprom()],
            Unknowns = [.. Unknowns()],
            Depth = Depth(),
        };
    }

    private OutlinePart Part(int address, IEnumerable<int> words, CycleRange? cycles)
    {
        int[] all = [.. words.Distinct()];
        LinePlace line = LineOf(address);
        return new OutlinePart(address, line, all.Length, cycles, [.. CallsOf(all)], Purpose(address, line));
    }

    private OutlineRoutine Routine(RoutineBody routine)
    {
        LinePlace line = LineOf(routine.Address);
        return new OutlineRoutine(
            NameOf(routine.Address),
            routine.Address,
            line,
            routine.Words.Distinct().Count(),
            graph.Times.Routine(routine),
            [.. routine.CallSites.Order().SelectMany(OwnersOf).Distinct()],
            [.. CallsOf(routine.Words)],
            Purpose(routine.Address, line),
            routine.MayReturn
        );
    }

    // The label may be some lines above its first word.
    private string? Purpose(int address, LinePlace line)
    {
        if (
            labels.TryGetValue(address, out string? label)
            && program.FindSymbol(label) is { } symbol
            && PurposeComments.Of(program, symbol.Definition.File, symbol.Definition.Line) is { } purpose
        )
            return purpose;
        return PurposeComments.Of(program, line.File, line.Line);
    }

    private IEnumerable<string> CallsOf(IEnumerable<int> words) =>
        words
            .Where(at => graph.Walk.StepAt(at).Operation == Operation.Call && graph.Walk.Has(graph.Walk.TargetOf(at)))
            .Order()
            .Select(at => NameOf(graph.Walk.TargetOf(at)))
            .Distinct();

    private IEnumerable<string> Lost()
    {
        if (graph.Calls.Context is not { } context)
            yield break;
        if (context.LosesW)
            yield return "W";
        if ((context.Lost.Status & FlowState.BankBits) != 0)
            yield return "the bank (STATUS)";
        if (context.Lost.Latch != 0)
            yield return "PCLATH";
        if (context.Lost.Pointer)
            yield return "FSR";
    }

    private IEnumerable<OutlineVariable> Variables()
    {
        if (program.Device is not { } device)
            yield break;
        DataMemory memory = device.DataMemory;
        var uses = new SortedDictionary<int, (SortedSet<int> Writes, SortedSet<int> Reads)>();
        var named = new HashSet<string>(StringComparer.Ordinal);
        for (int at = 0; at < graph.End; at++)
        {
            if (
                graph.ReachOf(at) == Reach.None
                || graph.InstructionAt(at) is not { } decoded
                || !NamedRegister.Takes(decoded)
            )
                continue;
            if (NamedRegister.Of(graph, at, decoded) is not { } register || !memory.IsGeneralPurpose(register.Address))
                continue;
            if (register.Name is { } name)
                named.Add(name);
            int address = memory.Canonical(register.Address);
            if (!uses.TryGetValue(address, out (SortedSet<int> Writes, SortedSet<int> Reads) use))
                uses.Add(address, use = ([], []));
            DecodedStep step = graph.Walk.StepAt(at);
            if (step.WrittenBits != 0)
                use.Writes.Add(at);
            if (step.Operation is not (Operation.Movwf or Operation.Clrf))
                use.Reads.Add(at);
        }

        foreach ((int address, (SortedSet<int> writes, SortedSet<int> reads)) in uses)
        {
            Symbol[] names =
            [
                .. program
                    .Symbols.Where(s =>
                        s
                            is {
                                IsKnown: true,
                                Kind: SymbolKind.Constant or SymbolKind.BlockMember or SymbolKind.Variable
                            }
                        && named.Contains(s.Name)
                        && memory.Canonical(s.Value) == address
                    )
                    .OrderBy(s => s.Definition.Line),
            ];
            if (names.Length == 0)
                continue;
            SourcePlace place = names[0].Definition;
            yield return new OutlineVariable(
                names[0].Name,
                [.. names.Skip(1).Select(static s => s.Name)],
                address,
                new LinePlace(place.File, place.Line),
                PurposeComments.OfLine(program, place.File, place.Line),
                [.. writes.SelectMany(OwnersOf).Distinct()],
                [.. reads.SelectMany(OwnersOf).Distinct()]
            );
        }
    }

    private IEnumerable<OutlineTable> Tables()
    {
        foreach ((int at, FlowWalk.Table table) in graph.Walk.Tables.OrderBy(static t => t.Value.First))
        {
            int entries = table.CertainEnd - table.First;
            if (entries < 2 || graph.ReachOf(at) == Reach.None)
                continue;
            var values = ImmutableArray.CreateBuilder<int>();
            var targets = ImmutableArray.CreateBuilder<string>();
            for (int entry = table.First; entry < table.CertainEnd; entry++)
            {
                DecodedStep step = graph.Walk.StepAt(entry);
                if (step.Operation == Operation.Retlw)
                    values.Add(step.First);
                else if (step.Operation == Operation.Goto)
                    targets.Add(NameOf(graph.Walk.TargetOf(entry)));
            }

            string name = labels.TryGetValue(table.First, out string? label)
                ? label
                : OwnersOf(at).FirstOrDefault() ?? Show.Hex(table.First);
            yield return new OutlineTable(
                name,
                LineOf(table.First),
                entries,
                values.ToImmutable(),
                targets.ToImmutable()
            );
        }
    }

    private IEnumerable<OutlineBytes> Eeprom()
    {
        var bytes = ImmutableArray.CreateBuilder<int>();
        int first = -1;
        for (int address = Device.EepromAddress; address <= EepromEnd; address++)
        {
            if (address < EepromEnd && program.Image.TryGet(address, out ushort word, out _))
            {
                if (bytes.Count == 0)
                    first = address;
                bytes.Add(word & 0xFF);
                continue;
            }

            if (bytes.Count == 0)
                continue;
            yield return new OutlineBytes(first - Device.EepromAddress, bytes.ToImmutable(), LineOf(first));
            bytes.Clear();
        }
    }

    private IEnumerable<string> Unknowns()
    {
        foreach (FlowUnknown unknown in graph.Unknowns)
        {
            string where = unknown.Address >= 0 ? $"line {LineOf(unknown.Address).Line + 1}" : "";
            yield return unknown.Kind switch
            {
                UnknownKind.ComputedJump =>
                    $"Where the computed jump in {where} goes: every label may be reached from there, with any bank selected.",
                UnknownKind.Target =>
                    $"Where the call or jump in {where} goes: no word of this program is there, or words of several pages are.",
                UnknownKind.NotAnInstruction => $"What happens at {where}: the word there is no instruction.",
                _ => "All routines: so many run into each other that not all were followed.",
            };
        }
    }

    private int? Depth()
    {
        int most = 0;
        foreach (RoutineBody? root in (ReadOnlySpan<RoutineBody?>)[graph.Calls.Main, graph.Calls.Interrupt])
        {
            if (root is null)
                continue;
            if (CallDepth.Of(graph, root) is not { } depth)
                return null;
            most += depth + (root == graph.Calls.Interrupt ? 1 : 0);
        }

        return most;
    }

    private void Own(IEnumerable<int> words, string name)
    {
        foreach (int at in words)
        {
            if (!owners.TryGetValue(at, out List<string>? here))
                owners.Add(at, here = []);
            if (!here.Contains(name))
                here.Add(name);
        }
    }

    private IEnumerable<string> OwnersOf(int at) => owners.TryGetValue(at, out List<string>? here) ? here : [];

    private string NameOf(int address) => labels.TryGetValue(address, out string? label) ? label : Show.Hex(address);

    private LinePlace LineOf(int address)
    {
        if (!program.Image.TryGet(address, out _, out WordOrigin origin))
            return new LinePlace(program.Root, 0);
        (SourceFile file, int line) = origin.Outermost;
        return new LinePlace(file, line);
    }
}
