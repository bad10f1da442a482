using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>Closes a quote.</summary>
internal sealed class CloseQuote : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.UnclosedQuote];

    internal override void Offer(FixRequest request)
    {
        string text = request.Marked.TrimEnd();
        if (text.Length < 2)
            return;
        char quote = text[0] == '"' ? '"' : '\'';
        int end = request.Problem.Place.Columns.Start + text.Length;
        request.Guess("Close the quote here", "quote closed", request.Edit(end, end, quote.ToString()));
    }
}
