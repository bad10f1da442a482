using System.Diagnostics;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>Notices when the editor's process is gone, so that no server outlives a crashed editor.</summary>
internal static class ParentWatch
{
    private static readonly TimeSpan Interval = TimeSpan.FromSeconds(1);

    /// <summary>Ends when there is no process with this id (any more).</summary>
    public static async Task WaitUntilGoneAsync(int processId, TimeProvider clock, CancellationToken cancellation)
    {
        using var timer = new PeriodicTimer(Interval, clock);
        while (IsAlive(processId))
        {
            await timer.WaitForNextTickAsync(cancellation).ConfigureAwait(false);
        }
    }

    /// <summary>Whether a process runs; one that has ended but was not yet collected by its own parent does not.</summary>
    public static bool IsAlive(int processId)
    {
        try
        {
            using var process = Process.GetProcessById(processId);
            return !process.HasExited && !IsZombie(processId);
        }
        catch (ArgumentException)
        {
            return false;
        }
        catch (Exception fault) when (fault is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            // It exists but may not be looked at: alive as far as can be reported.
            return true;
        }
    }

    private static bool IsZombie(int processId)
    {
        if (!OperatingSystem.IsLinux())
        {
            return false;
        }

        try
        {
            // 'pid (name) state ...': the name may hold blanks and parentheses, the state follows the last one (proc(5)).
            string stat = File.ReadAllText($"/proc/{processId}/stat");
            int name = stat.LastIndexOf(')');
            return name >= 0 && name + 2 < stat.Length && stat[name + 2] is 'Z' or 'X';
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
