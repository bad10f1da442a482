using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Puts the text of defines, and of a macro's parameters, in place of whole words: in operations and operands,
/// never in comments, strings or the names that a line defines.
/// </summary>
internal sealed class Substitution(AssemblyPass pass)
{
    private const int DeepestNesting = 64;
    private const int LongestLine = 32_768;
    private const int MostReplacements = 10_000;
    private const int MostKeptTexts = 50_000;

    private readonly Dictionary<string, Symbol> defines = new(StringComparer.Ordinal);

    // By name without regard to case: most words of a program are found to be none by one look.
    private readonly Dictionary<string, List<Symbol>> definesByAnyCase = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, LineSyntax> parsed = pass.ParsedTexts;

    // What a define without parameters comes to, as long as no define comes or goes.
    private readonly Dictionary<Symbol, string> expanded = [];

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
            if (text.Length > LongestLine)
                break;
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
        // A define in the label column stands for an operation where nothing else on the line can be one.
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
            if (define.Parameters.Count > 0 && !TryArguments(syntax, ref end, out arguments))
                continue;
            if (word != define.Name)
                pass.Report(Catalogue.NameDiffersByCase, line.Place(i), line.Via, word, define.Name);
            int replacements = 0;
            if (arguments is not null || !expanded.TryGetValue(define, out string? value))
            {
                value = Expand(define, arguments, [define.Name], 1, ref replacements);
                if (arguments is null && replacements <= MostReplacements)
                    expanded.Add(define, value);
            }

            if (replacements > MostReplacements)
            {
                pass.Report(
                    Catalogue.LimitReached,
                    line.Place(i),
                    line.Via,
                    $"Putting in {define.Name} takes more than {MostReplacements:N0} replacements: its define leads to others without an end."
                );
                value = "0";
            }

