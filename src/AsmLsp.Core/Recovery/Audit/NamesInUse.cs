using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>The names that a program defines, uses or lacks, and those of its chip.</summary>
internal sealed class NamesInUse
{
    private readonly HashSet<string> used = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, SymbolKind> defined = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> statements = new(StringComparer.OrdinalIgnoreCase);
    private readonly ProgramAnalysis program;
    private readonly AuditSheet sheet;

    public NamesInUse(AuditSheet sheet)
    {
        (program, this.sheet) = (sheet.Result.Program, sheet);
        foreach (Symbol symbol in program.Symbols)
        {
            defined.TryAdd(symbol.Name, symbol.Kind);
            if (symbol is { Kind: SymbolKind.Define, Text: { } text } && HasOperation(text))
                statements.Add(symbol.Name);
        }

        for (int i = 0; i < sheet.Lines.Length; i++)
        {
            LineSyntax syntax = LineSyntax.Of(sheet.Result.Source[i]);
            // The name of a chip or of a file is no name of the program.
            if (
                syntax.OperationToken < 0
                || syntax.Keyword
                    is Keyword.Processor
                        or Keyword.List
                        or Keyword.Include
                        or Keyword.Title
                        or Keyword.Radix
            )
                continue;
            foreach (SyntaxToken token in syntax.AllTokens[(syntax.OperationToken + 1)..])
                if (token.Kind == TokenKind.Name)
                    used.Add(syntax.Text.Substring(token.Start, token.Length));
        }
    }

    /// <summary>Whether the program or its chip has the name, in whatever case.</summary>
    public bool IsKnown(string name) =>
        defined.ContainsKey(name)
        || IsOfChip(name)
        || name.Equals("high", StringComparison.OrdinalIgnoreCase)
        || name.Equals("low", StringComparison.OrdinalIgnoreCase)
        || name.Equals("w", StringComparison.OrdinalIgnoreCase)
        || name.Equals("f", StringComparison.OrdinalIgnoreCase);

    /// <summary>Whether the chip has a register or bit of the name, in whatever case.</summary>
    public bool IsOfChip(string name) => program.NamesDevice?.Symbols.FindAnyCase(name) is not null;

    /// <summary>Whether a line of the program uses the name as an operand.</summary>
    public bool IsUsed(string name) => used.Contains(name);

    /// <summary>Whether the program defines the name as a label or not at all, so that a lone word can be its definition.</summary>
    public bool CanBeLabel(string name) =>
        used.Contains(name)
        && (defined.TryGetValue(name, out SymbolKind kind) ? kind is SymbolKind.Label : !IsOfChip(name));

    /// <summary>Whether the program uses the name and does not define it.</summary>
    public bool IsLacking(string name) =>
        used.Contains(name)
        && !defined.ContainsKey(name)
        && !IsOfChip(name)
        && !sheet.IsOutside(name)
        && OperationWords.KindOf(name) == OperationKind.Unknown
        && name.Length > 1;

    /// <summary>Whether the program defines a macro of that name.</summary>
    public bool IsMacro(string name) => defined.TryGetValue(name, out SymbolKind kind) && kind == SymbolKind.Macro;

    /// <summary>Whether the name means a text.</summary>
    public bool IsDefine(string name) => defined.TryGetValue(name, out SymbolKind kind) && kind == SymbolKind.Define;

    /// <summary>Whether the name means the text of an instruction.</summary>
    public bool IsStatement(string name) => statements.Contains(name);

    private static bool HasOperation(string text)
    {
        ReadOnlySpan<char> word = text.AsSpan().Trim();
        int end = word.IndexOf(' ');
        return OperationWords.KindOf(end < 0 ? word : word[..end]) == OperationKind.Instruction;
    }
}
