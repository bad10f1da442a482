namespace AsmLsp.Host;

/// <summary>How the search looks at folders; the server lays its unsaved documents over the disk.</summary>
public interface IFolderView
{
    /// <summary>Whether a regular file is under a full path.</summary>
    bool IsFile(string path);

    /// <summary>The names of the entries of a folder; empty where there is no such folder.</summary>
    IEnumerable<string> NamesIn(string folder);

    /// <summary>The full paths of the files with a name, in any case, anywhere in a folder; a bounded search.</summary>
    IEnumerable<string> FilesNamed(string folder, string name) => [];
}

/// <summary>The disk as it is.</summary>
public sealed class DiskView : IFolderView
{
    /// <summary>The one view there needs to be.</summary>
    public static DiskView Instance { get; } = new();

    /// <inheritdoc/>
    public bool IsFile(string path) => FileKinds.Of(path) == FileKind.Regular;

    /// <inheritdoc/>
    public IEnumerable<string> NamesIn(string folder)
    {
        try
        {
            return Directory.Exists(folder)
                ? [.. Directory.EnumerateFileSystemEntries(folder).Select(entry => Path.GetFileName(entry)!)]
                : [];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    // A home folder opened as workspace must not hold up the answers.
    private const int MostEntries = 20_000,
        DeepestFolder = 8;

    /// <inheritdoc/>
    public IEnumerable<string> FilesNamed(string folder, string name)
    {
        var found = new List<string>();
        var options = new EnumerationOptions
        {
            RecurseSubdirectories = true,
            MaxRecursionDepth = DeepestFolder,
            IgnoreInaccessible = true,
            AttributesToSkip = FileAttributes.Hidden | FileAttributes.System | FileAttributes.ReparsePoint,
        };
        try
        {
            foreach (string entry in Directory.EnumerateFiles(folder, "*", options).Take(MostEntries))
                if (Path.GetFileName(entry).Equals(name, StringComparison.OrdinalIgnoreCase) && IsFile(entry))
                    found.Add(Path.GetFullPath(entry));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException)
        {
            // A folder that cannot be searched holds no file for us.
        }

        return found.Order(StringComparer.Ordinal);
    }
}

/// <summary>
/// Finds the file that an include means. Printed programs carry the paths of somebody else's disk, in either slash and any case; so the name is tried as
/// it is beside the including file, then its last part alone there, then both in the workspace folders and in the configured ones.
/// </summary>
/// <param name="workspaceFolders">Full paths, in order.</param>
/// <param name="includeFolders">Full paths of the configured folders, in order.</param>
/// <param name="view">How to look at folders.</param>
public sealed class IncludeSearch(
    IReadOnlyList<string> workspaceFolders,
    IReadOnlyList<string> includeFolders,
    IFolderView view
)
{
    /// <summary>The full path of the file that is meant, or null.</summary>
    /// <param name="includingFile">Full path of the file with the include; null where that has none (not saved yet, standard input).</param>
    /// <param name="written">The name as it is there: bare, in quotes or in angle brackets.</param>
    public string? Find(string? includingFile, string written)
    {
        string name = Clean(written);
        if (name.Length == 0 || name.Contains('\0', StringComparison.Ordinal))
        {
            return null;
        }

        string? beside = includingFile is null ? null : Path.GetDirectoryName(Path.GetFullPath(includingFile));
        string last = name[(name.LastIndexOf('/') + 1)..];
        bool foreign = IsAbsolute(name);
        if (foreign && Path.IsPathFullyQualified(name) && view.IsFile(Path.GetFullPath(name)))
        {
            return Path.GetFullPath(name);
        }

        foreach (
            string folder in (IEnumerable<string>)
                [.. beside is null ? (string[])[] : [beside], .. workspaceFolders, .. includeFolders]
        )
        {
            string? found =
                (foreign ? null : Resolve(folder, name)) ?? (last.Length > 0 ? Resolve(folder, last) : null);
            if (found is not null)
            {
                return found;
            }
        }

        return null;
    }

    /// <summary>Whether something that is no regular file is where an include is looked for: a device, a pipe or a socket.</summary>
    public bool FindsSpecialFile(string? includingFile, string written)
    {
        string name = Clean(written);
        string last = name[(name.LastIndexOf('/') + 1)..];
        if (last.Length == 0)
        {
            return false;
        }

        string? beside = includingFile is null ? null : Path.GetDirectoryName(Path.GetFullPath(includingFile));
        return (beside is null ? (string[])[] : [beside])
            .Concat(workspaceFolders)
            .Concat(includeFolders)
            .Any(folder => FileKinds.Of(Path.Combine(folder, last)) == FileKind.Special);
    }

    /// <summary>
    /// The files of the workspace that have the name of an include, wherever they are: for a program that comes from a
    /// disk with other folders. Without a workspace the folder of the including file is searched.
    /// </summary>
    public IReadOnlyList<string> Candidates(string? includingFile, string written)
    {
        string name = Clean(written);
        string last = name[(name.LastIndexOf('/') + 1)..];
        if (last.Length == 0)
            return [];
        IEnumerable<string> folders = workspaceFolders;
        if (workspaceFolders.Count == 0 && includingFile is not null)
            folders = [Path.GetDirectoryName(Path.GetFullPath(includingFile))!];
        string? own = includingFile is null ? null : Path.GetFullPath(includingFile);
        return [.. folders.SelectMany(folder => view.FilesNamed(folder, last)).Where(path => path != own).Distinct()];
    }

    /// <summary>The name without what is around it, with forward slashes.</summary>
    public static string Clean(string written)
    {
        ArgumentNullException.ThrowIfNull(written);
        string name = written.Trim();
        if (name.Length > 0 && name[0] is '<' or '"' or '\'')
        {
            char close = name[0] == '<' ? '>' : name[0];
            int end = name.IndexOf(close, 1);
            name = end < 0 ? name[1..] : name[1..end];
        }

        return name.Trim().Replace('\\', '/');
    }

    private static bool IsAbsolute(string name) =>
        name[0] == '/' || (name.Length > 1 && name[1] == ':' && char.IsAsciiLetter(name[0]));

    /// <summary>Walks a relative name part by part; a part that isn't there as written is looked for in another case.</summary>
    private string? Resolve(string folder, string name)
    {
        string exact = Path.GetFullPath(Path.Combine(folder, name));
        if (view.IsFile(exact))
        {
            return exact;
        }

        string at = folder;
        string[] parts = name.Split('/', StringSplitOptions.RemoveEmptyEntries);
        for (int i = 0; i < parts.Length; i++)
        {
            if (parts[i] is "." or "..")
            {
                at = Path.GetFullPath(Path.Combine(at, parts[i]));
                continue;
            }

            string? entry = Entry(at, parts[i]);
            if (entry is null)
            {
                return null;
            }

            at = Path.Combine(at, entry);
        }

        return view.IsFile(at) ? at : null;
    }

    private string? Entry(string folder, string part)
    {
        string? other = null;
        foreach (string name in view.NamesIn(folder))
        {
            if (name == part)
            {
                return name;
            }

            // Of several that differ by case only, always the same one.
            if (
                name.Equals(part, StringComparison.OrdinalIgnoreCase)
                && (other is null || string.CompareOrdinal(name, other) < 0)
            )
            {
                other = name;
            }
        }

        return other;
    }
}
