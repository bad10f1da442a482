using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace AsmLsp.Host;

/// <summary>
/// The hidden names under which files and folders are made before they take their own. A name says for which target it is and which process made it, so
/// that a later run removes what a killed one left. It is short: the target's own name may be as long as the disk allows.
/// </summary>
public static class TemporaryNames
{
    private const string Prefix = ".relist-",
        Ending = ".tmp";

    private static readonly TimeSpan Old = TimeSpan.FromHours(1);

    /// <summary>A new name beside a target.</summary>
    public static string For(string target) =>
        Path.Combine(
            Path.GetDirectoryName(target)!,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Stem(target)}{Environment.ProcessId}-{Guid.NewGuid().ToString("N")[..8]}{Ending}"
            )
        );

    /// <summary>Removes what killed runs left beside a target; what cannot be removed stays.</summary>
    public static void Clean(string target)
    {
        try
        {
            string folder = Path.GetDirectoryName(target)!,
                stem = Stem(target);
            foreach (string left in Directory.EnumerateFileSystemEntries(folder, stem + "*" + Ending))
                if (IsLeftOver(Path.GetFileName(left)[stem.Length..], left))
                    Remove(left);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // Somebody else removed it first, or may: the file that is wanted matters more.
        }
    }

    /// <summary>Whether a process runs on this machine now.</summary>
    public static bool IsRunning(int process)
    {
        try
        {
            using var found = Process.GetProcessById(process);
            return !found.HasExited;
        }
        catch (ArgumentException)
        {
            return false;
        }
        catch (Exception fault) when (fault is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            return true;
        }
    }

    private static string Stem(string target)
    {
        byte[] sum = SHA256.HashData(Encoding.UTF8.GetBytes(Path.GetFileName(target)));
        return $"{Prefix}{Convert.ToHexStringLower(sum.AsSpan(0, 8))}-";
    }

    // A number may have gone to another process meanwhile; nothing takes an hour to write.
    private static bool IsLeftOver(string rest, string path) =>
        int.TryParse(rest.Split('-')[0], NumberStyles.None, CultureInfo.InvariantCulture, out int process)
        && process != Environment.ProcessId
        && (!IsRunning(process) || DateTime.UtcNow - File.GetLastWriteTimeUtc(path) > Old);

    private static void Remove(string path)
    {
        if (new FileInfo(path) is { LinkTarget: null } && Directory.Exists(path))
            Directory.Delete(path, recursive: true);
        else
            File.Delete(path);
    }
}
