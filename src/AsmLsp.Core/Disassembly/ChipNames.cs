using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Disassembly;

/// <summary>
/// The names that a disassembled source uses: registers and bits of the chip, labels for targets, variables for general-purpose
/// registers. A name is used only where the assembler gives it the very value that the word holds.
/// </summary>
internal sealed class ChipNames
{
    private readonly Device? device;
    private readonly SelectionTrace trace;
    private readonly SortedDictionary<int, string> variables = [];
    private readonly Dictionary<int, bool> targets = [];

    public ChipNames(WordMemory memory, Device? device, SelectionTrace trace)
    {
        this.device = device;
        this.trace = trace;
        foreach ((int address, ushort word) in memory)
        {
            if (HexAreas.Of(address) != HexArea.Program)
                break;
            if (InstructionSet.Decode(word) is not { IsCanonical: true } || trace.TargetAt(address) is not { } target)
                continue;
            targets[target] =
                targets.GetValueOrDefault(target) || InstructionSet.Decode(word)!.Value.Instruction.IsCall;
        }
    }

    /// <summary>The variables that <see cref="Code"/> has used so far, by address.</summary>
    public IReadOnlyDictionary<int, string> Variables => variables;

    public bool IsRoutine(int address) => targets.GetValueOrDefault(address);

    public string? LabelAt(int address) =>
        targets.TryGetValue(address, out bool isCalled)
            ? string.Create(CultureInfo.InvariantCulture, $"{(isCalled ? "rtn" : "loc")}{address:X4}")
            : null;

    /// <summary>The instruction at an address as source.</summary>
    public string Code(int address, in DecodedInstruction decoded)
    {
        string name = decoded.Instruction.Name;
        switch (decoded.Instruction.Operands)
        {
            case OperandKind.None:
                return name;
            case OperandKind.Register:
                return $"{name} {Register(address, decoded.First, out _)}";
            case OperandKind.RegisterDestination:
                return $"{name} {Register(address, decoded.First, out _)},{(decoded.Second == 0 ? 'W' : 'F')}";
            case OperandKind.RegisterBit:
                string register = Register(address, decoded.First, out Register? known);
                return $"{name} {register},{Bit(known, decoded.Second)}";
            case OperandKind.Address11:
                return $"{name} {(trace.TargetAt(address) is { } target ? LabelAt(target) : $"0x{decoded.First:X3}")}";
            case OperandKind.TrisPort:
                return $"{name} {Port(decoded.First)}";
            default:
                return $"{name} 0x{decoded.First:X2}";
        }
    }

    private string Register(int at, int low, out Register? known)
    {
        known = null;
        string number = $"0x{low:X2}";
        if (device is null)
            return number;
        DataMemory data = device.DataMemory;
        int address = low;
        if (!data.IsSameInEveryBank(low))
        {
            // The bank is not in the word. Without it the number is all that is sure.
            if (trace.BankAt(at) is not { } bank)
                return number;
            address = bank << 7 | low;
        }

        if (data.RegisterAt(address) is { } register)
        {
            if (
                device.Symbols.Find(register.Name) is not { Kind: DeviceSymbolKind.Register } symbol
                || (symbol.Value & 0x7F) != low
            )
                return number;
            known = register;
            return register.Name;
        }

        if (!data.IsGeneralPurpose(address))
            return number;
        int lives = data.Canonical(address);
        if ((lives & 0x7F) != low)
            return number;
        string variable = $"ram{lives:X2}";
        if (device.Symbols.FindAnyCase(variable) is not null)
            return number;
        variables[lives] = variable;
        return variable;
    }

    private string Bit(Register? register, int bit)
    {
        if (register?.Bit(bit) is { } field)
        {
            foreach (string spelling in field.Spellings)
                if (device!.Symbols.Find(spelling) is { Kind: DeviceSymbolKind.Bit } symbol && symbol.Value == bit)
                    return spelling;
        }

        return bit.ToString(CultureInfo.InvariantCulture);
    }

    private string Port(int port) =>
        device?.DataMemory.RegisterAt(port) is { } register
        && device.Symbols.Find(register.Name) is { Kind: DeviceSymbolKind.Register } symbol
        && symbol.Value == port
            ? register.Name
            : $"0x{port:X2}";
}
