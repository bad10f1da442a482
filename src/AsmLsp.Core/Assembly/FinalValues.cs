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
    private const int MostDefines = 256;

    private int depth;
    private int defines;

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
                return Of(binary, file, line, parameters);
            default:
                return null;
        }
    }

    /// <summary>
    /// The operand that is first once a define is put in: the register of <c>#define LAMP PORTB,3</c>. The operand
    /// itself where it is no such name.
    /// </summary>
    public Expression FirstOf(Expression operand)
    {
        for (int i = 0; i < DeepestDefine; i++)
        {
            if (
                operand is not NameExpression name
                || Find(name.Name).Symbol
                    is not { Kind: SymbolKind.Define, Text: { Length: > 0 } text, Parameters.Count: 0 }
                || LineSyntax.Parse(text, LineReading.NamesOnly).Operands is not [var first, ..] operands
                || (operands.Length == 1 && first.Value is not NameExpression)
            )
                return operand;
            operand = first.Value;
        }

        return operand;
    }

    // A long sum leans to the left: one operator after the other, so that no stack can run out.
    private int? Of(BinaryExpression outermost, SourceFile file, int line, IReadOnlyList<string>? parameters)
    {
        var waiting = new Stack<BinaryExpression>();
        Expression first = outermost;
        while (first is BinaryExpression inner)
        {
            waiting.Push(inner);
            first = inner.Left;
        }

        int? left = Of(first, file, line, parameters);
        while (left is { } value && waiting.TryPop(out BinaryExpression? binary))
        {
            left =
                Of(binary.Right, file, line, parameters) is { } right
                && (right != 0 || binary.Operator is not (Operator.Divide or Operator.Remainder))
                    ? unchecked((int)Arithmetic.Apply(binary.Operator, value, right))
                    : null;
        }

        return left;
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
                // Defines can ask for each other again and again: what takes that long has no value worth a hover.
                if (depth == 0)
                    defines = 0;
                if (++defines > MostDefines)
                    return null;
                depth++;
                LineSyntax inner = LineSyntax.Parse(symbol.Text, LineReading.NamesOnly);
                int? value = inner.Operands is [var only] ? Of(only.Value, file, line) : null;
                depth--;
                return value;
            default:
                // W and F name the destination whether a chip is named or not.
                return symbol is null && name is "W" or "w" or "F" or "f" ? (name is "W" or "w" ? 0 : 1) : null;
        }
    }

    // The one name that differs by case only; null where there is none or more than one.
    private Symbol? ByAnyCase(string name) =>
        program.Derive(static of => new SymbolsByAnyCase(of)).GetValueOrDefault(name);

    private sealed class SymbolsByAnyCase : Dictionary<string, Symbol?>
    {
        public SymbolsByAnyCase(ProgramAnalysis program)
            : base(StringComparer.OrdinalIgnoreCase)
        {
            foreach (Symbol symbol in program.Symbols)
                if (!TryAdd(symbol.Name, symbol))
                    this[symbol.Name] = null;
        }
    }
}
