using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>What an operand of an instruction is for.</summary>
internal enum OperandRole
{
    Value,
    Register,
    Destination,
    Bit,
    Literal,
    Address,
}

/// <summary>The line that is explained, with everything that the parts of an explanation ask for.</summary>
internal sealed class ExplainContext(ProgramAnalysis program, SourceFile file, int line, ExplainOptions options)
{
    private Clock? clock;
    private bool clockSought;

    public ProgramAnalysis Program { get; } = program;

    public SourceFile File { get; } = file;

    /// <summary>Number of the line, from 0.</summary>
    public int Line { get; } = line;

    public LineSyntax Syntax { get; } = program.SyntaxOf(file, line);

    public LineFacts Facts { get; } = program.FactsOf(file, line);

    public FinalValues Values { get; } = new(program);

    /// <summary>The chip whose facts and names hold, or null.</summary>
    public Device? Device => Program.Device ?? Program.NamesDevice;

    public Clock? Clock
    {
        get
        {
            if (!clockSought)
                (clock, clockSought) = (ClockFinder.Find(Program, options.ClockHertz), true);
            return clock;
        }
    }

    /// <summary>The macro whose body the line is in, or null.</summary>
    public Symbol? EnclosingMacro
    {
        get
        {
            if (!Facts.Role.HasFlag(LineRole.Body))
                return null;
            return Program.Derive(static of => new MacroPlaces(of)).LastAbove(File, Line);
        }
    }

    /// <summary>The words of the line, from the first address on; empty where it made none.</summary>
    public List<(int Address, int Word)> Words(int most = int.MaxValue)
    {
        var words = new List<(int, int)>();
        for (int i = 0; i < Facts.Words && i < most; i++)
            if (Facts.Address >= 0 && Program.Image.TryGet(Facts.Address + i, out ushort word, out _))
                words.Add((Facts.Address + i, word));
        return words;
    }

    /// <summary>The value of an expression of this line, or null.</summary>
    public int? ValueOf(Expression expression) => Values.Of(expression, File, Line, EnclosingMacro?.Parameters);

    /// <summary>The operand that a token is in, or null.</summary>
    public OperandSyntax? OperandAt(int token, out int index)
    {
        index = 0;
        foreach (OperandSyntax operand in Syntax.Operands)
        {
            if (token >= operand.FirstToken && token < operand.EndToken)
                return operand;
            index++;
        }

        return null;
    }

    /// <summary>What the operand with an index is for.</summary>
    public OperandRole RoleOf(int operand)
    {
        if (Syntax.OperationKind != OperationKind.Instruction)
            return OperandRole.Value;
        OperandKind kind =
            InstructionSet.Find(Syntax.Operation!)?.Operands
            ?? Shorthand.Find(Syntax.Operation!)?.Operands
            ?? OperandKind.None;
        return kind switch
        {
            OperandKind.Register or OperandKind.TrisPort => OperandRole.Register,
            OperandKind.RegisterDestination => operand == 0 ? OperandRole.Register : OperandRole.Destination,
            OperandKind.RegisterBit => operand == 0 ? OperandRole.Register : OperandRole.Bit,
            OperandKind.Literal8 => OperandRole.Literal,
            OperandKind.Address11 => OperandRole.Address,
            _ => OperandRole.Value,
        };
    }

    /// <summary>The full address of the register that the instruction names, or null; the text of a define counts.</summary>
    public int? RegisterAddress() =>
        Syntax.Operands.Length > 0 && RoleOf(0) == OperandRole.Register
            ? ValueOf(Values.FirstOf(Syntax.Operands[0].Value))
            : null;

    /// <summary>Line numbers for people, from 1; the file too where it is another one.</summary>
    public string PlaceOf(SourcePlace place) =>
        place.File == File
            ? $"line {place.Line + 1}"
            : $"line {place.Line + 1} of {MarkdownText.Escape(place.File.ShortName)}";

    // The macros of each file by line.
    private sealed class MacroPlaces
    {
        private readonly Dictionary<SourceFile, List<Symbol>> byFile = [];

        public MacroPlaces(ProgramAnalysis program)
        {
            foreach (Symbol symbol in program.Symbols)
            {
                if (symbol.Kind != SymbolKind.Macro)
                    continue;
                if (!byFile.TryGetValue(symbol.Definition.File, out List<Symbol>? macros))
                    byFile.Add(symbol.Definition.File, macros = []);
                macros.Add(symbol);
            }

            foreach (List<Symbol> macros in byFile.Values)
                macros.Sort(static (a, b) => a.Definition.Line.CompareTo(b.Definition.Line));
        }

        public Symbol? LastAbove(SourceFile file, int line)
        {
            if (!byFile.TryGetValue(file, out List<Symbol>? macros))
                return null;
            int low = 0,
                high = macros.Count;
            while (low < high)
            {
                int middle = (low + high) / 2;
                if (macros[middle].Definition.Line < line)
                    low = middle + 1;
                else
                    high = middle;
            }

            return low == 0 ? null : macros[low - 1];
        }
    }
}
