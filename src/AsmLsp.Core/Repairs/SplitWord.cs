using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>A word with a blank inside, as wide letter spacing leaves it: <c>mov lw 5</c>, <c>bsf STAT US,5</c>.</summary>
internal sealed class SplitWord : PrintCheck
{
    private const int MostPieces = 4;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.SplitWord];

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (
                shape.Has(LineTraits.Blank | LineTraits.CommentOnly | LineTraits.CodeLike)
                || view.IsExplained(line)
                || !view.IsRead(line)
            )
                continue;
            if ((view.TroubleOf(line) & (Trouble.UnknownOperation | Trouble.Leftover | Trouble.UndefinedName)) == 0)
                continue;
            if ((Operation(view.Syntax(line)) ?? Name(view, line)) is not { } found)
                continue;
            string text = view.TextOf(line).Substring(found.Start, found.Length);
            view.Report(
                Catalogue.SplitWord,
                line,
                found,
                line,
                Explains.WholeLine,
                text,
                text.Replace(" ", "", StringComparison.Ordinal)
            );
        }
    }

    internal override void Offer(FixRequest request)
    {
        string whole = request.Problem.Arguments[1];
        request.Guess(
            $"Write '{whole}'",
            new Doubt($"was '{request.Marked}'") { Kind = DoubtKind.Word },
            request.ReplaceMarked(whole)
        );
    }

    // The first words make an operation together, and the line then reads as code.
    private static TextSpan? Operation(LineSyntax syntax)
    {
        int first = 0;
        while (first < syntax.EndOfCode && syntax.Tokens[first].Kind == TokenKind.Blank)
            first++;
        for (int attempt = 0; attempt < 2; attempt++)
        {
            int at = first;
            string word = "";
            for (
                int piece = 0;
                piece < MostPieces && at < syntax.EndOfCode && syntax.Tokens[at].Kind == TokenKind.Name;
                piece++
            )
            {
                word += syntax.TextOf(at);
                if (piece > 0 && OperationWords.KindOf(word) == OperationKind.Instruction)
                {
                    var span = TextSpan.FromBounds(syntax.Tokens[first].Start, syntax.Tokens[at].End);
                    string text = string.Concat(
                        syntax.Text.AsSpan(0, span.Start),
                        span.Start == 0 ? " " : "",
                        word,
                        syntax.Text.AsSpan(span.End)
                    );
                    if (CodeShape.IsCode(LineSyntax.Parse(text)))
                        return span;
                }

                if (at + 1 >= syntax.EndOfCode || syntax.Tokens[at + 1] is not { Kind: TokenKind.Blank, Length: 1 })
                    break;
                at += 2;
            }

            // Once more after a label.
            if (first + 2 >= syntax.EndOfCode || syntax.Tokens[first + 1].Kind != TokenKind.Blank)
                return null;
            first += 2;
        }

        return null;
    }

    // Two words of the operands make a name that is known, and neither is one.
    private static TextSpan? Name(CheckedFile view, int line)
    {
        LineSyntax syntax = view.Syntax(line);
        if (syntax.OperationKind != OperationKind.Instruction)
            return null;
        for (int i = syntax.FirstOperandToken; i + 2 < syntax.EndOfCode; i++)
        {
            if (
                syntax.Tokens[i].Kind != TokenKind.Name
                || syntax.Tokens[i + 1] is not { Kind: TokenKind.Blank, Length: 1 }
                || syntax.Tokens[i + 2].Kind is not (TokenKind.Name or TokenKind.Number)
            )
                continue;
            if (
                !IsKnown(view.Program, syntax.TextOf(i) + syntax.TextOf(i + 2))
                || IsKnown(view.Program, syntax.TextOf(i))
            )
                continue;
            return TextSpan.FromBounds(syntax.Tokens[i].Start, syntax.Tokens[i + 2].End);
        }

        return null;
    }

    private static bool IsKnown(ProgramAnalysis program, string name) =>
        program.FindSymbol(name) is not null || program.NamesDevice?.Symbols.Find(name) is not null;
}
