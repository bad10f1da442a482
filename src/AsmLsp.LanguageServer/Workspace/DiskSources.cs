using System.Collections.Concurrent;
using AsmLsp.Core.Text;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// Source files of the disk. A file that did not change since it was read (by length and time of writing) stays the same object, and with it
/// everything that was worked out from it. Safe to ask from several threads.
/// </summary>
internal sealed class DiskSources(FileLoader loader)
{
    private readonly ConcurrentDictionary<string, CachedSource> known = new(PathComparer);

    /// <summary>How paths are compared on this system.</summary>
    public static StringComparer PathComparer { get; } =
        OperatingSystem.IsWindows() ? StringComparer.OrdinalIgnoreCase : StringComparer.Ordinal;

    /// <summary>The file as it is on the disk now, or null where it can't be read as text.</summary>
    public SourceFile? Read(string path)
    {
        (long Length, DateTime Written) stamp;
        try
        {
            var info = new FileInfo(path);
            if (!info.Exists)
            {
                known.TryRemove(path, out _);
                return null;
            }

            stamp = (info.Length, info.LastWriteTimeUtc);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return null;
        }

        if (known.TryGetValue(path, out CachedSource? entry) && entry.Stamp == stamp)
        {
            return entry.File;
        }

        SourceFile? file = loader.Load(path).File is { } loaded ? new SourceFile(path, loaded.Text) : null;
        known[path] = new CachedSource(stamp, file);
        return file;
    }

    /// <summary>Lets go of the texts that nothing needs any more.</summary>
    public void Forget(Func<string, bool> isNeeded)
    {
        foreach (string path in known.Keys)
        {
            if (!isNeeded(path))
            {
                known.TryRemove(path, out _);
            }
        }
    }

    private sealed record CachedSource((long, DateTime) Stamp, SourceFile? File);
}
