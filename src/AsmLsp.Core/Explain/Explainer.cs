using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>Explains what is at a place of a program.</summary>
public static class Explainer
{
    /// <summary>What is at a column of a line (both from 0, UTF-16 code units); null on blanks and comments.</summary>
    public static Explanation? At(
        ProgramAnalysis program,
        SourceFile file,
        int line,
        int column,
        ExplainOptions? options = null
    )
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        if (line < 0 || line >= file.Text.LineCount)
            return null;
        var context = new ExplainContext(program, file, line, options ?? ExplainOptions.Default);
        int token = TokenAt(context.Syntax, column);
        if (token < 0 || Token(context, token) is not { } explanation)
            return null;
        explanation = WithReach(context, token, explanation);
        // What is said about a whole line or its operands is said here about the word that was asked about.
        TextSpan asked = context.Syntax.Tokens[token].Span;
        return explanation.Span.Start <= asked.Start && explanation.Span.End >= asked.End
            ? explanation
            : explanation with
            {
                Span = asked,
            };
    }

    /// <summary>The whole line (from 0): its operation in full, its names and numbers in a line each; null where it holds none.</summary>
    public static Explanation? Line(ProgramAnalysis program, SourceFile file, int line, ExplainOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        if (line < 0 || line >= file.Text.LineCount)
            return null;
        return LineExplainer.Explain(new ExplainContext(program, file, line, options ?? ExplainOptions.Default));
    }

    /// <summary>What a token of the line is, or null where there is nothing to say.</summary>
    internal static Explanation? Token(ExplainContext context, int token)
    {
        LineSyntax syntax = context.Syntax;
        SyntaxToken at = syntax.Tokens[token];
        if (at.Kind is TokenKind.Blank or TokenKind.Comment or TokenKind.Stray)
            return null;
        if (token != syntax.LabelToken && ConfigurationExplainer.IsAbout(context, token))
            return ConfigurationExplainer.Explain(context);
        if (token == syntax.LabelToken)
            return SymbolExplainer.Explain(context, syntax.TextOf(token), at.Span);
        if (token == syntax.OperationToken)
            return Operation(context, at.Span);
        if (syntax.OperationKind == OperationKind.Directive && DirectiveList.Find(syntax) is { } directive)
        {
            if (directive is IncludeDirective)
                return IncludeExplainer.Explain(context);
            if (directive is ListDirective or ProcessorDirective && ChipExplainer.OfOperand(context, token) is { } chip)
                return chip;
            if (
                directive is MacroDirective
                && syntax.Label is { } named
                && context.Values.Find(named).Symbol is { Kind: SymbolKind.Macro } defined
            )
                return defined.Parameters.Contains(syntax.TextOf(token), StringComparer.Ordinal)
                    ? MacroExplainer.Parameter(context, defined, syntax.TextOf(token), at.Span)
                    : null;
            if (directive is ListDirective or ProcessorDirective or RadixDirective or PageLayoutDirective)
                return null;
        }

        return at.Kind switch
        {
            TokenKind.Number or TokenKind.Character => LiteralExplainer.Explain(context, token),
            TokenKind.Text => TextExplainer.Explain(context, token),
            TokenKind.Here => HereExplainer.Explain(context, at.Span),
            TokenKind.Name => Name(context, token),
            _ => null,
        };
    }

    // At the operand that names a register: which one the instruction really reaches.
    private static Explanation WithReach(ExplainContext context, int token, Explanation explanation)
    {
        if (context.OperandAt(token, out int index) is null || context.RoleOf(index) != OperandRole.Register)
            return explanation;
        string lines = string.Concat(
            ReachExplainer.Of(context).Concat(PinExplainer.Of(context)).Select(static line => $"- {line}\n")
        );
        if (lines.Length == 0)
            return explanation;
        int list = explanation.Markdown.IndexOf("\n\n- ", StringComparison.Ordinal);
        string markdown =
            list < 0
                ? $"{explanation.Markdown.TrimEnd('\n')}\n\n{lines}"
                : explanation.Markdown.Insert(list + 2, lines);
        return explanation with { Markdown = markdown };
    }

    private static Explanation? Operation(ExplainContext context, TextSpan span)
    {
        LineSyntax syntax = context.Syntax;
        string word = syntax.Operation!;
        if (syntax.OperationKind == OperationKind.Instruction)
        {
            if (InstructionSet.Find(word) is { } instruction)
                return InstructionExplainer.Explain(context, instruction, span);
            if (Shorthand.Find(word) is { } shorthand)
                return ShorthandExplainer.Explain(context, shorthand, span);
        }

        if (DirectiveList.Find(syntax) is { } directive)
            return DirectiveExplainer.Explain(context, directive, span);
        (Symbol? symbol, _) = context.Values.Find(word);
        if (symbol is { Kind: SymbolKind.Macro })
            return MacroExplainer.Call(context, symbol, span);
        return SymbolExplainer.Explain(context, word, span);
    }

    private static Explanation? Name(ExplainContext context, int token)
    {
        LineSyntax syntax = context.Syntax;
        string name = syntax.TextOf(token);
        TextSpan span = syntax.Tokens[token].Span;
        if (context.EnclosingMacro is { } macro && macro.Parameters.Contains(name, StringComparer.Ordinal))
            return MacroExplainer.Parameter(context, macro, name, span);
        (Symbol? symbol, DeviceSymbol? builtIn) = context.Values.Find(name);
        OperandSyntax? operand = context.OperandAt(token, out int index);
        bool alone = operand is not null && operand.Span == span;
        if (alone && context.RoleOf(index) == OperandRole.Destination && symbol is null)
            return DestinationExplainer.Explain(context, name, span);
        if (symbol is not null)
            return SymbolExplainer.Explain(context, name, span);
        return builtIn is null
            ? OperatorExplainer.Explain(name, span)
            : BuiltInExplainer.Explain(context, builtIn, name, span);
    }

    // A caret after the last letter of a thing still points at it; on what is between things there is nothing.
    private static int TokenAt(LineSyntax syntax, int column)
    {
        SyntaxToken[] tokens = syntax.Tokens;
        for (int i = 0; i < tokens.Length; i++)
        {
            if (column < tokens[i].Start || column > tokens[i].End)
                continue;
            bool isInside = column < tokens[i].End;
            if (isInside && tokens[i].Kind != TokenKind.Blank && !IsPunctuation(tokens[i].Kind))
                return i;
            if (!isInside && IsThing(tokens[i].Kind) && (i + 1 == tokens.Length || !IsThing(tokens[i + 1].Kind)))
                return i;
            if (isInside && IsPunctuation(tokens[i].Kind))
                return i;
        }

        return -1;
    }

    private static bool IsThing(TokenKind kind) =>
        kind is TokenKind.Name or TokenKind.Number or TokenKind.Character or TokenKind.Text or TokenKind.Here;

    private static bool IsPunctuation(TokenKind kind) =>
        kind
            is TokenKind.Comma
                or TokenKind.Colon
                or TokenKind.Open
                or TokenKind.Close
                or TokenKind.Operator
                or TokenKind.Stray;
}
