using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>Writes the HEX file of a program when one of its sources is saved (setting <c>buildOnSave</c>).</summary>
internal sealed class BuildOnSaveHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        var builder = new SaveBuilder();
        registry.Changed(
            (server, change) =>
            {
                if (change.Kind == ChangeKind.Saved && change.Documents is [var uri])
                {
                    builder.Start(server, change.After, uri, change.SavedText);
                }
            }
        );
    }

    private sealed class SaveBuilder
    {
        /// <summary>Some editors report one save twice.</summary>
        private static readonly TimeSpan SameSave = TimeSpan.FromSeconds(1);

        private readonly Lock gate = new();
        private Task builds = Task.CompletedTask;
        private WorkspaceProgram? last;
        private long lastTime;
        private WrittenHex? written;

        /// <summary>Builds after those that were started before, and returns at once.</summary>
        public void Start(ServerContext server, WorkspaceSnapshot snapshot, DocumentUri uri, string? text)
        {
            lock (gate)
            {
                Task before = builds;
                builds = Task.Run(() => RunAsync(before, server, snapshot, uri, text));
            }
        }

        private async Task RunAsync(
            Task before,
            ServerContext server,
            WorkspaceSnapshot snapshot,
            DocumentUri uri,
            string? text
        )
        {
            await before.ConfigureAwait(false);
            try
            {
                DocumentView? view = server.Programs.Of(AsSaved(snapshot, uri, text)).Find(uri);
                if (
                    view is null
                    || view.Program.IsFragment
                    || !(view.Program.Project.File.BuildOnSave ?? snapshot.Settings.BuildOnSave)
                )
                {
                    // Without the program around it an include has no HEX; nobody asked for one either.
                    return;
                }

                bool again =
                    ReferenceEquals(view.Program, last)
                    && server.Clock.GetElapsedTime(lastTime) < SameSave
                    && StillStands(view);
                if (!again)
                {
                    string? path = await ProgramBuild
                        .RunAsync(server, view, null, server.Stopping)
                        .ConfigureAwait(false);
                    written = path is null ? null : WrittenHex.Of(path);
                }

                (last, lastTime) = (view.Program, server.Clock.GetTimestamp());
            }
            catch (OperationCanceledException)
            {
                // The session ends.
            }
            catch (Exception fault)
            {
                // Nobody waits for this: without a note it would vanish.
                server.Log.Fault("building after a save", fault);
                server.Client.ShowMessage(
                    Protocol.MessageType.Error,
                    $"No HEX is written: relist met a fault of its own while building {uri.Name}."
                );
            }
        }

        /// <summary>
        /// The snapshot with the document as it was written. Some editors (Kate 22.12) report a save before the last edits that went into it,
        /// and with others a person types on before the save is reported: the HEX has to be that of the file. What the client says was written
        /// counts, else the file as it is now.
        /// </summary>
        private static WorkspaceSnapshot AsSaved(WorkspaceSnapshot snapshot, DocumentUri uri, string? reported)
        {
            if (snapshot.Documents.GetValueOrDefault(uri) is not { } open)
            {
                return snapshot;
            }

            SourceText? saved =
                reported is not null ? SourceText.From(reported, open.Text.Encoding)
                : uri.Path is { } path ? new FileLoader().Load(path).File?.Text
                : null;
            return saved is null || saved.ToString() == open.Text.ToString()
                ? snapshot
                : snapshot with
                {
                    Documents = snapshot.Documents.SetItem(uri, open with { Text = saved }),
                };
        }

        /// <summary>
        /// Whether what the last save wrote is there as it was written: somebody may have removed or replaced the HEX, or asked for another
        /// place, and after a save it has to be there. A build that wrote nothing has reported why; the second message of its save would say the same.
        /// </summary>
        private bool StillStands(DocumentView view) =>
            written is null
            || (
                written.Text is not null
                && written.Path == ProgramBuild.PlaceOf(view).Path
                && written == WrittenHex.Of(written.Path)
            );
    }

    /// <summary>A HEX file as it is on the disk; the text is null where it is gone or can't be read.</summary>
    private sealed record WrittenHex(string Path, string? Text)
    {
        public static WrittenHex Of(string path) =>
            new(
                path,
                FileLoader.ReadBytes(path, out byte[] bytes) is null
                    ? System.Text.Encoding.Latin1.GetString(bytes)
                    : null
            );
    }
}
