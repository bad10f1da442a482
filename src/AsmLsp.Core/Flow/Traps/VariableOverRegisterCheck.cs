using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A variable of a block lies on a register of the chip; or a name of the program is also that of a register of the chip at another place,
/// which changes what every use of it means.
/// </summary>
internal sealed class VariableOverRegisterCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device)
            return;
        bool isRegisterMap = HasRegisterMap(context.Graph.Program, device);
        foreach (Symbol symbol in context.Graph.Program.Symbols)
        {
            if (!symbol.IsKnown || symbol.Via is not null || symbol.Value is < 0 or > 0x1FF)
                continue;
            if (symbol.Kind is not (SymbolKind.BlockMember or SymbolKind.Constant))
                continue;
            if (device.FindRegister(symbol.Name) is { } register)
            {
                if (
                    !IsAt(register, symbol.Value)
                    && (symbol.Kind == SymbolKind.BlockMember || IsUsedAsRegister(context, symbol))
                )
                    report.Add(
                        Catalogue.NameOfRegister,
                        symbol.Definition,
                        null,
                        symbol.Name,
                        Show.Hex(symbol.Value, 2),
                        device.Name,
                        Show.Hex(register.Address, 2)
                    );
                continue;
            }

            if (
                !isRegisterMap
                && symbol.Kind == SymbolKind.BlockMember
                && device.DataMemory.RegisterAt(symbol.Value) is { } under
                && symbol.IsReferenced
            )
                report.Add(
                    Catalogue.VariableOverRegister,
                    symbol.Definition,
                    null,
                    symbol.Name,
                    Show.Hex(symbol.Value, 2),
                    under.Name,
                    device.Name,
                    Show.Hex(device.DataMemory.FirstGeneralPurpose, 2)
                );
        }
    }

    // A block that gives the chip's registers names of the author's own: one of them at least is the usual one.
    private static bool HasRegisterMap(ProgramAnalysis program, Device device)
    {
        foreach (Symbol symbol in program.Symbols)
            if (
                symbol is { Kind: SymbolKind.BlockMember, IsKnown: true, Value: >= 0 and <= 0x1FF }
                && device.DataMemory.RegisterAt(symbol.Value) is { } register
                && (
                    register.Name.Equals(symbol.Name, StringComparison.OrdinalIgnoreCase)
                    || register.OtherNames.Contains(symbol.Name, StringComparer.OrdinalIgnoreCase)
                )
            )
                return true;
        return false;
    }

    // The low 7 bits alone are written by many: the bank is selected anyhow.
    private static bool IsAt(Register register, int value)
    {
        foreach (int address in register.Addresses)
            if ((address & 0x7F) == (value & 0x7F))
                return true;
        return false;
    }

    private static bool IsUsedAsRegister(TrapContext context, Symbol symbol)
    {
        for (int at = 0; at < context.End; at++)
            if (
                context.At(at) is { } decoded
                && decoded.First == (symbol.Value & 0x7F)
                && NamedRegister.Takes(decoded)
                && context.Graph.Walk.OperandOf(at) is NameExpression name
                && name.Name == symbol.Name
            )
                return true;
        return false;
    }
}