            text ??= new StringBuilder(syntax.Text.Length + 16);
            text.Append(syntax.Text, copied, tokens[i].Start - copied);
            TextSpan replaced = TextSpan.FromBounds(tokens[i].Start, tokens[end - 1].End);
            (map ??= new PieceMap()).Add(text.Length, text.Length + value.Length, replaced);
            text.Append(value);
            pass.NoteReference(define, line.Place(i), line.Via);
            copied = replaced.End;
            i = end - 1;
            if (text.Length > LongestLine)
                break;
        }

        if (text is null)
            return syntax == line.Syntax ? line : line.With(syntax);
        text.Append(syntax.Text, copied, syntax.Text.Length - copied);
        return Remade(line, text.ToString(), map!);
    }

    /// <summary>The line with each <c>#v(expression)</c> replaced by the number that it is worth.</summary>
    public EffectiveLine WithPastedNumbers(in EffectiveLine line)
    {
        string source = line.Syntax.Text;
        var text = new StringBuilder(source.Length);
        var map = new PieceMap();
        int copied = 0;
        int codeEnd = line.Syntax.CodeSpan.End;
        while (
            source.AsSpan(copied, Math.Max(0, codeEnd - copied)).IndexOf("#v(", StringComparison.OrdinalIgnoreCase)
                is >= 0
                    and int offset
        )
        {
            int start = copied + offset;
            if (
                IsInText(line.Syntax, start)
                && line.Syntax.OperationToken >= 0
                && Directives.DirectiveList.Find(line.Syntax) is not { KeepsOperands: true }
            )
            {
                pass.Report(
                    Catalogue.UnsettledData,
                    line.Place(new TextSpan(start, 3)),
                    line.Via,
                    "Whether '#v(' is worked out inside quotes is not settled in printed listings; here the text stays as it is written."
                );
                text.Append(source, copied, start + 3 - copied);
                copied = start + 3;
                continue;
            }

            int close = MatchingClose(source, start + 2, codeEnd);
            if (close < 0)
                break;
            LineSyntax inner = Parse(" dw " + source[(start + 3)..close]);
            // The expression is worth the same wherever it stands, so its columns are led back by its start.
            var shifted = new PieceMap();
            shifted.Add(0, inner.Text.Length, TextSpan.FromBounds(start, close + 1));
            var place = new EffectiveLine(inner, line.File, line.Number, line.Via, shifted.Over(line.Pieces));
            Value value = inner.Operands.Length == 1 ? pass.Evaluate(inner.Operands[0].Value, place) : Value.Unknown;
            string digits = value.IsKnown
                ? value.Number.ToString(System.Globalization.CultureInfo.InvariantCulture)
                : "0";
            text.Append(source, copied, start - copied);
            map.Add(text.Length, text.Length + digits.Length, TextSpan.FromBounds(start, close + 1));
            text.Append(digits);
            copied = close + 1;
        }

        if (copied == 0)
            return line;
        text.Append(source, copied, source.Length - copied);
        return Remade(line, text.ToString(), map);
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

    private string Expand(
        Symbol define,
        List<string>? arguments,
        HashSet<string> active,
        int depth,
        ref int replacements
    )
    {
        string body = define.Text ?? "";
        if (body.Length == 0 || depth > DeepestNesting || ++replacements > MostReplacements)
            return body;
        LineSyntax syntax = LineSyntax.Parse(body, LineReading.NamesOnly);
        var text = new StringBuilder(body.Length);
        SyntaxToken[] tokens = syntax.Tokens;
        for (int i = 0; i < tokens.Length; i++)
        {
            if (tokens[i].Kind == TokenKind.Comment)
                break;
            if (tokens[i].Kind != TokenKind.Name || text.Length > LongestLine)
            {
                text.Append(syntax.SpanOf(i));
                continue;
            }

            string word = syntax.TextOf(i);
            int parameter = arguments is null ? -1 : IndexOf(define.Parameters, word);
            if (parameter >= 0)
            {
                text.Append(parameter < arguments!.Count ? arguments[parameter] : "");
                continue;
            }

            int end = i + 1;
            List<string>? inner = null;
            if (
                defines.TryGetValue(word, out Symbol? nested)
                && !active.Contains(word)
                && (nested.Parameters.Count == 0 || TryArguments(syntax, ref end, out inner))
            )
            {
                active.Add(word);
                text.Append(Expand(nested, inner, active, depth + 1, ref replacements));
                active.Remove(word);
                i = end - 1;
                continue;
            }

            text.Append(word);
        }

        return text.ToString().TrimEnd();
    }

    private static int IndexOf(IReadOnlyList<string> names, string name)
    {
        for (int i = 0; i < names.Count; i++)
            if (names[i] == name)
                return i;
        return -1;
    }

    private static bool TryArguments(LineSyntax syntax, ref int at, out List<string> arguments)
    {
        arguments = [];
        SyntaxToken[] tokens = syntax.Tokens;
        int open = at;
        while (open < tokens.Length && tokens[open].Kind == TokenKind.Blank)
            open++;
        if (open >= tokens.Length || tokens[open].Kind != TokenKind.Open)
            return false;
        int depth = 0,
            start = tokens[open].End;
        for (int i = open; i < tokens.Length; i++)
        {
            switch (tokens[i].Kind)
            {
                case TokenKind.Open:
                    depth++;
                    break;
                case TokenKind.Comma when depth == 1:
                    arguments.Add(syntax.Text[start..tokens[i].Start].Trim());
                    start = tokens[i].End;
                    break;
                case TokenKind.Close when --depth == 0:
                    arguments.Add(syntax.Text[start..tokens[i].Start].Trim());
                    at = i + 1;
                    return true;
            }
        }

        return false;
    }

    private static int MatchingClose(string text, int open, int end)
    {
        int depth = 0;
        for (int i = open; i < end; i++)
        {
            if (text[i] == '(')
                depth++;
            else if (text[i] == ')' && --depth == 0)
                return i;
        }

        return -1;
    }

    // The line that was made last from the same line is usually the same again: at the next pass, and at the next keystroke.
    private EffectiveLine Remade(in EffectiveLine line, string text, PieceMap map)
    {
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

    private static bool IsInText(LineSyntax syntax, int column)
    {
        foreach (SyntaxToken token in syntax.Tokens)
            if (token.Start < column && column < token.End)
                return token.Kind is TokenKind.Text or TokenKind.Character;
        return false;
    }
}
