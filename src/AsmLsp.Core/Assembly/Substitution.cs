using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Puts the text of defines, and of a macro's parameters, in place of whole words: in operations and operands,
/// never in comments, strings or the names that a line defines.
/// </summary>
internal sealed partial class Substitution(AssemblyPass pass)
{
    private const int MostKeptTexts = 50_000;

    private readonly Dictionary<string, Symbol> defines = new(StringComparer.Ordinal);

    // By name without regard to case: most words of a program are found to be none by one look.
    private readonly Dictionary<string, List<Symbol>> definesByAnyCase = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, LineSyntax> parsed = pass.ParsedTexts;

    // What a define without parameters comes to, as long as no define comes or goes.
    private readonly Dictionary<Symbol, (string Text, string? Fault)> expanded = [];

    /// <summary>Whether any define is in force.</summary>
    public bool IsActive => defines.Count > 0;

    public void Define(Symbol symbol)
    {
        if (!defines.TryAdd(symbol.Name, symbol))
            return;
        expanded.Clear();
        if (!definesByAnyCase.TryGetValue(symbol.Name, out List<Symbol>? same))
            definesByAnyCase.Add(symbol.Name, same = new(1));
        same.Add(symbol);
    }

    public bool Undefine(string name)
    {
        if (!defines.Remove(name, out Symbol? symbol))
            return false;
        expanded.Clear();
        definesByAnyCase[name].Remove(symbol);
        return true;
    }

    public bool IsDefined(string name) => defines.ContainsKey(name);

    /// <summary>What a define without parameters comes to; false, and the reason, where a limit was reached.</summary>
    public bool TryText(Symbol define, out string text)
    {
        (text, string? fault) = Expand(define, null);
        if (fault is not null)
            text = fault;
        return fault is null;
    }

    /// <summary>The line with the macro's parameters and local names put in.</summary>
    public EffectiveLine WithParameters(in EffectiveLine line, Dictionary<string, MacroArgument> parameters)
    {
        LineSyntax syntax = line.Syntax;
        SyntaxToken[] tokens = syntax.Tokens;
        Dictionary<string, MacroArgument>.AlternateLookup<ReadOnlySpan<char>> byWord = parameters.GetAlternateLookup<
            ReadOnlySpan<char>
        >();
        StringBuilder? text = null;
        PieceMap? map = null;
        int copied = 0;
        for (int i = 0; i < syntax.EndOfCode; i++)
        {
            if (tokens[i].Kind != TokenKind.Name || !byWord.TryGetValue(syntax.SpanOf(i), out MacroArgument argument))
                continue;
            string value = argument.Text;
            text ??= new StringBuilder(syntax.Text.Length + 16);
            text.Append(syntax.Text, copied, tokens[i].Start - copied);
            (map ??= new PieceMap()).Add(text.Length, text.Length + value.Length, tokens[i].Span, argument.Place);
            text.Append(value);
            copied = tokens[i].End;
            if (text.Length > DefineExpansion.LongestText)
                return TooLong(line, i);
        }

        if (text is null)
            return line;
        text.Append(syntax.Text, copied, syntax.Text.Length - copied);
        return Remade(line, text.ToString(), map!);
    }

