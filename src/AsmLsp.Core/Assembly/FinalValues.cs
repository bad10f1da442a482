using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Works out expressions of a program that is already assembled, for explanations and checks: the value, or null
/// where it is not the same in the whole program (a variable) or belongs to a macro's call.
/// </summary>
internal sealed class FinalValues(ProgramAnalysis program)
{
    private const int DeepestDefine = 16;

    private Dictionary<string, Symbol?>? byAnyCase;
    private int depth;

    /// <summary>The value of an expression on a line of a file, or null.</summary>
    public int? Of(Expression expression, SourceFile file, int line, IReadOnlyList<string>? parameters = null)
    {
        switch (expression)
        {
            case LiteralExpression literal:
                LiteralReading reading = Literals.Read(literal.Text, program.FactsOf(file, line).Radix);
                if (reading.Fault != LiteralFault.None)
                    return null;
                return reading.Notation == LiteralNotation.Character
                    ? TextEncoding.ToByte((char)reading.Value)
                    : reading.Value;
            case NameExpression name:
                return parameters?.Contains(name.Name, StringComparer.Ordinal) == true
                    ? null
                    : OfName(name.Name, file, line);
            case HereExpression:
                LineFacts facts = program.FactsOf(file, line);
                return parameters is null && facts.Address >= 0 ? facts.Address : null;
            case ParenthesizedExpression inner:
                return Of(inner.Inner, file, line, parameters);
            case UnaryExpression unary:
                return Of(unary.Operand, file, line, parameters) is { } operand
                    ? Arithmetic.Apply(unary.Operator, operand)
                    : null;
            case BinaryExpression binary:
                if (
                    Of(binary.Left, file, line, parameters) is not { } left
                    || Of(binary.Right, file, line, parameters) is not { } right
                )
                    return null;
                return right == 0 && binary.Operator is Operator.Divide or Operator.Remainder
                    ? null
                    : unchecked((int)Arithmetic.Apply(binary.Operator, left, right));
            default:
                return null;
        }
    }

    /// <summary>What a name means: one of the program's, one of the chip's, or neither; in the order in which the assembler looks.</summary>
    public (Symbol? Symbol, DeviceSymbol? BuiltIn) Find(string name)
    {
        if (program.FindSymbol(name) is { } symbol)
            return (symbol, null);
        DeviceSymbols? chip = program.NamesDevice?.Symbols;
        if (chip?.Find(name) is { } builtIn)
            return (null, builtIn);
        if (ByAnyCase(name) is { } other)
            return (other, null);
        return (null, chip?.FindAnyCase(name));
    }

    private int? OfName(string name, SourceFile file, int line)
    {
        (Symbol? symbol, DeviceSymbol? builtIn) = Find(name);
        if (builtIn is not null)
            return builtIn.Value;
        switch (symbol?.Kind)
        {
            case SymbolKind.Label or SymbolKind.Constant or SymbolKind.BlockMember or SymbolKind.Section:
                return symbol.IsKnown && symbol.Via is null ? symbol.Value : null;
            case SymbolKind.Define when symbol is { Text.Length: > 0, Parameters.Count: 0 } && depth < DeepestDefine:
                depth++;
                LineSyntax inner = LineSyntax.Parse(" dw " + symbol.Text);
                int? value = inner.Operands.Length > 0 ? Of(inner.Operands[0].Value, file, line) : null;
                depth--;
                return value;
            default:
                // W and F name the destination whether a chip is named or not.
                return symbol is null && name is "W" or "w" or "F" or "f" ? (name is "W" or "w" ? 0 : 1) : null;
        }
    }

    // The one name that differs by case only; null where there is none or more than one.
    private Symbol? ByAnyCase(string name)
    {
        if (byAnyCase is null)
        {
            byAnyCase = new Dictionary<string, Symbol?>(StringComparer.OrdinalIgnoreCase);
            foreach (Symbol symbol in program.Symbols)
                if (!byAnyCase.TryAdd(symbol.Name, symbol))
                    byAnyCase[symbol.Name] = null;
        }

        return byAnyCase.GetValueOrDefault(name);
    }
}
