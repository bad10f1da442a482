using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The programs of the session. Each snapshot has its own set, made when first asked for; a program that did not change is handed on from
/// one snapshot to the next, so that an edit costs the assembly of its own program only.
/// </summary>
internal sealed class ProgramStore
{
    private readonly Lock gate = new();
    private readonly ConditionalWeakTable<Snapshot, ProgramSet> sets = [];
    private readonly ConcurrentDictionary<string, ProgramVersion> last = new(DiskSources.PathComparer);
    private readonly DiskSources disk;
    private FileSpace? files;

    public ProgramStore(FileLoader loader) => disk = new DiskSources(loader);

    /// <summary>The programs of a snapshot.</summary>
    public ProgramSet Of(Snapshot snapshot)
    {
        if (sets.TryGetValue(snapshot, out ProgramSet? known))
        {
            return known;
        }

        lock (gate)
        {
            if (sets.TryGetValue(snapshot, out known))
            {
                return known;
            }

            var space = FileSpace.Of(snapshot, disk, files);
            if (files is null || files.Snapshot.Number <= snapshot.Number)
            {
                files = space;
            }

            var set = new ProgramSet(space, this);
            sets.Add(snapshot, set);
            return set;
        }
    }

    /// <summary>The last version of a program, where it still holds.</summary>
    public ProgramVersion? Reuse(string root, Func<ProgramVersion, bool> holds) =>
        last.TryGetValue(root, out ProgramVersion? version) && holds(version) ? version : null;

    /// <summary>Keeps a version as the last one of its program.</summary>
    public ProgramVersion Keep(string root, ProgramVersion version) => last[root] = version;

    /// <summary>Lets go of programs that no open document belongs to any more.</summary>
    public void Forget(Func<string, bool> isNeeded)
    {
        foreach (string root in last.Keys)
        {
            if (!isNeeded(root))
            {
                last.TryRemove(root, out _);
            }
        }
    }
}
