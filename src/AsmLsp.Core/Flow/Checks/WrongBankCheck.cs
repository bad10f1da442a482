using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>
/// A register is reached while another bank is selected on every way. A number below 0x80 is no proof (authors write the
/// low bits alone), nor is an author's own 'portb' for the direction register, a variable that no other
/// line surely uses in its own bank: such a program works all the same.
/// </summary>
internal sealed class WrongBankCheck : FlowCheck
{
    public override void Run(FlowGraph graph, FlowReport report)
    {
        if (graph.Walk.Device is not { } device)
            return;
        DataMemory memory = device.DataMemory;
        var variables = new List<(int At, NamedRegister Named)>();
        var usedAsNamed = new HashSet<int>();
        var wrong = new List<(int At, NamedRegister Named)>();
        // A macro's line is put in several times: 'always' is said of the line only where it holds for each of them.
        var right = new HashSet<(SourceFile, int)>();
        for (int at = 0; at < graph.End; at++)
        {
            if (
                graph.ReachOf(at) != Reach.Certain
                || graph.InstructionAt(at) is not { } decoded
                || !NamedRegister.Takes(decoded)
            )
                continue;
            if (memory.IsSameInEveryBank(decoded.First))
                continue;
            FlowState state = graph.StateAt(at);
            if (!state.IsReached || NamedRegister.Of(graph, at, decoded) is not { } named)
                continue;
            int intended = memory.Canonical(named.Address);
            if (IsWrong(memory, state, decoded.First, intended) is not { } isWrong)
                continue;
            if (!isWrong)
            {
                usedAsNamed.Add(intended);
                right.Add((graph.OriginOf(at).File, graph.OriginOf(at).Line));
            }
            else if (memory.RegisterAt(named.Address) is null)
                variables.Add((at, named));
            else if (
                named.Address >= 0x80
                || named.IsChipName
                || (named.IsOwnEquate && IsReachedByName(graph, memory, state, decoded.First))
            )
                wrong.Add((at, named));
        }

        foreach ((int at, NamedRegister named) in variables)
            if (memory.IsGeneralPurpose(named.Address) && usedAsNamed.Contains(memory.Canonical(named.Address)))
                wrong.Add((at, named));
        foreach ((int at, NamedRegister named) in wrong)
        {
            WordOrigin origin = graph.OriginOf(at);
            bool atCall = origin.Via is not null && right.Contains((origin.File, origin.Line));
            Report(graph, report, device, at, named, atCall);
        }
    }

    // Authors who equate their registers by hand often write 'portb' for the direction register, once its bank is selected.
    // Only where the program has a name for the register that is reached was the port meant.
    private static bool IsReachedByName(FlowGraph graph, DataMemory memory, in FlowState state, int low)
    {
        foreach (Symbol symbol in graph.Program.Symbols)
        {
            if (
                symbol is not { Kind: SymbolKind.Constant, IsKnown: true }
                || symbol.Value < 0x80
                || (symbol.Value & 0x7F) != low
            )
                continue;
            if (state.MayBeBank(DataMemory.BankOf(symbol.Value), memory.BankCount))
                return true;
        }

        return false;
    }

    // Whether the byte reached is another one in every bank that may be selected; null where that depends.
    private static bool? IsWrong(DataMemory memory, in FlowState state, int low, int intended)
    {
        bool mayBeRight = false,
            mayBeWrong = false;
        for (int bank = 0; bank < memory.BankCount; bank++)
        {
            if (!state.MayBeBank(bank, memory.BankCount))
                continue;
            if (memory.Canonical((bank << 7) | low) == intended)
                mayBeRight = true;
            else
                mayBeWrong = true;
        }

        return mayBeRight && mayBeWrong ? null : mayBeWrong;
    }

    private static void Report(
        FlowGraph graph,
        FlowReport report,
        Device device,
        int at,
        in NamedRegister named,
        bool atCall
    )
    {
        FlowState state = graph.StateAt(at);
        DataMemory memory = device.DataMemory;
        int low = named.Address & 0x7F;
        var banks = new List<string>();
        var reached = new List<string>();
        for (int bank = 0; bank < memory.BankCount; bank++)
        {
            if (!state.MayBeBank(bank, memory.BankCount))
                continue;
            banks.Add(bank.ToString(CultureInfo.InvariantCulture));
            string what = Describe(memory, (bank << 7) | low);
            if (!reached.Contains(what))
                reached.Add(what);
        }

        string name = named.Name ?? memory.RegisterAt(named.Address)?.Name ?? Show.Hex(named.Address, 2);
        string selected = (banks.Count == 1 ? "bank " : "one of the banks ") + string.Join(" and ", banks);
        WordOrigin origin = graph.OriginOf(at);
        SourcePlace place = atCall ? origin.Via!.Outermost : graph.PlaceOf(at);
        string bankOfName = DataMemory.BankOf(named.Address).ToString(CultureInfo.InvariantCulture);
        string where =
            string.Join(" or ", reached)
            + (atCall ? $" in line {origin.Line + 1} of the macro {origin.Via!.Name}" : "");
        string advice = $"Select bank {bankOfName} before this line, for instance by 'banksel {name}'.";
        bool isNote = false;
        if (BankIdiom.TwinReached(graph, at, named, reached) is { } twin)
        {
            advice = $"Write {twin} if that is meant; if {name} is meant, select bank {bankOfName}.";
            isNote = BankIdiom.IsOnPurpose(graph, at, named, twin);
        }
        else if (BankIdiom.KeepsResetValue(graph, at, named))
        {
            advice = $"{name} has this value after reset anyway, so nothing is lost.";
            isNote = true;
        }

        Expansion? via = atCall ? null : origin.Via;
        if (isNote)
            report.AddNote(Catalogue.WrongBank, place, via, name, bankOfName, selected, where, advice);
        else
            report.Add(Catalogue.WrongBank, place, via, name, bankOfName, selected, where, advice);
    }

    private static string Describe(DataMemory memory, int address)
    {
        if (memory.RegisterAt(address) is { } register)
            return register.Name;
        return memory.IsImplemented(address)
            ? $"the register at {Show.Hex(address, 3)}"
            : "an address with nothing there";
    }
}
