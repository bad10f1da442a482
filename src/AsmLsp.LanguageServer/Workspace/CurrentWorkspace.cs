using System.Collections.Immutable;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The current snapshot, and the only place that replaces it. Document notifications come here one at a time in the order of their arrival;
/// settings may come from an answer of the client in between. Readers take <see cref="Current"/> once and keep it.
/// </summary>
internal sealed class CurrentWorkspace(Action<string> warn)
{
    private readonly Lock gate = new();
    private readonly HashSet<DocumentUri> warnedAbout = [];
    private volatile WorkspaceSnapshot current = WorkspaceSnapshot.Empty;

    /// <summary>The workspace now.</summary>
    public WorkspaceSnapshot Current => current;

    /// <summary>Announces each change after it took effect, in order, on the thread that made it; must return at once.</summary>
    public event Action<WorkspaceChange>? Changed;

    /// <summary>A document is opened; one that was open already is replaced.</summary>
    public void Open(TextDocumentItem item)
    {
        var uri = DocumentUri.Parse(item.Uri);
        Replace(
            ChangeKind.Opened,
            [uri],
            snapshot =>
            {
                if (snapshot.Documents.ContainsKey(uri))
                {
                    warn($"{uri.Name} was opened twice; the text of the second time counts.");
                }

                var document = OpenDocument.Of(uri, item.LanguageId, item.Version, item.Text);
                // Removed first, so that the client's newest spelling of the name is the one kept as the key.
                return snapshot with { Documents = snapshot.Documents.Remove(uri).Add(uri, document) };
            }
        );
    }

    /// <summary>A document is edited. A version that does not go up is reported once and applied nevertheless: the text is what counts.</summary>
    public void Edit(
        VersionedTextDocumentIdentifier id,
        IReadOnlyList<TextDocumentContentChangeEvent> changes,
        PositionMapper positions
    )
    {
        var uri = DocumentUri.Parse(id.Uri);
        Replace(
            ChangeKind.Edited,
            [uri],
            snapshot =>
            {
                if (!snapshot.Documents.TryGetValue(uri, out OpenDocument? document))
                {
                    WarnOnce(uri, $"{uri.Name} was edited without being open; the edit is left out.");
                    return snapshot;
                }

                if (id.Version <= document.Version)
                {
                    WarnOnce(
                        uri,
                        $"{uri.Name} went from version {document.Version} to {id.Version}; versions are expected to go up."
                    );
                }

                return snapshot with
                {
                    Documents = snapshot.Documents.SetItem(uri, document.Apply(id.Version, changes, positions)),
                };
            }
        );
    }

    /// <summary>A document was written to disk; with the text that was written where the client says it.</summary>
    public void Saved(string uri, string? text = null) =>
        Replace(
            ChangeKind.Saved,
            [DocumentUri.Parse(uri)],
            snapshot => snapshot with { Number = snapshot.Number + 1 },
            text
        );

    /// <summary>A document is closed: from now on its file counts.</summary>
    public void Close(string text)
    {
        var uri = DocumentUri.Parse(text);
        Replace(ChangeKind.Closed, [uri], snapshot => snapshot with { Documents = snapshot.Documents.Remove(uri) });
    }

    /// <summary>Files changed on disk.</summary>
    public void FilesChanged(IReadOnlyList<DocumentUri> files) =>
        Replace(ChangeKind.Files, files, snapshot => snapshot with { Number = snapshot.Number + 1 });

    /// <summary>New settings.</summary>
    public void Configure(Settings settings) =>
        Replace(
            ChangeKind.Settings,
            [],
            snapshot => snapshot.Settings == settings ? snapshot : snapshot with { Settings = settings }
        );

    /// <summary>Folders came and went.</summary>
    public void ChangeFolders(IEnumerable<DocumentUri> added, IEnumerable<DocumentUri> removed) =>
        Replace(
            ChangeKind.Folders,
            [],
            snapshot =>
            {
                var gone = removed.ToHashSet();
                ImmutableArray<DocumentUri> folders =
                [
                    .. snapshot.Folders.Where(folder => !gone.Contains(folder)).Concat(added).Distinct(),
                ];
                return snapshot with { Folders = folders };
            }
        );

    private void Replace(
        ChangeKind kind,
        IReadOnlyList<DocumentUri> documents,
        Func<WorkspaceSnapshot, WorkspaceSnapshot> step,
        string? savedText = null
    )
    {
        lock (gate)
        {
            WorkspaceSnapshot before = current;
            WorkspaceSnapshot after = step(before);
            if (ReferenceEquals(before, after))
            {
                return;
            }

            after = after with
            {
                Number = before.Number + 1,
                DiskState = before.DiskState + (kind == ChangeKind.Edited ? 0 : 1),
            };
            current = after;
            Changed?.Invoke(new(kind, before, after, documents) { SavedText = savedText });
        }
    }

    private void WarnOnce(DocumentUri uri, string message)
    {
        if (warnedAbout.Add(uri))
        {
            warn(message);
        }
    }
}