    /// <summary>The line with the defines in force put in; the line itself where none is used.</summary>
    public EffectiveLine WithDefines(in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        // A define in the label column means an operation where nothing else on the line can be one.
        if (
            syntax.LabelToken >= 0
            && syntax.OperationKind == OperationKind.Unknown
            && Find(syntax.Label!, out _)
            && StartsOperation(syntax.Label!)
        )
            syntax = syntax.WithFirstWordAsOperation();

        SyntaxToken[] tokens = syntax.Tokens;
        Dictionary<string, List<Symbol>>.AlternateLookup<ReadOnlySpan<char>> candidates =
            definesByAnyCase.GetAlternateLookup<ReadOnlySpan<char>>();
        StringBuilder? text = null;
        PieceMap? map = null;
        int copied = 0;
        for (int i = syntax.LabelToken + 1; i < syntax.EndOfCode; i++)
        {
            if (
                tokens[i].Kind != TokenKind.Name
                || (
                    i == syntax.OperationToken
                    && syntax.OperationKind != OperationKind.Unknown
                    && !ReplacesOperation(syntax)
                )
            )
                continue;
            if (!candidates.ContainsKey(syntax.SpanOf(i)))
                continue;
            string word = syntax.TextOf(i);
            if (!Find(word, out Symbol? define))
                continue;
            int end = i + 1;
            List<string>? arguments = null;
            if (define.Parameters.Count > 0 && !DefineExpansion.TryArguments(syntax, ref end, out arguments))
                continue;
            if (word != define.Name)
                pass.Report(Catalogue.NameDiffersByCase, line.Place(i), line.Via, word, define.Name);
            (string value, string? fault) = Expand(define, arguments);
            if (fault is not null)
            {
                pass.Report(Catalogue.LimitReached, line.Place(i), line.Via, fault);
                if (pass.Work.IsExhausted)
                    pass.StopForWork(line);
            }

            text ??= new StringBuilder(syntax.Text.Length + 16);
            text.Append(syntax.Text, copied, tokens[i].Start - copied);
            TextSpan replaced = TextSpan.FromBounds(tokens[i].Start, tokens[end - 1].End);
            (map ??= new PieceMap()).Add(text.Length, text.Length + value.Length, replaced);
            text.Append(value);
            pass.NoteReference(define, line.Place(i), line.Via);
            copied = replaced.End;
            i = end - 1;
            if (text.Length > DefineExpansion.LongestText)
                return TooLong(line, syntax.LabelToken + 1);
        }

        if (text is null)
            return syntax == line.Syntax ? line : line.With(syntax);
        text.Append(syntax.Text, copied, syntax.Text.Length - copied);
        return Remade(line, text.ToString(), map!);
    }

    // '#define movfw movf' puts one operation in place of another; '#define OPTION 81h' only concerns operands.
    private bool ReplacesOperation(LineSyntax syntax) =>
        defines.ContainsKey(syntax.Operation!) && StartsOperation(syntax.Operation!);

    private bool StartsOperation(string name)
    {
        if (!Find(name, out Symbol? define) || define.Text is null)
            return false;
        LineSyntax inside = Parse(" " + define.Text);
        return inside.OperationToken >= 0
            && (inside.OperationKind != OperationKind.Unknown || pass.IsMacro(inside.Operation!));
    }

    private bool Find(string word, out Symbol define)
    {
        if (defines.TryGetValue(word, out Symbol? exact))
        {
            define = exact;
            return true;
        }

        define = null!;
        if (!definesByAnyCase.TryGetValue(word, out List<Symbol>? found) || found.Count != 1)
            return false;
        if (pass.Symbols.TryGet(word, out Symbol? own) && own.Kind != SymbolKind.Define)
            return false;
        if (pass.Chip.Knows(word) || OperationWords.KindOf(word) != OperationKind.Unknown)
            return false;
        define = found[0];
        return true;
    }

    private (string Text, string? Fault) Expand(Symbol define, List<string>? arguments)
    {
        if (arguments is null && expanded.TryGetValue(define, out (string Text, string? Fault) known))
            return known;
        var expansion = new DefineExpansion(pass.Work, defines);
        string? text = expansion.Of(define, arguments);
        var made = (text ?? "0", expansion.Fault);
        if (arguments is null)
            expanded.Add(define, made);
        return made;
    }

    // Nothing of such a line is assembled: it has an error, and each later step would have to carry it.
    private EffectiveLine TooLong(in EffectiveLine line, int token)
    {
        pass.Report(
            Catalogue.LimitReached,
            line.Place(token),
            line.Via,
            $"Substitution makes this line longer than {DefineExpansion.LongestText:N0} characters."
        );
        return line.With(Parse(""));
    }

    // The line that was made last from the same line is usually the same again: at the next pass, and at the next keystroke.
    private EffectiveLine Remade(in EffectiveLine line, string text, PieceMap map)
    {
        if (!pass.Work.TryCharacters(text.Length))
            pass.StopForWork(line);
        if (line.Syntax.Substituted is not { } made || made.Text != text)
            line.Syntax.Substituted = made = Parse(text);
        return new EffectiveLine(made, line.File, line.Number, line.Via, map.Over(line.Pieces));
    }

    private LineSyntax Parse(string text)
    {
        if (parsed.TryGetValue(text, out LineSyntax? syntax))
            return syntax;
        syntax = LineSyntax.Parse(text);
        // A loop can make a new text in each of its turns: those are not worth keeping.
        if (parsed.Count < MostKeptTexts)
            parsed.Add(text, syntax);
        return syntax;
    }
}
