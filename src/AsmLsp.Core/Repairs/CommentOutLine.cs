using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Makes a comment of a line that cannot be an operation: a text in quotes, or what a stray sign begins.</summary>
internal sealed class CommentOutLine : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.UnknownOperation];

    internal override void Offer(FixRequest request)
    {
        string marked = request.Marked;
        if (marked.Length == 0 || char.IsLetter(marked[0]) || marked[0] is '_' or '#')
            return;
        int start = request.Problem.Place.Columns.Start;
        // A sign by itself before an instruction: '. nop'.
        if (marked.Length > 2 && marked[0] is '.' or ':' or ',' && marked[1] is ' ' or '\t')
            request.Guess($"Remove the '{marked[0]}'", null, request.Edit(start, start + 1, " "));
        request.Guess("Make the line a comment", null, request.Edit(start, start, "; "));
    }
}
