using AsmLsp.Core.Assembly;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// Writes the value of an <c>equ</c>, or the text of a <c>#define</c>, in place of the name: here, or in all places, and then the definition
/// becomes a comment.
/// </summary>
internal sealed class InlineValue : RefactoringProvider
{
    public override string Name => "inline-value";

    public override RefactoringKind Kind => RefactoringKind.Inline;

    // All lines are searched for the name.
    public override bool IsCheap => false;

    internal override void Offer(RefactoringRequest request)
    {
        if (!request.IsOneLine || !request.IsPlain(request.FirstLine))
            return;
        LineSyntax syntax = request.Syntax(request.FirstLine);
        for (int i = 0; i < syntax.EndOfCode; i++)
        {
            if (
                syntax.Tokens[i].Kind != TokenKind.Name
                || !request.IsAt(syntax.Tokens[i].Span)
                || request.Program.FindSymbol(syntax.TextOf(i)) is not { Via: null } symbol
            )
                continue;
            if (ValueAt(request, symbol, request.File, request.FirstLine) is not { } value)
                continue;
            SyntaxToken token = syntax.Tokens[i];
            bool isDefinition = IsDefinition(symbol, request.File, request.FirstLine, token.Span);
            if (!isDefinition && !IsUse(request, request.File, request.FirstLine, i))
                continue;
            if (!isDefinition)
            {
                request.Add(
                    "here",
                    $"Write {value} for {symbol.Name} here",
                    WordEffect.Same,
                    () =>
                    {
                        var plan = new RefactoringPlan();
                        plan.Replace(request.File, request.FirstLine, token.Span, value);
                        return plan;
                    }
                );
            }

            if (Uses(request, symbol) is { Count: > 0 } uses)
                request.Add(
                    "all",
                    $"Write {value} for {symbol.Name} {Refactoring.Places(uses.Count)} where it is used, and make its definition a comment",
                    WordEffect.Same,
                    () => All(request, symbol, uses)
                );
            return;
        }
    }

    private static RefactoringPlan? All(RefactoringRequest request, Symbol symbol, List<SourcePlace> uses)
    {
        var plan = new RefactoringPlan();
        foreach (SourcePlace use in uses)
        {
            if (ValueAt(request, symbol, use.File, use.Line) is not { } value)
                return null;
            plan.Replace(use.File, use.Line, use.Columns, value);
        }

        plan.Replace(symbol.Definition.File, symbol.Definition.Line, 0, 0, "; ");
        plan.Gone.Add(symbol.Name);
        return plan;
    }

    // What means the name on a line: the number as it was defined where that reads the same there.
    private static string? ValueAt(RefactoringRequest request, Symbol symbol, SourceFile file, int line)
    {
        SourcePlace at = symbol.Definition;
        if (!request.IsPlain(at.File, at.Line))
            return null;
        LineSyntax definition = LineSyntax.Of(at.File.Text[at.Line]);
        if (symbol.Kind == SymbolKind.Define)
            return symbol is { Text.Length: > 0, Parameters.Count: 0 } && definition.Operation is not null
                ? symbol.Text
                : null;
        if (
            symbol is not { Kind: SymbolKind.Constant, IsKnown: true, Value: >= 0 }
            || definition.Keyword != Keyword.Equ
        )
            return null;
        if (
            definition.Operands is [{ Value: LiteralExpression literal }]
            && Literals.Read(literal.Text, request.Program.FactsOf(file, line).Radix)
                is { Fault: LiteralFault.None, IsAmbiguous: false } again
            && again.Value == symbol.Value
        )
            return literal.Text;
        return Show.Hex(symbol.Value, 2);
    }

    private static bool IsDefinition(Symbol symbol, SourceFile file, int line, TextSpan columns) =>
        symbol.Definition.File == file && symbol.Definition.Line == line && symbol.Definition.Columns == columns;

    // In an operand of an instruction, a definition or data; a define may also be the operation itself.
    private static bool IsUse(RefactoringRequest request, SourceFile file, int line, int token)
    {
        if (!request.IsPlain(file, line) || (request.Program.FactsOf(file, line).Role & LineRole.MacroCall) != 0)
            return false;
        LineSyntax syntax = request.Program.SyntaxOf(file, line);
        if (token == syntax.LabelToken)
            return false;
        if (token == syntax.OperationToken)
            return syntax.OperationKind == OperationKind.Unknown;
        return syntax.OperationKind is OperationKind.Instruction or OperationKind.Assignment or OperationKind.Unknown
            || syntax.Has(WordTraits.TakesValues);
    }

    // Every place of the name in all files; null where one of them cannot be written anew.
    private static List<SourcePlace>? Uses(RefactoringRequest request, Symbol symbol)
    {
        var found = new List<SourcePlace>();
        foreach (SourceFile file in request.Program.Files)
        {
            int number = -1;
            foreach (TextLine line in file.Text.Lines)
            {
                number++;
                if (!line.Text.Contains(symbol.Name, StringComparison.OrdinalIgnoreCase))
                    continue;
                LineSyntax syntax = request.Program.SyntaxOf(file, number);
                for (int i = 0; i < syntax.EndOfCode; i++)
                {
                    if (
                        syntax.Tokens[i].Kind != TokenKind.Name
                        || !syntax.SpanOf(i).Equals(symbol.Name, StringComparison.OrdinalIgnoreCase)
                    )
                        continue;
                    if (IsDefinition(symbol, file, number, syntax.Tokens[i].Span))
                        continue;
                    if (!syntax.SpanOf(i).SequenceEqual(symbol.Name) || !IsUse(request, file, number, i))
                        return null;
                    found.Add(new SourcePlace(file, number, syntax.Tokens[i].Span));
                }
            }
        }

        return found;
    }
}
