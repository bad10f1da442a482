using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;

namespace AsmLsp.Host.Archive;

/// <summary>What an archive is made of.</summary>
/// <param name="Document">The document with what was recovered from it.</param>
/// <param name="Report">The report of the recovery, as JSON.</param>
/// <param name="Version">The version of this program.</param>
public sealed record ArchiveRequest(RecoveredDocument Document, string Report, string Version)
{
    /// <summary>The chip that was named beside the source, or null.</summary>
    public string? Chip { get; init; }

    /// <summary>The options that recovery was given, as they are written on the command line; each begins with a blank.</summary>
    public string Options { get; init; } = "";

    /// <summary>The pictures of the lines to compare, or null.</summary>
    public DocumentPictures? Pictures { get; init; }
}

/// <summary>What came of writing an archive.</summary>
/// <param name="Refusal">Why nothing was written, for people; null where it was.</param>
/// <param name="State">The program as it is in the archive; null where nothing was written.</param>
/// <param name="Notes">What a person should know.</param>
public sealed record ArchiveOutcome(string? Refusal, ArchiveState? State, IReadOnlyList<string> Notes);
