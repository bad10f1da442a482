using System.Collections.Immutable;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>The whole workspace at one moment; a request works on the one that was current when it arrived.</summary>
/// <param name="Number">Counts up with every change.</param>
/// <param name="Documents">What is open in the editor.</param>
/// <param name="Folders">The folders that the editor shows.</param>
/// <param name="Settings">The settings in force.</param>
internal sealed record WorkspaceSnapshot(
    long Number,
    ImmutableDictionary<DocumentUri, OpenDocument> Documents,
    ImmutableArray<DocumentUri> Folders,
    Settings Settings
)
{
    /// <summary>Counts up with every change but the editing of a text: what was seen on the disk before need not hold any more.</summary>
    public long DiskState { get; init; }

    public static WorkspaceSnapshot Empty { get; } =
        new(0, ImmutableDictionary<DocumentUri, OpenDocument>.Empty, [], Settings.Default);

    /// <summary>The open document that a client means, or null.</summary>
    public OpenDocument? Find(string uri) => Documents.GetValueOrDefault(DocumentUri.Parse(uri));
}

/// <summary>What a change touched.</summary>
internal enum ChangeKind
{
    Opened,
    Edited,
    Saved,
    Closed,
    Settings,
    Folders,
    Files,
}

/// <summary>A step from one snapshot to the next; <paramref name="Documents"/> are those it is about (open or not).</summary>
internal sealed record WorkspaceChange(
    ChangeKind Kind,
    WorkspaceSnapshot Before,
    WorkspaceSnapshot After,
    IReadOnlyList<DocumentUri> Documents
)
{
    /// <summary>What was written, where a save was reported with its text.</summary>
    public string? SavedText { get; init; }
}
