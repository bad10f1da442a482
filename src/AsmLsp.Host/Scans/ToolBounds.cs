using System.Diagnostics;
using System.Runtime.InteropServices;

namespace AsmLsp.Host.Scans;

/// <summary>What the system itself keeps a program from that works on a stranger's file: memory without end, and files without end.</summary>
internal static class ToolBounds
{
    // The resources of getrlimit(2) on Linux.
    private const int FileSize = 1,
        AddressSpace = 9;

    // Many times what a page of 40 million dots takes.
    private const ulong MostMemory = 4UL << 30,
        MostFile = 1UL << 30;

    /// <summary>Sets the bounds of a program that has just started. Systems that have no call for it bound nothing.</summary>
    public static void Set(Process process)
    {
        if (!OperatingSystem.IsLinux() || !Environment.Is64BitProcess)
            return;
        try
        {
            Set(process.Id, AddressSpace, MostMemory);
            Set(process.Id, FileSize, MostFile);
        }
        catch (Exception fault)
            when (fault is InvalidOperationException or EntryPointNotFoundException or DllNotFoundException)
        {
            // It has ended already, or the system's library lacks the call.
        }
    }

    // A bound that is lower already stays.
    private static void Set(int process, int resource, ulong most)
    {
        ulong[] old = new ulong[2];
        if (PrLimit(process, resource, null, old) != 0)
            return;
        _ = PrLimit(process, resource, [Math.Min(old[0], most), Math.Min(old[1], most)], null);
    }

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "prlimit")]
    private static extern int PrLimit(int process, int resource, ulong[]? bounds, ulong[]? old);
}
