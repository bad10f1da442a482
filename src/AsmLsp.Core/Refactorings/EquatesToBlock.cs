using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Turns <c>equ</c> lines that give one number after the other into a block of variables, comments and all.</summary>
internal sealed class EquatesToBlock : RefactoringProvider
{
    public override string Name => "equates-to-block";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (Value(request, request.FirstLine) is null)
            return;
        // At the cursor the whole run is meant, in a selection what is selected.
        int first = request.FirstLine,
            last = request.LastLine;
        if (request.IsOneLine)
        {
            while (Value(request, first - 1) is { } above && above + 1 == Value(request, first))
                first--;
            while (Value(request, last + 1) is { } below && below == Value(request, last) + 1)
                last++;
        }

        if (last == first)
            return;
        for (int i = first + 1; i <= last; i++)
            if (Value(request, i) is not { } value || value != Value(request, i - 1) + 1)
                return;
        request.Add(
            "block",
            $"Turn {last - first + 1} definitions from {request.Syntax(first).Label} on into a block (cblock)",
            WordEffect.Same,
            () => Plan(request, first, last)
        );
    }

    private static RefactoringPlan Plan(RefactoringRequest request, int first, int last)
    {
        ColumnStyle columns = ColumnStyle.Of(request.Text);
        string indent = columns.Indent;
        SourceStyle style = SourceStyle.Of(request.Text);
        string start = request.Syntax(first).Operands[0].Value is LiteralExpression literal
            ? literal.Text
            : Show.Hex(Value(request, first)!.Value, 2);
        var lines = new List<string>
        {
            indent + columns.Statement(style.Operation(OperationWords.Spell(Keyword.VariableBlock)), start),
        };
        for (int i = first; i <= last; i++)
        {
            LineSyntax line = request.Syntax(i);
            // The comment stays in its column.
            string gap = line.Comment is null
                ? ""
                : new string(
                    ' ',
                    Math.Max(
                        1,
                        ColumnStyle.Advance(line.Text.AsSpan(0, line.Tokens[line.CommentToken].Start), 0, 8)
                            - line.Label!.Length
                    )
                );
            lines.Add(line.Label + gap + line.Comment);
        }

        lines.Add(indent + style.Operation(OperationWords.Spell(Keyword.EndVariableBlock)));
        var plan = new RefactoringPlan();
        plan.ReplaceLines(request.File, first, last, lines);
        return plan;
    }

    private static int? Value(RefactoringRequest request, int line)
    {
        if (line < 0 || line >= request.Text.LineCount)
            return null;
        LineSyntax syntax = request.Syntax(line);
        if (
            syntax.Label is not { } name
            || syntax.Keyword != Keyword.Equ
            || syntax.LabelIndented
            || syntax.Operands.Length != 1
            || !request.IsPlain(line)
        )
            return null;
        // Inside a block a word of the language may close it.
        if (OperationWords.KindOf(name) != OperationKind.Unknown)
            return null;
        return
            request.Program.FindSymbol(name) is { Kind: SymbolKind.Constant, IsKnown: true } symbol
            && symbol.Definition.File == request.File
            && symbol.Definition.Line == line
            ? symbol.Value
            : null;
    }
}
