namespace AsmLsp.Host;

/// <summary>
/// Writes a file so that at every moment the old or the new content stands there whole: to a temporary name beside it, flushed to the disk, renamed over
/// it. Permissions are kept; a link stays a link and what it leads to is written; a folder that is gone is not made again.
/// </summary>
public static class AtomicWriter
{
    /// <summary>Writes a file; gives the reason in words where that fails, and then the old file is untouched.</summary>
    public static string? Write(string path, ReadOnlySpan<byte> content)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        try
        {
            string target = Target(path);
            return Refusal(path, target) ?? Replace(target, content);
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

    private static string Target(string path)
    {
        string full = Path.GetFullPath(path);
        return new FileInfo(full) is { LinkTarget: not null } link
            ? link.ResolveLinkTarget(returnFinalTarget: true)!.FullName
            : full;
    }

    private static string? Refusal(string path, string target)
    {
        if (Path.GetDirectoryName(target) is not { } folder || !Directory.Exists(folder))
        {
            return $"{path} could not be written: its folder does not exist.";
        }

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

    private static string? Replace(string target, ReadOnlySpan<byte> content)
    {
        string temporary = Path.Combine(
            Path.GetDirectoryName(target)!,
            $".{Path.GetFileName(target)}.{Guid.NewGuid():N}.tmp"
        );
        var options = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.Write,
            Share = FileShare.None,
        };
        try
        {
            using (var stream = new FileStream(temporary, options))
            {
                stream.Write(content);
                stream.Flush(flushToDisk: true);
            }

            if (!OperatingSystem.IsWindows() && File.Exists(target))
            {
                // Set afterwards and not at creation, where the user's mask would take bits away.
                File.SetUnixFileMode(temporary, File.GetUnixFileMode(target));
            }

            File.Move(temporary, target, overwrite: true);
            return null;
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
