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
/// Publishes the problems of all open programs after each change. One round runs at a time, always for the newest state of the workspace, so
/// changes that come close together cost one round and nothing is published out of order.
/// </summary>
internal sealed class DiagnosticPublisher(ServerContext server)
{
    /// <summary>How long the others wait for a program that is not done yet.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(200);

    private readonly Dictionary<DocumentUri, Published> published = [];
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
                // Whatever goes wrong in one round must not stop the publishing for the rest of the session.
                server.Log.Fault("publishing problems", fault);
            }
        } while (Interlocked.CompareExchange(ref wakes, 0, seen) != seen);
    }

    private void Round(WorkspacePrograms programs, Func<bool> isOutdated)
    {
        var current = new HashSet<DocumentUri>();
        DocumentUri? first = Volatile.Read(ref edited);
        // A program that takes its time is worked on beside: it holds up neither the others nor what comes after it.
        var views = new List<(DocumentUri Uri, Task<DocumentView?> View)>();
        foreach (DocumentUri uri in programs.Snapshot.Documents.Keys.OrderBy(uri => uri.Equals(first) ? 0 : 1))
        {
            Task<DocumentView?> view = Task.Run(() => Prepared(programs, uri));
            views.Add((uri, view));
            if (IsDone(view))
            {
                // The document itself before the rest of its program.
                Guarded(uri, () => Report(programs, view.GetAwaiter().GetResult(), current));
            }
        }

        foreach ((DocumentUri uri, Task<DocumentView?> view) in views)
        {
            while (!IsDone(view))
            {
                if (isOutdated())
                {
                    return;
                }
            }

            Guarded(uri, () => Report(programs, view.GetAwaiter().GetResult(), current));
        }

        foreach (WorkspaceProgram program in programs.OfOpenDocuments())
        {
            Guarded(
                programs.UriOf(program.Root),
                () =>
                {
                    foreach (SourceFile file in program.FilesSoFar)
                    {
                        Report(programs, program, file, programs.UriOf(file), current);
                    }

                    if (
                        program.Project is { Problems.Length: > 0, Source: { } source }
                        && programs.UriOf(source) is { } project
                        && current.Add(project)
                    )
                    {
                        Send(project, Diagnostics.OfProject(program.Project, server.Positions), null, program.Project);
                    }
                }
            );
        }

        foreach (DocumentUri uri in programs.Snapshot.Documents.Keys)
        {
            if (HexView.Find(programs, uri) is { } hex && current.Add(uri))
            {
                Send(uri, Diagnostics.OfHex(hex, server.Positions), hex.Document, hex.File);
            }
        }

        foreach (DocumentUri gone in published.Keys.Where(uri => !current.Contains(uri)).ToList())
        {
            if (published.Remove(gone, out Published? last) && !last.IsEmpty)
            {
                server.Client.PublishDiagnostics(new(gone.Text, []));
            }
        }

        server.Programs.Forget(
            programs.OfOpenDocuments().Select(program => program.Root.Name).ToHashSet(DiskSources.PathComparer).Contains
        );
    }

    private static bool IsDone(Task task) => Task.WaitAny([task], Patience) >= 0;

    // The part that takes long, without anything that the round holds.
    private static DocumentView? Prepared(WorkspacePrograms programs, DocumentUri uri)
    {
        DocumentView? view = programs.Find(uri);
        try
        {
            _ = view?.File.Problems;
        }
        catch (OperationCanceledException)
        {
            // What became of it is published with the rest.
        }

        return view;
    }

    private void Guarded(DocumentUri uri, Action report)
    {
        try
        {
            report();
        }
        catch (OperationCanceledException)
        {
            // A newer version has replaced the program: the next round publishes that.
        }
        catch (Exception fault)
        {
            // One document must not stop the publishing for the others.
            server.Log.Fault($"publishing the problems of {uri.Name}", fault);
        }
    }

    private void Report(WorkspacePrograms programs, DocumentView? view, HashSet<DocumentUri> current)
    {
        if (view is not null)
        {
            Report(programs, view.Program, view.Source, view.Uri, current);
        }
    }

    private void Report(
        WorkspacePrograms programs,
        WorkspaceProgram program,
        SourceFile file,
        DocumentUri uri,
        HashSet<DocumentUri> current
    )
    {
        OpenDocument? document = programs.Snapshot.Documents.GetValueOrDefault(uri);
        if (current.Contains(uri) || (document is not null && programs.Find(uri)?.Program != program))
        {
            return;
        }

        current.Add(uri);
        if (
            published.TryGetValue(uri, out Published? last)
            && last.Version == document?.Version
            && ReferenceEquals(last.From, program)
        )
        {
            return;
        }

        Send(uri, Diagnostics.Of(programs, program, file, server.Profile, server.Positions), document, program);
    }

    private void Send(DocumentUri uri, Diagnostic[] diagnostics, OpenDocument? document, object from)
    {
        var next = new Published(
            document?.Version,
            from,
            Diagnostics.Fingerprint(diagnostics),
            diagnostics.Length == 0
        );
        bool known = published.TryGetValue(uri, out Published? last);
        // Removed first: the newest spelling of the address is the one to clear later.
        published.Remove(uri);
        published.Add(uri, next);
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

    private sealed record Published(int? Version, object From, string Fingerprint, bool IsEmpty);
}

/// <summary>What a client declares about this.</summary>
internal static class PublishDiagnosticsClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether it looks at the version that problems belong to.</summary>
        public bool DiagnosticVersions => client.Flag("textDocument.publishDiagnostics.versionSupport");
    }
}
