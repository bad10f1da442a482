using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Joins configuration settings by the sign that joins them.</summary>
internal sealed class JoinSettings : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.ConfigurationJoinedWrongly];

    internal override void Offer(FixRequest request)
    {
        if (request.Marked.Length > 0)
            request.Guess("Join the settings by '&'", null, request.ReplaceMarked("&"));
    }
}
