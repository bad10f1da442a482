using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>Writes the HEX file of a program when one of its sources is saved (setting <c>build.onSave</c>).</summary>
internal sealed class BuildOnSaveHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        var builder = new SaveBuilder();
        registry.Changed((server, change) =>
        {
            if (change.Kind == ChangeKind.Saved && change.After.Settings.BuildOnSave && change.Documents is [var uri])
            {
                builder.Start(server, change.After, uri);
            }
        });
    }

    private sealed class SaveBuilder
    {
        /// <summary>Some editors tell of one save twice.</summary>
        private static readonly TimeSpan SameSave = TimeSpan.FromSeconds(1);

        private readonly Lock gate = new();
        private Task builds = Task.CompletedTask;
        private ProgramVersion? last;
        private long lastTime;

        /// <summary>Builds after those that were started before, and returns at once.</summary>
        public void Start(ServerContext server, Snapshot snapshot, DocumentUri uri)
        {
            lock (gate)
            {
                Task before = builds;
                builds = Task.Run(() => RunAsync(before, server, snapshot, uri));
            }
        }

        private async Task RunAsync(Task before, ServerContext server, Snapshot snapshot, DocumentUri uri)
        {
            await before.ConfigureAwait(false);
            try
            {
                FileView? view = server.Programs.Of(snapshot).Find(uri);
                if (view is null || view.Program.IsFragment)
                {
                    // Without the program around it an include has no HEX; nobody asked for one either.
                    return;
                }

                bool again = ReferenceEquals(view.Program, last) && server.Clock.GetElapsedTime(lastTime) < SameSave;
                if (!again)
                {
                    await ProgramBuild.RunAsync(server, view, null, server.Stopping).ConfigureAwait(false);
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
                server.Client.ShowMessage(Protocol.MessageType.Error, $"No HEX is written: relist met a fault of its own while building {uri.Name}.");
            }
        }
    }
}
