using System.Runtime.CompilerServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>
/// The names that a program can write for registers and bits: its own first, then the chip's. A name is given only where it is worth the very
/// number that it means, and where nothing else can be meant.
/// </summary>
internal sealed class ChipWords
{
    private static readonly ConditionalWeakTable<ProgramAnalysis, ChipWords> Known = [];

    private readonly ProgramAnalysis program;
    private readonly Device? device;
    private readonly Dictionary<int, string?> own = [];
    private readonly Dictionary<Register, string> ownOfChip = [];
    private readonly HashSet<SourceFile> readTwice = [];

    private ChipWords(ProgramAnalysis program)
    {
        this.program = program;
        device = program.Device is { } chip && chip == program.NamesDevice ? chip : null;
        if (device is null)
            return;
        foreach (
            IGrouping<SourceFile, IncludeUse> file in program
                .Includes.Where(i => i.File is not null)
                .GroupBy(i => i.File!)
        )
            if (file.Count() > 1)
                readTwice.Add(file.Key);
        HashSet<string> registers = UsedAsRegisters(program);
        foreach (Symbol symbol in program.Symbols)
        {
            if (
                !symbol.IsKnown
                || symbol.Via is not null
                || symbol.Kind is not (SymbolKind.Constant or SymbolKind.BlockMember)
            )
                continue;
            if (device.Symbols.FindAnyCase(symbol.Name) is { Kind: DeviceSymbolKind.Register, Register: { } register })
            {
                if (device.DataMemory.RegisterAt(symbol.Value) == register)
                    ownOfChip.TryAdd(register, symbol.Name);
                continue;
            }

            // A constant may be worth 0x20 by chance; one that instructions use as a register is a register.
            if (symbol.Kind == SymbolKind.Constant && !registers.Contains(symbol.Name))
                continue;
            if (!device.DataMemory.IsGeneralPurpose(symbol.Value))
                continue;
            int lives = device.DataMemory.Canonical(symbol.Value);
            if (!own.TryAdd(lives, symbol.Name))
                own[lives] = null;
        }
    }

    public static ChipWords Of(ProgramAnalysis program) => Known.GetValue(program, static p => new ChipWords(p));

    /// <summary>The full data address that an instruction's register number means, or null where the bank in it is not certain.</summary>
    public int? AddressOf(SourceFile file, int line, int value)
    {
        if (device is null || value < 0 || value >= device.DataMemory.BankCount * 128)
            return null;
        if (value >= 0x80 || device.DataMemory.IsSameInEveryBank(value))
            return value;
        if (program.HasErrors || readTwice.Contains(file))
            return null;
        LineFacts facts = program.FactsOf(file, line);
        if (
            facts.Address < 0
            || !program.Image.TryGet(facts.Address, out _, out WordOrigin origin)
            || origin.Via is not null
            || origin.File != file
            || origin.Line != line
        )
            return null;
        FlowGraph graph = FlowGraph.Of(program);
        if (
            graph.ReachOf(facts.Address) != Reach.Certain
            || graph.StateAt(facts.Address) is not { IsReached: true } state
        )
            return null;
        return state.Bank(device.DataMemory.BankCount) is { } bank ? bank << 7 | value : null;
    }

    /// <summary>The name of the register at a full data address, worth the same in an instruction; null where there is none, or more than one.</summary>
    public string? Register(int address)
    {
        if (device is null)
            return null;
        DataMemory data = device.DataMemory;
        if (data.RegisterAt(address) is { } register)
        {
            // SSPADD and SSPMSK share an address: which one is meant, the number does not say.
            if (device.Registers.Count(r => r.Addresses.Contains(address)) != 1)
                return null;
            string name = ownOfChip.GetValueOrDefault(register) ?? UsualName(register);
            return ValueOf(name) is { } value && ((value ^ address) & 0x7F) == 0 && data.RegisterAt(value) == register
                ? name
                : null;
        }

        if (!data.IsGeneralPurpose(address) || own.GetValueOrDefault(data.Canonical(address)) is not { } variable)
            return null;
        return ValueOf(variable) is { } at && ((at ^ address) & 0x7F) == 0 ? variable : null;
    }

