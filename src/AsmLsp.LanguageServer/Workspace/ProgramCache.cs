using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The programs of the session. Each snapshot has its own set, made when first asked for; a program that did not change is handed on from
/// one snapshot to the next, so that an edit costs the assembly of its own program only.
/// </summary>
internal sealed class ProgramCache
{
    private readonly Lock gate = new();
    private readonly ConditionalWeakTable<WorkspaceSnapshot, WorkspacePrograms> sets = [];
    private readonly ConcurrentDictionary<string, (WorkspaceProgram Version, long Snapshot)> kept = new(
        DiskSources.PathComparer
    );
    private readonly DiskSources disk;
    private WorkspaceFiles? files;

    public ProgramCache(FileLoader loader, AnalysisLimits? limits = null)
    {
        disk = new DiskSources(loader);
        Limits = limits ?? AnalysisLimits.Usual;
    }

    /// <summary>How long a program may be worked on.</summary>
    public AnalysisLimits Limits { get; }

    /// <summary>The programs of a snapshot.</summary>
    public WorkspacePrograms Of(WorkspaceSnapshot snapshot)
    {
        if (sets.TryGetValue(snapshot, out WorkspacePrograms? known))
        {
            return known;
        }

        lock (gate)
        {
            if (sets.TryGetValue(snapshot, out known))
            {
                return known;
            }

            var space = WorkspaceFiles.Of(snapshot, disk, files);
            if (files is null || files.Snapshot.Number <= snapshot.Number)
            {
                files = space;
            }

            var set = new WorkspacePrograms(space, this);
            sets.Add(snapshot, set);
            return set;
        }
    }

    /// <summary>The last version of a program, where it still holds.</summary>
    public WorkspaceProgram? Reuse(string root, Func<WorkspaceProgram, bool> holds) =>
        kept.TryGetValue(root, out (WorkspaceProgram Version, long Snapshot) last) && holds(last.Version)
            ? last.Version
            : null;

    /// <summary>Keeps a version as the last one of its program.</summary>
    public WorkspaceProgram Keep(string root, WorkspaceProgram version, long snapshot)
    {
        lock (gate)
        {
            // A request that came before an edit may ask after it: its version replaces none that is newer.
            if (kept.TryGetValue(root, out (WorkspaceProgram Version, long Snapshot) before))
            {
                if (before.Snapshot > snapshot)
                {
                    return version;
                }

                before.Version.Outdate();
            }

            kept[root] = (version, snapshot);
        }

        return version;
    }

    /// <summary>Lets go of programs that no open document belongs to any more.</summary>
    public void Forget(Func<string, bool> isNeeded)
    {
        foreach (string root in kept.Keys)
        {
            if (!isNeeded(root))
            {
                kept.TryRemove(root, out _);
            }
        }

        // Texts that were only looked through for includes are read again when they are looked through again.
        if (kept.IsEmpty)
        {
            disk.Forget(static _ => false);
        }
    }
}
