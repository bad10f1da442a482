using AsmLsp.Core.Assembly;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>The names of a listing as its rows define and use them, and those that come from its chip and its included files.</summary>
internal sealed class RowNames
{
    private static readonly System.Buffers.SearchValues<char> NoName = System.Buffers.SearchValues.Create(" \t()'\"");

    private readonly Dictionary<string, int> definitions = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, int> firm = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, int> uses = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> macros = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> parameters = new(StringComparer.OrdinalIgnoreCase);
    private readonly ProgramAnalysis program;

    /// <param name="rows">The rows.</param>
    /// <param name="rests">Which of them are rests of others, as far as it is known.</param>
    /// <param name="program">The rows, assembled as they are: for the chip and the included files.</param>
    public RowNames(IReadOnlyList<Row> rows, bool[] rests, ProgramAnalysis program)
    {
        this.program = program;
        bool inBlock = false;
        for (int i = 0; i < rows.Count; i++)
        {
            Row row = rows[i];
            if (!row.IsRow || row.Code.Length == 0 || rests[i])
                continue;
            LineSyntax syntax = row.Syntax;
            if (syntax.Keyword == Keyword.VariableBlock)
                inBlock = true;
            else if (syntax.Keyword == Keyword.EndVariableBlock)
                inBlock = false;
            else if (inBlock && MembersOf(row.Code) is { } members)
            {
                foreach (string member in members)
                    Add(member, isFirm: row.HasComment || row.Column > 0);
                continue;
            }

            bool isKnown = syntax.OperationToken >= 0 && syntax.OperationKind != OperationKind.Unknown;
            if (syntax.Label is { } label)
                Add(
                    label,
                    isFirm: syntax.ColonToken >= 0
                        || (isKnown && AssemblyLook.Of(row.Text) != Look.Other)
                        || row.HasComment
                );
            if (!isKnown)
            {
                // The arguments of a call count as used: in a sentence they are words, which do no harm.
                if (syntax.OperationToken >= 0 && IsMacro(syntax.Operation!))
                    AddUses(syntax.OperandText);
                continue;
            }

            if (syntax.Keyword == Keyword.Macro && syntax.Label is { } macro)
            {
                macros.Add(macro);
                AddParameters(syntax.OperandText);
            }
            else if (syntax.Keyword is Keyword.Local or Keyword.Variable or Keyword.Constant)
                AddParameters(syntax.OperandText);

            if (syntax.Keyword == Keyword.Define)
            {
                string[] words = syntax.OperandText.Split(
                    (char[])[' ', '\t'],
                    2,
                    StringSplitOptions.RemoveEmptyEntries
                );
                if (words.Length > 0)
                    Add(words[0], isFirm: true);
                if (words.Length > 1)
                {
                    AddUses(words[1]);
                    // A name that means an instruction is called as a macro is.
                    if (words.Length > 0 && LineSyntax.Parse(" " + words[1]).OperationKind == OperationKind.Instruction)
                        macros.Add(words[0]);
                }
            }
            else if (AssemblyLook.Of(row.Text) != Look.Other)
                AddUses(syntax.OperandText);
        }
    }

    /// <summary>How many rows use a name in their operands.</summary>
    public int UsesOf(string name) => uses.GetValueOrDefault(name) + (IsUsedByFile(name) ? 1 : 0);

    /// <summary>How many rows may define a name.</summary>
    public int DefinitionsOf(string name) => definitions.GetValueOrDefault(name);

    /// <summary>How many rows define a name and hold more than the name: an operation, a colon, a comment.</summary>
    public int FirmDefinitionsOf(string name) => firm.GetValueOrDefault(name);

    public bool IsMacro(string name) =>
        macros.Contains(name)
        || (program.FindSymbol(name) is { Kind: SymbolKind.Macro } symbol && symbol.Definition.File != program.Root);

    /// <summary>Whether the chip or an included file defines a name.</summary>
    public bool IsForeign(string name) =>
        program.NamesDevice?.Symbols.FindAnyCase(name) is not null
        || (program.FindSymbol(name) is { } symbol && symbol.Definition.File != program.Root);

    /// <summary>Whether a name has a definition anywhere.</summary>
    public bool IsKnown(string name) =>
        DefinitionsOf(name) > 0
        || parameters.Contains(name)
        || IsForeign(name)
        || name is "f" or "F" or "w" or "W" or "$"
        || OperationWords.KindOf(name) != OperationKind.Unknown;

    /// <summary>Whether a file that is included was not found: names and macros may come from it.</summary>
    public bool HasMissingFile => program.Includes.Any(static i => i.File is null && i.Chip is null);

    /// <summary>The names of a row of a block, <c>name</c> or <c>name:size</c> with commas between; null where it is none.</summary>
    public static List<string>? MembersOf(string code)
    {
        var members = new List<string>();
        foreach (string part in code.TrimEnd(',').Split(','))
        {
            int colon = part.IndexOf(':', StringComparison.Ordinal);
            string name = (colon < 0 ? part : part[..colon]).Trim();
            if (name.Length == 0 || !Lexer.IsNameStart(name[0]) || name.AsSpan().IndexOfAny(NoName) >= 0)
                return null;
            members.Add(name);
        }

        return members;
    }

    private void Add(string name, bool isFirm)
    {
        definitions[name] = definitions.GetValueOrDefault(name) + 1;
        if (isFirm)
            firm[name] = firm.GetValueOrDefault(name) + 1;
    }

    private void AddParameters(string operands)
    {
        foreach (SyntaxToken token in Lexer.Lex(operands))
            if (token.Kind == TokenKind.Name)
                parameters.Add(operands.Substring(token.Start, token.Length));
    }

    private void AddUses(string operands)
    {
        foreach (SyntaxToken token in Lexer.Lex(operands))
            if (token.Kind == TokenKind.Name)
            {
                string name = operands.Substring(token.Start, token.Length);
                if (name is not ("f" or "F" or "w" or "W"))
                    uses[name] = uses.GetValueOrDefault(name) + 1;
            }
    }

    private bool IsUsedByFile(string name)
    {
        if (program.Files.Length < 2)
            return false;
        foreach (Reference reference in program.References.Of(name))
            if (!reference.IsDefinition && reference.Place.File != program.Root)
                return true;
        return false;
    }
}