    /// <summary>The register of the chip that an operand's name means, or null for a number, a variable and an expression.</summary>
    public Register? RegisterNamed(OperandSyntax operand)
    {
        if (device is null || operand.Value is not NameExpression name || ValueOf(name.Name) is not { } value)
            return null;
        return
            device.DataMemory.RegisterAt(value) is { } register
            && device.Symbols.FindAnyCase(name.Name)?.Register == register
            ? register
            : null;
    }

    /// <summary>The register of the chip at a full data address, or null.</summary>
    public Register? RegisterAt(int address) => device?.DataMemory.RegisterAt(address);

    /// <summary>The name of a bit, or null; the bits of ports are called by their number everywhere.</summary>
    public string? Bit(Register register, int bit)
    {
        if (
            device is null
            || register.Bit(bit) is not { } field
            || register.Name.StartsWith("PORT", StringComparison.Ordinal)
            || register.Name.StartsWith("TRIS", StringComparison.Ordinal)
            || register.Name == "GPIO"
        )
            return null;
        foreach (string spelling in field.Spellings)
            if (ValueOf(spelling) == bit)
                return spelling;
        // The program's own names for the flags, often in small letters.
        foreach (string spelling in field.Spellings)
            if (
                spelling.ToLowerInvariant() is var small
                && program.FindSymbol(small) is not null
                && ValueOf(small) == bit
            )
                return small;
        return null;
    }

    /// <summary>W or F in the letters of the file, or null where the program means something else by it.</summary>
    public string? Destination(SourceText text, int destination)
    {
        string word = SourceStyle.Of(text).Destination(destination);
        return ValueOf(word) == destination ? word : null;
    }

    /// <summary>A register and its bit as an instruction writes them: by names, or by numbers where names are not in force.</summary>
    public string RegisterBit(string register, int address, string bit, int number)
    {
        string first = ValueOf(register) == address ? register : $"0x{address:X2}";
        string second =
            ValueOf(bit) == number ? bit
            : program.FindSymbol(bit.ToLowerInvariant()) is not null && ValueOf(bit.ToLowerInvariant()) == number
                ? bit.ToLowerInvariant()
            : Show.Decimal(number);
        return first + "," + second;
    }

    /// <summary>What a name is worth wherever it is in the program, or null.</summary>
    public int? ValueOf(string name)
    {
        if (program.FindSymbol(name) is { } symbol)
            return
                symbol.Kind is SymbolKind.Constant or SymbolKind.BlockMember && symbol is { IsKnown: true, Via: null }
                ? symbol.Value
                : null;
        if (name is "W" or "w")
            return 0;
        if (name is "F" or "f")
            return 1;
        return
            program.NamesDevice?.Symbols.Find(name)
                is {
                    Kind: DeviceSymbolKind.Register or DeviceSymbolKind.Bit or DeviceSymbolKind.ConfigurationSetting
                } builtIn
            ? builtIn.Value
            : null;
    }

    // OPTION is an instruction too: OPTION_REG cannot be mistaken.
    private static string UsualName(Register register) =>
        OperationWords.KindOf(register.Name) == OperationKind.Unknown
            ? register.Name
            : register.OtherNames.FirstOrDefault(n => OperationWords.KindOf(n) == OperationKind.Unknown)
                ?? register.Name;

    private static HashSet<string> UsedAsRegisters(ProgramAnalysis program)
    {
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (SourceFile file in program.Files)
        {
            foreach (TextLine line in file.Text.Lines)
            {
                LineSyntax syntax = LineSyntax.Of(line);
                if (
                    SourceStyle.OperandsOf(syntax)
                        is OperandKind.Register
                            or OperandKind.RegisterDestination
                            or OperandKind.RegisterBit
                    && syntax.Operands.Length > 0
                    && syntax.Operands[0].Value is NameExpression name
                )
                    names.Add(name.Name);
            }
        }

        return names;
    }
}
