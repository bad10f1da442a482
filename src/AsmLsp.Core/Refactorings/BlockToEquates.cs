using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Turns a block of variables into one <c>equ</c> line for each name, comments and all.</summary>
internal sealed class BlockToEquates : RefactoringProvider
{
    public override string Name => "block-to-equates";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (Bounds(request) is not var (first, last) || request.LastLine > last)
            return;
        int names = 0;
        for (int i = first; i <= last; i++)
        {
            if (!QuietLines.Of(request.Program).IsQuiet(request.File, i))
                return;
            if (i == first || i == last)
                continue;
            foreach ((string name, int _) in Members(request, i, out bool isWhole))
            {
                if (!isWhole || request.Program.FindSymbol(name) is not { Kind: SymbolKind.BlockMember, IsKnown: true })
                    return;
                names++;
            }

            if (
                !request.Syntax(i).IsBlank
                && Members(request, i, out _).Count == 0
                && request.Syntax(i).CodeSpan.Length > 0
            )
                return;
        }

        if (names > 0)
            request.Add(
                "equates",
                $"Turn the block into {names} {(names == 1 ? "definition" : "definitions")} (equ)",
                WordEffect.Same,
                () => Plan(request, first, last)
            );
    }

    private static RefactoringPlan Plan(RefactoringRequest request, int first, int last)
    {
        SourceStyle style = SourceStyle.Of(request.Text);
        ColumnStyle columns = ColumnStyle.Of(request.Text);
        var lines = new List<string>();
        if (LineSyntax.Of(request.Text[first]).Comment is { } opening)
            lines.Add(opening);
        for (int i = first + 1; i < last; i++)
        {
            List<(string Name, int Size)> members = Members(request, i, out _);
            string? comment = request.Syntax(i).Comment;
            if (members.Count == 0)
                lines.Add(request.Text[i].Text);
            for (int m = 0; m < members.Count; m++)
            {
                (string name, int size) = members[m];
                string line =
                    name
                    + columns.Gap(name.Length, columns.OperationColumn)
                    + columns.Statement(
                        style.Operation(OperationWords.Spell(Keyword.Equ)),
                        Show.Hex(request.Program.FindSymbol(name)!.Value, 2)
                    );
                // How long a variable is can't be said by 'equ'.
                string remark =
                    (size == 1 ? "" : $"; {size} registers")
                    + (m == members.Count - 1 && comment is not null ? (size == 1 ? "" : " ") + comment : "");
                lines.Add(
                    remark.Length > 0
                        ? line + columns.Gap(ColumnStyle.Advance(line, 0, columns.TabSize), 32) + remark
                        : line
                );
            }
        }

        if (LineSyntax.Of(request.Text[last]).Comment is { } closing)
            lines.Add(closing);
        var plan = new RefactoringPlan();
        plan.ReplaceLines(request.File, first, last, lines);
        return plan;
    }

    // The lines with 'cblock' and 'endc' around the cursor.
    private static (int First, int Last)? Bounds(RefactoringRequest request)
    {
        int first = request.FirstLine;
        while (first >= 0 && !Is(request, first, Keyword.VariableBlock))
        {
            bool isInside =
                (request.Facts(first).Role & LineRole.BlockMember) != 0
                || LineSyntax.Of(request.Text[first]).IsBlank
                || (first == request.FirstLine && Is(request, first, Keyword.EndVariableBlock));
            if (!isInside)
                return null;
            first--;
        }

        if (first < 0 || (request.Facts(first).Role & (LineRole.Skipped | LineRole.Body | LineRole.AfterEnd)) != 0)
            return null;
        int last = first + 1;
        while (last < request.Text.LineCount && !Is(request, last, Keyword.EndVariableBlock))
        {
            if ((request.Facts(last).Role & LineRole.BlockMember) == 0 && !LineSyntax.Of(request.Text[last]).IsBlank)
                return null;
            last++;
        }

        return last < request.Text.LineCount && request.FirstLine <= last ? (first, last) : null;
    }

    private static bool Is(RefactoringRequest request, int line, Keyword keyword) =>
        LineSyntax.Of(request.Text[line]) is { LabelToken: < 0 } syntax
        && syntax.Keyword == keyword
        && (request.Facts(line).Role & LineRole.BlockMember) == 0;

    private static List<(string Name, int Size)> Members(RefactoringRequest request, int line, out bool isWhole)
    {
        var found = new List<(string, int)>();
        isWhole = true;
        if ((request.Facts(line).Role & LineRole.BlockMember) == 0)
            return found;
        LineSyntax syntax = request.Syntax(line);
        foreach (OperandSyntax operand in syntax.Operands)
        {
            if (operand.Span.Length == 0)
                continue;
            int at = operand.FirstToken;
            while (syntax.Tokens[at].Kind == TokenKind.Blank)
                at++;
            string name = syntax.TextOf(at);
            Symbol? symbol = request.Program.FindSymbol(name);
            // A name that means something else by a define, or that is put together, is not to be spelled out.
            isWhole &=
                syntax.Tokens[at].Kind == TokenKind.Name
                && symbol is not null
                && symbol.Definition.File == request.File
                && symbol.Definition.Line == line;
            found.Add((name, symbol?.Size ?? 1));
        }

        return found;
    }
}
