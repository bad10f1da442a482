using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;

namespace AsmLsp.Host;

/// <summary>What stands under a name on the disk.</summary>
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

/// <summary>Tells regular files from everything else before anything is opened.</summary>
public static class FileKinds
{
    private const int TypeMask = 0xF000;
    private const int RegularType = 0x8000;
    private const int FolderType = 0x4000;

    /// <summary>What stands under a path; a link counts as what it leads to.</summary>
    public static FileKind Of(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (Directory.Exists(path))
        {
            return FileKind.Folder;
        }

        if (!File.Exists(path))
        {
            return FileKind.Missing;
        }

        // The framework doesn't say more than 'exists', so the system is asked. Windows refuses to open devices as files by itself.
        return UnixMode(path) is { } mode
            ? (mode & TypeMask) switch
            {
                RegularType => FileKind.Regular,
                FolderType => FileKind.Folder,
                _ => FileKind.Special,
            }
            : FileKind.Regular;
    }

    private static int? UnixMode(string path)
    {
        byte[] name = [.. Encoding.UTF8.GetBytes(path), 0];
        byte[] answer = new byte[512];
        try
        {
            if (OperatingSystem.IsLinux())
            {
                // statx(2): the same layout on every processor, the mode at byte 28.
                const int CurrentFolder = -100;
                const uint WantType = 1;
                return LinuxStatX(CurrentFolder, name, 0, WantType, answer) == 0
                    ? BinaryPrimitives.ReadUInt16LittleEndian(answer.AsSpan(28))
                    : null;
            }

            if (OperatingSystem.IsMacOS())
            {
                // stat(2) with 64-bit inodes: the mode at byte 4.
                int result =
                    RuntimeInformation.ProcessArchitecture == Architecture.X64
                        ? MacStat64(name, answer)
                        : MacStat(name, answer);
                return result == 0 ? BinaryPrimitives.ReadUInt16LittleEndian(answer.AsSpan(4)) : null;
            }
        }
        catch (Exception fault) when (fault is EntryPointNotFoundException or DllNotFoundException)
        {
            // An older system library: what exists is taken as a file.
        }

        return null;
    }

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "statx")]
    private static extern int LinuxStatX(int folder, byte[] path, int flags, uint mask, byte[] answer);

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "stat")]
    private static extern int MacStat(byte[] path, byte[] answer);

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "stat$INODE64")]
    private static extern int MacStat64(byte[] path, byte[] answer);
}
