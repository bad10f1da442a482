namespace AsmLsp.Host;

/// <summary>
/// Writes a file so that at every moment the old or the new content is there whole: to a temporary name beside it, flushed to the disk, renamed over
/// it. Permissions are kept; a link stays a link and what it leads to is written; a folder that is gone is not made again.
/// </summary>
public static class AtomicWriter
{
    /// <summary>Writes a file; gives the reason in words where that fails, and then the old file is untouched.</summary>
    /// <param name="path">The file.</param>
    /// <param name="content">What it is to hold.</param>
    /// <param name="likeFile">A file whose permissions a new file is to have, or null for the usual ones.</param>
    /// <param name="followsLinks">Whether what a link leads to is written; else a link is refused.</param>
    public static string? Write(
        string path,
        ReadOnlySpan<byte> content,
        string? likeFile = null,
        bool followsLinks = true
    )
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            if (Refusal(path) is { } refusal)
                return refusal;
            string target = followsLinks ? Target(path) : Path.GetFullPath(path);
            if (!followsLinks && WorkspaceBounds.IsLink(target))
                return $"{path} could not be written: it is a link.";
            Replace(target, content, ModeOf(target) ?? (likeFile is null ? null : ModeOf(likeFile)));
            return null;
        }
        catch (UnauthorizedAccessException)
        {
            return $"{path} could not be written: the system refuses. Look at the permissions of the file and of its folder.";
        }
        catch (IOException fault)
        {
            return $"{path} could not be written: {fault.Message}";
        }
    }

    /// <summary>Why a file cannot be written, as far as that can be seen beforehand; null where nothing speaks against it.</summary>
    public static string? Refusal(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (path.Length == 0 || path.Contains('\0', StringComparison.Ordinal))
            return "A file without a usable name cannot be written.";
        try
        {
            return Refusal(path, Target(path));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return $"{path} could not be written: {fault.Message}";
        }
    }

    /// <summary>The file that a path leads to: the end of the links where it is one, whether anything is there or not.</summary>
    internal static string Target(string path)
    {
        string full = Path.GetFullPath(path);
        return new FileInfo(full) is { LinkTarget: not null } link
            ? link.ResolveLinkTarget(returnFinalTarget: true)!.FullName
            : full;
    }

    private static string? Refusal(string path, string target)
    {
        if (Path.GetDirectoryName(target) is not { } folder || !Directory.Exists(folder))
            return $"{path} could not be written: its folder does not exist.";
        return FileKinds.Of(target) switch
        {
            FileKind.Folder => $"{path} could not be written: it is a folder.",
            FileKind.Special => $"{path} could not be written: it is not a regular file.",
            FileKind.Regular when IsReadOnly(target) => $"{path} could not be written: it is marked read-only.",
            _ => null,
        };
    }

    /// <summary>Renaming would get past the mark, which somebody set on purpose.</summary>
    private static bool IsReadOnly(string target) =>
        OperatingSystem.IsWindows()
            ? File.GetAttributes(target).HasFlag(FileAttributes.ReadOnly)
            : (
                File.GetUnixFileMode(target)
                & (UnixFileMode.UserWrite | UnixFileMode.GroupWrite | UnixFileMode.OtherWrite)
            ) == 0;

    private static UnixFileMode? ModeOf(string path) =>
        !OperatingSystem.IsWindows() && File.Exists(path) ? File.GetUnixFileMode(path) : null;

    private static void Replace(string target, ReadOnlySpan<byte> content, UnixFileMode? mode)
    {
        TemporaryNames.Clean(target);
        string temporary = TemporaryNames.For(target);
        var options = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.Write,
            Share = FileShare.None,
        };
        if (mode is { } kept && !OperatingSystem.IsWindows())
            options.UnixCreateMode = kept | UnixFileMode.UserWrite;
        try
        {
            using (var stream = new FileStream(temporary, options))
            {
                stream.Write(content);
                stream.Flush(flushToDisk: true);
            }

            // Set afterward once more: the user's mask took bits away.
            if (mode is { } whole && !OperatingSystem.IsWindows())
                File.SetUnixFileMode(temporary, whole);
            File.Move(temporary, target, overwrite: true);
        }
        catch
        {
            Discard(temporary);
            throw;
        }
    }

    private static void Discard(string temporary)
    {
        try
        {
            File.Delete(temporary);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // The disk is gone or full of trouble; the reason that matters is already on its way.
        }
    }
}
