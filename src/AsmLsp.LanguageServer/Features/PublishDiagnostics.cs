using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/publishDiagnostics</c>, for clients that do not fetch problems themselves.</summary>
internal sealed class PublishDiagnosticsHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        var publisher = new DiagnosticPublisher(registry.Context);
        registry.Changed((_, change) => publisher.Wake(change));
    }
}

/// <summary>
/// Tells the problems of all open programs after each change. One round runs at a time, always for the newest state of the workspace, so
/// changes that come close together cost one round and nothing is told out of order.
/// </summary>
internal sealed class DiagnosticPublisher(ServerContext server)
{
    /// <summary>How long the others wait for a program that is not done yet.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(200);

    private readonly Dictionary<DocumentUri, Told> told = [];
    private DocumentUri? edited;
    private int wakes;

    /// <summary>Notes a change and returns at once.</summary>
    public void Wake(WorkspaceChange change)
    {
        if (server.Profile.PullDiagnostics)
        {
            return;
        }

        if (change.Documents.Count > 0)
        {
            Volatile.Write(ref edited, change.Documents[0]);
        }

        if (Interlocked.Increment(ref wakes) == 1)
        {
            ThreadPool.UnsafeQueueUserWorkItem(static publisher => publisher.Run(), this, preferLocal: false);
        }
    }

    private void Run()
    {
        int seen;
        do
        {
            seen = Volatile.Read(ref wakes);
            try
            {
                Round(server.Programs.Of(server.Workspace.Current), () => Volatile.Read(ref wakes) != seen);
            }
            catch (Exception fault)
            {
                // Whatever goes wrong in one round must not end the telling for the rest of the session.
                server.Log.Fault("telling problems", fault);
            }
        } while (Interlocked.CompareExchange(ref wakes, 0, seen) != seen);
    }

    private void Round(ProgramSet set, Func<bool> isOutdated)
    {
        var current = new HashSet<DocumentUri>();
        DocumentUri? first = Volatile.Read(ref edited);
        // A program that takes its time is worked on beside: it holds up neither the others nor what comes after it.
        var views = new List<(DocumentUri Uri, Task<FileView?> View)>();
        foreach (DocumentUri uri in set.Snapshot.Documents.Keys.OrderBy(uri => uri.Equals(first) ? 0 : 1))
        {
            Task<FileView?> view = Task.Run(() => Prepared(set, uri));
            views.Add((uri, view));
            if (IsDone(view))
            {
                // The document itself before the rest of its program.
                Guarded(uri, () => Tell(set, view.GetAwaiter().GetResult(), current));
            }
        }

        foreach ((DocumentUri uri, Task<FileView?> view) in views)
        {
            while (!IsDone(view))
            {
                if (isOutdated())
                {
                    return;
                }
            }

            Guarded(uri, () => Tell(set, view.GetAwaiter().GetResult(), current));
        }

        foreach (ProgramVersion program in set.OfOpenDocuments())
        {
            Guarded(
                set.UriOf(program.Root),
                () =>
                {
                    foreach (SourceFile file in program.FilesSoFar)
                    {
                        Tell(set, program, file, set.UriOf(file), current);
                    }

                    if (
                        program.Project is { Problems.Length: > 0, Source: { } source }
                        && set.UriOf(source) is { } project
                        && current.Add(project)
                    )
                    {
                        Send(project, Diagnostics.OfProject(program.Project, server.Positions), null, program.Project);
                    }
                }
            );
        }

        foreach (DocumentUri uri in set.Snapshot.Documents.Keys)
        {
            if (HexView.Find(set, uri) is { } hex && current.Add(uri))
            {
                Send(uri, Diagnostics.OfHex(hex, server.Positions), hex.Document, hex.File);
            }
        }

        foreach (DocumentUri gone in told.Keys.Where(uri => !current.Contains(uri)).ToList())
        {
            if (told.Remove(gone, out Told? last) && !last.IsEmpty)
            {
                server.Client.PublishDiagnostics(new(gone.Text, []));
            }
        }

        server.Programs.Forget(
            set.OfOpenDocuments().Select(program => program.Root.Name).ToHashSet(DiskSources.PathComparer).Contains
        );
    }

    private static bool IsDone(Task task) => Task.WaitAny([task], Patience) >= 0;

    // The part that takes long, without anything that the round holds.
    private static FileView? Prepared(ProgramSet set, DocumentUri uri)
    {
        FileView? view = set.Find(uri);
        try
        {
            _ = view?.File.Problems;
        }
        catch (OperationCanceledException)
        {
            // What became of it is told with the rest.
        }

        return view;
    }

    private void Guarded(DocumentUri uri, Action tell)
    {
        try
        {
            tell();
        }
        catch (OperationCanceledException)
        {
            // A newer version has replaced the program: the next round tells of that.
        }
        catch (Exception fault)
        {
            // One document must not end the telling for the others.
            server.Log.Fault($"telling the problems of {uri.Name}", fault);
        }
    }

    private void Tell(ProgramSet set, FileView? view, HashSet<DocumentUri> current)
    {
        if (view is not null)
        {
            Tell(set, view.Program, view.Source, view.Uri, current);
        }
    }

    private void Tell(
        ProgramSet set,
        ProgramVersion program,
        SourceFile file,
        DocumentUri uri,
        HashSet<DocumentUri> current
    )
    {
        OpenDocument? document = set.Snapshot.Documents.GetValueOrDefault(uri);
        if (current.Contains(uri) || (document is not null && set.Find(uri)?.Program != program))
        {
            return;
        }

        current.Add(uri);
        if (
            told.TryGetValue(uri, out Told? last)
            && last.Version == document?.Version
            && ReferenceEquals(last.From, program)
        )
        {
            return;
        }

        Send(uri, Diagnostics.Of(set, program, file, server.Profile, server.Positions), document, program);
    }

    private void Send(DocumentUri uri, Diagnostic[] diagnostics, OpenDocument? document, object from)
    {
        var next = new Told(document?.Version, from, Diagnostics.Fingerprint(diagnostics), diagnostics.Length == 0);
        bool known = told.TryGetValue(uri, out Told? last);
        // Removed first: the newest spelling of the address is the one to clear later.
        told.Remove(uri);
        told.Add(uri, next);
        bool same = known && last!.Fingerprint == next.Fingerprint && last.Version == next.Version;
        if (same || (!known && document is null && next.IsEmpty))
        {
            return;
        }

        server.Client.PublishDiagnostics(
            new(uri.Text, diagnostics) { Version = server.Profile.DiagnosticVersions ? document?.Version : null }
        );
        foreach (
            string code in diagnostics
                .Where(diagnostic => diagnostic.CodeDescription is not null)
                .Select(diagnostic => diagnostic.Code?.Text)
                .OfType<string>()
                .Distinct()
        )
        {
            ProblemPages.OfThisVersion.Write(code);
        }
    }

    private sealed record Told(int? Version, object From, string Fingerprint, bool IsEmpty);
}
