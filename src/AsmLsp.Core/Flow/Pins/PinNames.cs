using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Pins;

/// <summary>The names that a program gives to bits of registers by <c>#define</c>.</summary>
internal sealed class PinNames
{
    private readonly List<(string Name, int Address, int Bit)> names = [];

    private PinNames(ProgramAnalysis program)
    {
        var values = new FinalValues(program);
        foreach (Symbol symbol in program.Symbols)
        {
            if (symbol is not { Kind: SymbolKind.Define, Text: { Length: > 0 } text, Parameters.Count: 0 })
                continue;
            LineSyntax inner = LineSyntax.Parse(" dw " + text);
            if (inner.Operands.Length != 2)
                continue;
            int? Value(int operand) =>
                values.Of(inner.Operands[operand].Value, symbol.Definition.File, symbol.Definition.Line, null);
            if (Value(0) is { } address and >= 0 and < 0x200 && Value(1) is { } bit and >= 0 and < 8)
                names.Add((symbol.Name, address, bit));
        }
    }

    public static IReadOnlyList<(string Name, int Address, int Bit)> Of(ProgramAnalysis program) =>
        program.Derive(static p => new PinNames(p)).names;
}
