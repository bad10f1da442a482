using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Problems;

/// <summary>Another place that helps to understand a problem.</summary>
public sealed record RelatedPlace(SourcePlace Place, string Text);

/// <summary>What is known of a problem beside its words. Each kind that needs more than words has a record of its own.</summary>
public abstract record ProblemFacts;

/// <summary>
/// One problem found: its kind, its place, the message in full, and the words that fill the message (a fix
/// reads them instead of taking the message apart).
/// </summary>
public sealed record Problem(
    ProblemKind Kind,
    SourcePlace Place,
    string Message,
    ImmutableArray<string> Arguments,
    ImmutableArray<RelatedPlace> Related
)
{
    /// <summary>What the finder of the problem knows beside its words, for the fix of the same file; null where that is nothing.</summary>
    public ProblemFacts? Facts { get; init; }

    /// <summary>The readable code of the kind.</summary>
    public string Code => Kind.Code;

    /// <summary>
    /// How much the problem weighs: as its kind says, unless it means heavier ones that it explains (a page header
    /// in the program is an error where it keeps the program from being built).
    /// </summary>
    public Severity Severity { get; init; } = Kind.Severity;
}
