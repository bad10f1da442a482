using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>#define</c>: a text that is put in wherever its name is.</summary>
internal sealed class DefineDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["#define", "define"];

    public override string Usage => "#define name text";

    public override string Summary => "Puts the text in place of the name in every line that follows.";

    public override bool KeepsOperands => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        SyntaxToken[] tokens = syntax.Tokens;
        int at = syntax.FirstOperandToken;
        while (at < syntax.EndOfCode && tokens[at].Kind == TokenKind.Blank)
            at++;
        if (at >= syntax.EndOfCode || tokens[at].Kind != TokenKind.Name)
        {
            pass.Report(Catalogue.MissingOperand, line.OperationPlace, line.Via, syntax.Operation!, "a name", Usage);
            return;
        }

        int name = at++;
        List<string> parameters = [];
        if (
            at < syntax.EndOfCode
            && tokens[at].Kind == TokenKind.Open
            && TryParameters(syntax, at, parameters, out int after)
        )
            at = after;
        int from = at < syntax.EndOfCode ? tokens[at].Start : tokens[name].End;
        int to = syntax.CodeSpan.End;
        string text = to > from ? syntax.Text[from..to].Trim() : "";
        if (Symbol(pass, line, name, text, parameters) is { } symbol)
            pass.Substitution.Define(symbol);
    }

    private static Symbol? Symbol(
        AssemblyPass pass,
        in EffectiveLine line,
        int name,
        string text,
        List<string> parameters
    )
    {
        string word = line.Syntax.TextOf(name);
        Symbol symbol = pass.Symbols.GetOrAdd(word, SymbolKind.Define);
        if (symbol.Pass == pass.Symbols.Pass && symbol.Kind != SymbolKind.Define)
        {
            if (symbol.Kind is SymbolKind.Macro or SymbolKind.External)
            {
                pass.ReportTwice(symbol, line.Place(name), line.Via);
                return null;
            }

            // Compilers write so: a value first, further down a define. Up to here it was the value.
            symbol.ValueBefore = symbol.IsKnown ? symbol.Value : null;
            pass.Report(
                Catalogue.DefineReplacesValue,
                line.Place(name),
                line.Via,
                [
                    word,
                    symbol.IsKnown ? Show.Hex(symbol.Value) : "a value",
                    AssemblyPass.PlaceOf(symbol, line.Place(name)),
                    text,
                ],
                new RelatedPlace(symbol.Definition, "the value")
            );
        }

        if (pass.Substitution.IsDefined(word) && symbol.Text is { } earlier && earlier != text)
            pass.Report(
                Catalogue.DefineChanged,
                line.Place(name),
                line.Via,
                word,
                earlier,
                AssemblyPass.PlaceOf(symbol, line.Place(name)),
                text
            );
        symbol.Kind = SymbolKind.Define;
        symbol.Definition = line.Place(name);
        symbol.Via = line.Via;
        symbol.Text = text;
        symbol.Parameters = parameters;
        pass.Symbols.Assign(symbol, 0, false);
        pass.NoteDefinition(symbol, symbol.Definition, line.Via);
        return symbol;
    }

    // '#define name(a,b) text' has parameters; '#define name (a+b)' has a text in parentheses.
    private static bool TryParameters(LineSyntax syntax, int open, List<string> parameters, out int after)
    {
        for (int i = open + 1; i < syntax.EndOfCode; i++)
        {
            switch (syntax.Tokens[i].Kind)
            {
                case TokenKind.Name:
                    parameters.Add(syntax.TextOf(i));
                    break;
                case TokenKind.Comma or TokenKind.Blank:
                    break;
                case TokenKind.Close:
                    after = i + 1;
                    return parameters.Count > 0;
                default:
                    after = open;
                    return false;
            }
        }

        after = open;
        return false;
    }
}
