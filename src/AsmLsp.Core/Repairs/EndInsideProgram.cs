using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// An <c>end</c> with more program after it: most likely a word of a remark, since nothing below it would be read.
/// Text after the end is normal; it takes several instructions, or a second <c>end</c>, to be a program.
/// </summary>
internal sealed class EndInsideProgram : PrintCheck
{
    private const int ProgramLines = 3;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.EndInsideProgram];

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (
                !shape.Has(LineTraits.End)
                || (view.Role(line) & (LineRole.AfterEnd | LineRole.Skipped | LineRole.Body)) != 0
            )
                continue;
            if (shape.Has(LineTraits.Doubt) || view.IsExplained(line))
                return;
            int first = FirstCodeAfter(view, line, shape.Has(LineTraits.CodeLike) ? ProgramLines : 1);
            if (first < 0)
                return;
            view.Report(
                Catalogue.EndInsideProgram,
                line,
                view.Visible(line),
                line,
                Explains.NamesAfter,
                (first + 1).ToString(CultureInfo.InvariantCulture)
            );
            return;
        }
    }

    internal override void Offer(FixRequest request)
    {
        TextSpan span = request.Problem.Place.Columns;
        TextEdit comment = request.Edit(span.Start, span.Start, "; ");
        TextEdit mark = request.Edit(
            request.LineText.Length,
            request.LineText.Length,
            " ;? does the program end here?"
        );
        bool isSentence =
            !request.Syntax.OperandText.AsSpan().Trim().IsEmpty
            || (
                request.Line > 0
                && LineShape.Of(request.Text[request.Line - 1]).Has(LineTraits.HasComment)
                && LineShape.IsUnfinished(request.Text[request.Line - 1].Text)
            );
        if (NeedsWhatFollows(request))
        {
            request.Guess(
                "Make it a comment",
                Doubt.Remark("taken as no end: the program uses labels that are printed below"),
                comment
            );
            request.Guess("Keep it as the end, with a doubt", null, mark);
            return;
        }

        if (isSentence)
        {
            request.Guess("Make it a comment", Doubt.Remark("taken as part of a remark, not as the end"), comment);
            request.Guess("Keep it as the end, with a doubt", null, mark);
            return;
        }

        request.Guess("Keep it as the end, with a doubt", "does the program end here?", mark);
        request.Guess("Make it a comment", null, comment);
    }

    // Whether a label after the end is the one that a line in front of it asks for.
    private static bool NeedsWhatFollows(FixRequest request)
    {
        var lacking = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (Problem problem in request.Program.Problems)
            if (problem.Kind == Catalogue.UndefinedName && problem.Place.File == request.File)
                lacking.Add(problem.Arguments[0]);
        for (int i = request.Line + 1; i < request.Text.LineCount && lacking.Count > 0; i++)
            if (LineSyntax.Of(request.Text[i]) is { Label: { } label } && lacking.Contains(label))
                return true;
        return false;
    }

    /// <summary>The first line of program after an end, where a second end or a number of such lines follow; else -1.</summary>
    public static int FirstCodeAfter(CheckedFile view, int end, int wanted)
    {
        int lines = 0,
            first = -1;
        for (int i = end + 1; i < view.LineCount; i++)
        {
            LineShape shape = view.Shape(i);
            if (shape.Has(LineTraits.Blank | LineTraits.CommentOnly))
                continue;
            if (shape.Has(LineTraits.End))
                return first;
            if (!IsProgram(view, i, shape))
                continue;
            if (first < 0)
                first = i;
            if (++lines >= wanted)
                return first;
        }

        return -1;
    }

    private static bool IsProgram(CheckedFile view, int line, LineShape shape)
    {
        LineSyntax syntax = view.Syntax(line);
        if (shape.Has(LineTraits.CodeLike))
            return syntax.OperationKind is OperationKind.Instruction or OperationKind.Directive;
        string? word = syntax.Operation ?? syntax.Label;
        return word is not null && view.Program.FindSymbol(word) is { Kind: SymbolKind.Macro }
            || (syntax.Label is { } label && view.Program.FindSymbol(label) is { Kind: SymbolKind.Macro });
    }
}
