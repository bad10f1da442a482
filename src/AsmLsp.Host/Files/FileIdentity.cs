namespace AsmLsp.Host;

/// <summary>
/// Which file it is, whatever it is called: two spellings of a path, a link and what it leads to, and hard links to one file are equal.
/// </summary>
/// <param name="Volume">The disk.</param>
/// <param name="Number">The file's number on it.</param>
public readonly record struct FileIdentity(ulong Volume, ulong Number)
{
    /// <summary>The file or folder under a path, links followed; null where there is none.</summary>
    public static FileIdentity? Of(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return FileStatus.Of(path)?.Identity;
    }

    /// <summary>The regular file that a standard stream of this process (0 for input, 1 for output) is; null where it is none.</summary>
    public static FileIdentity? OfStandard(int descriptor) =>
        FileStatus.OfDescriptor(descriptor) is { } status && FileKinds.Of(status.Mode) == FileKind.Regular
            ? status.Identity
            : null;
}

/// <summary>Where a name leads: an existing file by its identity, a new one by its folder and its name there.</summary>
internal readonly record struct FilePlace(FileIdentity? Identity, string Name)
{
    /// <summary>The place of a path, links followed; null for a path that no system accepts.</summary>
    public static FilePlace? Of(string path)
    {
        try
        {
            string full = AtomicWriter.Target(path);
            if (FileIdentity.Of(full) is { } file)
                return new FilePlace(file, "");
            string name = Path.GetFileName(full),
                folder = Path.GetDirectoryName(full) ?? full;
            // Where case does not count, it must not part two names of one new file.
            if (OperatingSystem.IsWindows() || OperatingSystem.IsMacOS())
                name = name.ToUpperInvariant();
            return FileIdentity.Of(folder) is { } parent
                ? new FilePlace(parent, name)
                : new FilePlace(null, Path.Combine(folder, name));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return null;
        }
    }
}
