namespace AsmLsp.Host;

/// <summary>What a name on the disk means.</summary>
public enum FileKind
{
    /// <summary>Nothing.</summary>
    Missing,

    /// <summary>A file with content; links are followed.</summary>
    Regular,

    /// <summary>A folder.</summary>
    Folder,

    /// <summary>A device, a pipe or a socket: opening one may block for ever or never end.</summary>
    Special,
}

/// <summary>Distinguishes regular files from everything else before anything is opened.</summary>
public static class FileKinds
{
    private const int TypeMask = 0xF000;
    private const int RegularType = 0x8000;
    private const int FolderType = 0x4000;

    /// <summary>What a path means; a link counts as what it leads to. A path that no system accepts means nothing.</summary>
    public static FileKind Of(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (Directory.Exists(path))
            return FileKind.Folder;
        if (!File.Exists(path))
            return FileKind.Missing;
        // The framework doesn't say more than 'exists', so the system is asked. Windows refuses to open devices as files by itself.
        return FileStatus.Of(path) is { Mode: not 0 and var mode } ? Of(mode) : FileKind.Regular;
    }

    internal static FileKind Of(int mode) =>
        (mode & TypeMask) switch
        {
            RegularType => FileKind.Regular,
            FolderType => FileKind.Folder,
            _ => FileKind.Special,
        };
}
