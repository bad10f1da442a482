using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>A second operation after the operands of the first: the end of a line was lost between them.</summary>
internal sealed class TwoLinesInOne : PrintCheck
{
    // Two printed lines that ran together have one place where they meet; each place costs a look at the whole line.
    private const int MostPlaces = 8;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.TwoLinesInOne];

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (
                !shape.Has(LineTraits.SecondOperation)
                || shape.Has(LineTraits.Doubt)
                || view.IsExplained(line)
                || (view.Role(line) & LineRole.AfterEnd) != 0
            )
                continue;
            LineSyntax syntax = view.Syntax(line);
            int at = SecondOperation(syntax);
            view.Report(
                Catalogue.TwoLinesInOne,
                line,
                TextSpan.FromBounds(at, syntax.CodeSpan.End),
                line,
                Explains.WholeLine,
                syntax.Text[at..syntax.CodeSpan.End]
            );
        }
    }

    internal override void Offer(FixRequest request)
    {
        string line = request.LineText;
        int at = request.Problem.Place.Columns.Start,
            gap = at;
        while (gap > 0 && Lexer.IsBlank(line[gap - 1]))
            gap--;
        request.Guess(
            "Put it on a line of its own",
            Doubt.Extent("printed in one line"),
            request.Edit(gap, at, request.Text.UsualEnding + ColumnStyle.Of(request.Text).Indent)
        );
    }

    /// <summary>The column of a known operation after operands, where what is on either side of it is whole; -1 where there is none.</summary>
    public static int SecondOperation(LineSyntax syntax)
    {
        if (syntax.OperationToken < 0 || syntax.OperationKind == OperationKind.Unknown)
            return -1;
        int operation = syntax.Tokens[syntax.OperationToken].Start;
        if (syntax.LabelToken >= 0)
        {
            // A variable in a block, and the block's end; 'return', and the operation below it.
            if (Closes(syntax.Keyword))
                return operation;
            if (
                syntax.ColonToken < 0
                && syntax.OperationKind == OperationKind.Directive
                && IsWholeAlone(syntax.SpanOf(syntax.LabelToken))
                && syntax.Keyword != Keyword.Macro
            )
                return operation;
        }

        // Operands that are text of any kind may hold instructions too.
        if (syntax.Has(WordTraits.FreeOperands) || syntax.Keyword == Keyword.Undefine)
            return -1;
        bool? isWhole = null;
        int places = 0;
        for (int i = syntax.OperationToken + 2; i < syntax.EndOfCode; i++)
        {
            if (
                syntax.Tokens[i].Kind != TokenKind.Name
                || syntax.Tokens[i - 1].Kind != TokenKind.Blank
                || syntax.Tokens[i - 2].Kind is TokenKind.Comma or TokenKind.Operator or TokenKind.Open
            )
                continue;
            if (OperationWords.Find(syntax.SpanOf(i)) is not { } word)
                continue;
            if (word.Keyword == Keyword.Local || (Closes(word.Keyword) && i == LastWord(syntax)))
                return syntax.Tokens[i].Start;
            if (!word.Has(WordTraits.MakesWords) && (word.Kind != OperationKind.Instruction || word.Text.Length < 3))
                continue;
            isWhole ??= CodeShape.IsCode(syntax) && syntax.OperationKind != OperationKind.Directive;
            if (isWhole.Value || ++places > MostPlaces)
                continue;
            string before = syntax.Text[..syntax.Tokens[i].Start],
                after = " " + syntax.Text[syntax.Tokens[i].Start..syntax.CodeSpan.End];
            if (CodeShape.IsCode(LineSyntax.Parse(before)) && CodeShape.IsCode(LineSyntax.Parse(after)))
                return syntax.Tokens[i].Start;
        }

        return -1;
    }

    private static bool IsWholeAlone(ReadOnlySpan<char> word) =>
        OperationWords.TakesNoOperand(word) || OperationWords.KeywordOf(word) == Keyword.Else;

    // Words that close what other lines open: inside of it nothing is assembled that could complain.
    private static bool Closes(Keyword keyword) =>
        keyword is Keyword.EndMacro or Keyword.EndVariableBlock or Keyword.EndIf or Keyword.EndWhile;

    private static int LastWord(LineSyntax syntax)
    {
        int last = syntax.EndOfCode - 1;
        while (last > 0 && syntax.Tokens[last].Kind == TokenKind.Blank)
            last--;
        return last;
    }
}
