namespace AsmLsp.LanguageServer.Workspace;

/// <summary>How long a program may be worked on. The work itself is bounded too; this is for a machine that is slow or busy.</summary>
/// <param name="Longest">For the version of a program that counts.</param>
/// <param name="Outdated">For a version that a newer one has replaced: requests that came before still get their answer where it is near.</param>
internal sealed record AnalysisLimits(TimeSpan Longest, TimeSpan Outdated)
{
    /// <summary>Some ten times what the largest program of these chips takes, and what a person waits for without a thought.</summary>
    public static AnalysisLimits Usual { get; } = new(TimeSpan.FromSeconds(20), TimeSpan.FromSeconds(1));
}
