using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>
/// A pin is tested by BTFSC or BTFSS that an analog part owns after reset, and no word of the program can write the register
/// that frees it. Data sheets: an analog pin reads as 0.
/// </summary>
internal sealed class PinsNotDigitalCheck : FlowCheck
{
    private const int Indirect = 0;

    public override void Run(FlowGraph graph, FlowReport report)
    {
        if (graph.Walk.Device is not { } device || graph.Calls.Main is null)
            return;
        foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
        {
            if (!KeepsItsPins(graph, owner, out string registers))
                continue;
            for (int at = 0; at < graph.End; at++)
            {
                if (
                    graph.ReachOf(at) != Reach.Certain
                    || graph.InstructionAt(at) is not { Instruction.Name: "btfsc" or "btfss" } decoded
                )
                    continue;
                if (TestedPin(graph, device, at, decoded) is not { } pin || !owner.Pins.Contains(pin))
                    continue;
                string code = string.Join(" / ", owner.Code.Select(line => line.Split(';')[0].Trim()));
                report.Add(Catalogue.PinNotDigital, graph, at, pin, owner.What, registers, code);
                break;
            }
        }
    }

    /// <summary>Whether an analog part owns its pins as after reset because no word of the program can write the registers that free them.</summary>
    internal static bool KeepsItsPins(FlowGraph graph, NotDigitalAtReset owner, out string registers)
    {
        registers = "";
        if (!IsAnalog(owner) || graph.Walk.Device is not { } device)
            return false;
        List<Register> found = RegistersOf(device, owner);
        registers = string.Join(" or ", found.Select(static r => r.Name));
        return found.Count > 0 && !MayWrite(graph, found);
    }

    private static bool IsAnalog(NotDigitalAtReset owner) =>
        owner.What.Contains("analog", StringComparison.OrdinalIgnoreCase)
        || owner.What.Contains("comparator", StringComparison.OrdinalIgnoreCase);

    // The registers that the freeing lines of the data write.
    private static List<Register> RegistersOf(Device device, NotDigitalAtReset owner)
    {
        var found = new List<Register>();
        foreach (string line in owner.Code)
        {
            string[] words = line.Split([' ', '\t', ',', ';'], StringSplitOptions.RemoveEmptyEntries);
            if (words.Length > 1 && words[0] is "movwf" or "clrf" && device.FindRegister(words[1]) is { } register)
                found.Add(register);
        }

        return found;
    }

    // Any word that could write one of the registers counts, in whatever bank, and so does writing through FSR once its address is loaded.
    private static bool MayWrite(FlowGraph graph, List<Register> registers)
    {
        // Looked up at each word of the program: the addresses as a literal gives them, and as an operand does.
        var literals = new bool[0x100];
        var operands = new bool[0x80];
        foreach (Register register in registers)
        foreach (int address in register.Addresses)
            (literals[address & 0xFF], operands[address & 0x7F]) = (true, true);

        bool writesIndirectly = false,
            loadsAddress = false;
        for (int at = 0; at < graph.End; at++)
        {
            if (graph.InstructionAt(at) is not { } decoded)
                continue;
            if (
                decoded.First < literals.Length
                && literals[decoded.First]
                && decoded.Instruction.Name is "movlw" or "addlw" or "retlw"
            )
                loadsAddress = true;
            if (decoded.First >= operands.Length || (decoded.First != Indirect && !operands[decoded.First]))
                continue;
            if (!NamedRegister.Takes(decoded) || !Writes(decoded))
                continue;
            if (decoded.First == Indirect)
                writesIndirectly = true;
            foreach (Register register in registers)
                if (IsAt(register, decoded.First) && !NamesAnother(graph, at, decoded, register))
                    return true;
        }

        return writesIndirectly && loadsAddress;
    }

    private static bool IsAt(Register register, int operand)
    {
        foreach (int address in register.Addresses)
            if ((address & 0x7F) == operand)
                return true;
        return false;
    }

    private static bool Writes(in DecodedInstruction decoded) =>
        decoded.Instruction.Operands switch
        {
            OperandKind.Register => true,
            OperandKind.RegisterDestination => decoded.Second == 1,
            _ => !decoded.Instruction.MaySkip,
        };

    // 'movwf ADCON0' shares its seven bits with ADCON1: what the line names, and the bank that is certainly selected, say them apart.
    private static bool NamesAnother(FlowGraph graph, int at, in DecodedInstruction decoded, Register register)
    {
        DataMemory memory = graph.Walk.Device!.DataMemory;
        if (graph.StateAt(at) is { IsReached: true } state)
        {
            bool may = false;
            for (int bank = 0; bank < memory.BankCount; bank++)
                may |=
                    state.MayBeBank(bank, memory.BankCount)
                    && memory.Canonical((bank << 7) | decoded.First) == register.Address;
            if (!may)
                return true;
            if (state.Bank(memory.BankCount) is not null)
                return false;
        }

        return NamedRegister.Of(graph, at, decoded) is { } named
            && (named.IsChipName || named.IsOwnEquate)
            && memory.Canonical(named.Address) != register.Address;
    }

    /// <summary>The port pin that a bit instruction names, such as RA4, or null.</summary>
    internal static string? TestedPin(FlowGraph graph, Device device, int at, in DecodedInstruction decoded)
    {
        if (
            NamedRegister.Of(graph, at, decoded) is not { } named
            || device.DataMemory.RegisterAt(named.Address) is not { } port
        )
            return null;
        // The bank that is selected decides, not the name.
        FlowState state = graph.StateAt(at);
        int banks = device.DataMemory.BankCount;
        for (int bank = 0; bank < banks; bank++)
            if (
                state.MayBeBank(bank, banks)
                && device.DataMemory.Canonical((bank << 7) | decoded.First) != port.Address
            )
                return null;
        string? letter =
            port.Name == "GPIO" ? "GP"
            : port.Name.StartsWith("PORT", StringComparison.Ordinal) ? "R" + port.Name[4..]
            : null;
        return letter is null || !state.IsReached
            ? null
            : letter + decoded.Second.ToString(System.Globalization.CultureInfo.InvariantCulture);
    }
}
