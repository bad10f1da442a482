using System.Collections.Immutable;

namespace AsmLsp.Host;

/// <summary>
/// The folders in which something may be written on the word of what a workspace brings along: a project file, an editor's settings, the place of a source.
/// A stranger's folder must not decide about files elsewhere, so nothing outside is written, and nothing through a link.
/// </summary>
/// <param name="folders">The folders that a person opened or works in.</param>
public sealed class WorkspaceBounds(IEnumerable<string> folders)
{
    /// <summary>The folders, as full paths.</summary>
    public ImmutableArray<string> Folders { get; } =
    [.. folders.Select(static f => Path.TrimEndingDirectorySeparator(Path.GetFullPath(f))).Distinct()];

    /// <summary>The bounds of a source on the command line: the current folder where the source is in it, else the source's own.</summary>
    public static WorkspaceBounds OfSource(string sourceFolder) => new([TopFor(sourceFolder)]);

    /// <summary>The folder above which no project file counts for a source on the command line.</summary>
    public static string TopFor(string sourceFolder)
    {
        string current = Environment.CurrentDirectory;
        return Below(current, Path.GetFullPath(sourceFolder)) is not null ? current : sourceFolder;
    }

    /// <summary>The bounds with one folder more.</summary>
    public WorkspaceBounds With(string folder) => new([.. Folders, folder]);

    /// <summary>The deepest of the folders that a path is in, or null.</summary>
    public string? FolderOf(string path) =>
        Folders.Where(f => Below(f, Path.GetFullPath(path)) is not null).MaxBy(static f => f.Length);

    /// <summary>Why a file may not be written, for people; null where it may.</summary>
    public string? Refusal(string path)
    {
        string full = Path.GetFullPath(path);
        if (FolderOf(full) is not { } folder)
            return $"{full} is outside the workspace. Only 'relist build -o' writes there.";
        string at = folder;
        foreach (
            string part in Below(folder, full)!
                .Split(
                    [Path.DirectorySeparatorChar, Path.AltDirectorySeparatorChar],
                    StringSplitOptions.RemoveEmptyEntries
                )
        )
        {
            at = Path.Combine(at, part);
            if (IsLink(at))
                return $"{at} is a link, and what it leads to is not written unasked. Remove it, or name the file with 'relist build -o'.";
        }

        return null;
    }

    internal static bool IsLink(string path)
    {
        try
        {
            return new FileInfo(path).LinkTarget is not null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return true;
        }
    }

    // The path from a folder to what is in it, or null where it is not.
    internal static string? Below(string folder, string path)
    {
        string way = Path.GetRelativePath(folder, path);
        return
            way == ".."
            || way.StartsWith(".." + Path.DirectorySeparatorChar, StringComparison.Ordinal)
            || way.StartsWith(".." + Path.AltDirectorySeparatorChar, StringComparison.Ordinal)
            || Path.IsPathRooted(way)
            ? null
            : way;
    }
}
