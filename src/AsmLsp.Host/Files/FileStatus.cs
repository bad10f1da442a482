using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace AsmLsp.Host;

/// <summary>What the system knows about a file and the framework does not say.</summary>
/// <param name="Mode">Type and permissions as Unix keeps them; 0 on Windows.</param>
/// <param name="Identity">Which file it is, whatever its name.</param>
internal readonly record struct FileStatus(int Mode, FileIdentity Identity)
{
    private const int CurrentFolder = -100;
    private const int EmptyPath = 0x1000;

    /// <summary>The file under a path, links followed; null where there is none, or the system does not say.</summary>
    public static FileStatus? Of(string path)
    {
        if (OperatingSystem.IsWindows())
            return OnWindows(path);
        return Ask([.. Encoding.UTF8.GetBytes(path), 0], CurrentFolder, 0);
    }

    /// <summary>The file that an open descriptor of this process leads to; null where it is closed, or on Windows.</summary>
    public static FileStatus? OfDescriptor(int descriptor) =>
        OperatingSystem.IsWindows() ? null : Ask([0], descriptor, EmptyPath);

    private static FileStatus? Ask(byte[] name, int folder, int flags)
    {
        byte[] answer = new byte[512];
        try
        {
            if (OperatingSystem.IsLinux())
            {
                // statx(2), the same layout on every processor: mode at byte 28, inode at 32, device numbers at 136 and 140.
                const uint WantTypeAndInode = 0x101;
                if (LinuxStatX(folder, name, flags, WantTypeAndInode, answer) != 0)
                    return null;
                ulong device =
                    (ulong)BinaryPrimitives.ReadUInt32LittleEndian(answer.AsSpan(136)) << 32
                    | BinaryPrimitives.ReadUInt32LittleEndian(answer.AsSpan(140));
                return new FileStatus(
                    BinaryPrimitives.ReadUInt16LittleEndian(answer.AsSpan(28)),
                    new FileIdentity(device, BinaryPrimitives.ReadUInt64LittleEndian(answer.AsSpan(32)))
                );
            }

            if (OperatingSystem.IsMacOS())
            {
                // stat(2) with 64-bit inodes: device at byte 0, mode at 4, inode at 8.
                bool isOld = RuntimeInformation.ProcessArchitecture == Architecture.X64;
                int result =
                    flags == EmptyPath
                        ? isOld
                            ? MacFStat64(folder, answer)
                            : MacFStat(folder, answer)
                        : isOld
                            ? MacStat64(name, answer)
                            : MacStat(name, answer);
                return result != 0
                    ? null
                    : new FileStatus(
                        BinaryPrimitives.ReadUInt16LittleEndian(answer.AsSpan(4)),
                        new FileIdentity(
                            BinaryPrimitives.ReadUInt32LittleEndian(answer),
                            BinaryPrimitives.ReadUInt64LittleEndian(answer.AsSpan(8))
                        )
                    );
            }
        }
        catch (Exception fault) when (fault is EntryPointNotFoundException or DllNotFoundException)
        {
            // An older system library: nothing is known.
        }

        return null;
    }

    private static FileStatus? OnWindows(string path)
    {
        try
        {
            using SafeFileHandle handle = File.OpenHandle(
                path,
                FileMode.Open,
                FileAccess.Read,
                FileShare.ReadWrite | FileShare.Delete
            );
            // BY_HANDLE_FILE_INFORMATION: serial number of the volume at byte 28, the file's number at 44 and 48.
            byte[] answer = new byte[52];
            return !WindowsInformation(handle, answer)
                ? null
                : new FileStatus(
                    0,
                    new FileIdentity(
                        BinaryPrimitives.ReadUInt32LittleEndian(answer.AsSpan(28)),
                        (ulong)BinaryPrimitives.ReadUInt32LittleEndian(answer.AsSpan(44)) << 32
                            | BinaryPrimitives.ReadUInt32LittleEndian(answer.AsSpan(48))
                    )
                );
        }
        catch (Exception fault)
            when (fault is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return null;
        }
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

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "fstat")]
    private static extern int MacFStat(int descriptor, byte[] answer);

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "fstat$INODE64")]
    private static extern int MacFStat64(int descriptor, byte[] answer);

    [DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    [DllImport("kernel32", EntryPoint = "GetFileInformationByHandle")]
    [return: MarshalAs(UnmanagedType.Bool)]
    private static extern bool WindowsInformation(SafeFileHandle handle, byte[] answer);
}
