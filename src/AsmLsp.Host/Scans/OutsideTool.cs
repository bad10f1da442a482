using System.Collections.Concurrent;
using System.ComponentModel;
using System.Diagnostics;
using System.Runtime.InteropServices;

namespace AsmLsp.Host.Scans;

/// <summary>How a run of a program ended.</summary>
internal enum ToolEnd
{
    /// <summary>Well.</summary>
    Done,

    /// <summary>It reported of a failure, or could not be started.</summary>
    Failed,

    /// <summary>It took too long and was stopped.</summary>
    TooLong,
}

/// <summary>Runs a program that is on the machine, never longer than it is given, and leaves no process after.</summary>
internal static class OutsideTool
{
    // What a tool says is only looked at for a few words.
    private const int MostOutput = 256 * 1024;

    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(50);

    // What runs now, and the folders that it works in: none may outlive this process.
    private static readonly ConcurrentDictionary<Process, string> Running = new();
    private static readonly Lazy<IDisposable?> EndWatch = new(WatchForTheEnd);

    /// <summary>The full path of a program that is in the folders of the system's search path, or null.</summary>
    public static string? Find(string name)
    {
        foreach (
            string folder in (Environment.GetEnvironmentVariable("PATH") ?? "").Split(
                Path.PathSeparator,
                StringSplitOptions.RemoveEmptyEntries
            )
        )
        {
            // A relative folder would run what lies beside a stranger's document.
            if (!Path.IsPathFullyQualified(folder))
                continue;
            string candidate = Path.Combine(folder, OperatingSystem.IsWindows() ? name + ".exe" : name);
            if (File.Exists(candidate))
                return candidate;
        }

        return null;
    }

    /// <summary>Runs a program in a folder; gives how it ended and what it wrote to its standard output.</summary>
    /// <param name="path">The program.</param>
    /// <param name="arguments">Its arguments, each as it is to arrive.</param>
    /// <param name="folder">The folder that it runs in.</param>
    /// <param name="time">How long it may take.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="OperationCanceledException">The token asked for it; the program is stopped.</exception>
    public static (ToolEnd End, string Output) Run(
        string path,
        IReadOnlyList<string> arguments,
        string folder,
        TimeSpan time,
        CancellationToken cancellation
    )
    {
        cancellation.ThrowIfCancellationRequested();
        _ = EndWatch.Value;
        var start = new ProcessStartInfo(path, arguments)
        {
            WorkingDirectory = folder,
            UseShellExecute = false,
            CreateNoWindow = true,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        // One page is too small a job for several threads: they only wait for each other.
        start.Environment["OMP_THREAD_LIMIT"] = "1";
        start.Environment["LC_ALL"] = "C";
        Process? process;
        try
        {
            process = Process.Start(start);
        }
        catch (Exception fault) when (fault is Win32Exception or IOException)
        {
            return (ToolEnd.Failed, "");
        }

        if (process is null)
            return (ToolEnd.Failed, "");
        using (process)
        {
            Running[process] = folder;
            ToolBounds.Set(process);
            Task<string> output = Drain(process.StandardOutput),
                errors = Drain(process.StandardError);
            bool ended = false;
            try
            {
                process.StandardInput.Close();
                ended = Wait(process, time, cancellation);
            }
            catch (IOException)
            {
                // It ended before it could be reported that there is no input.
                ended = Wait(process, time, cancellation);
            }
            finally
            {
                if (!ended)
                    Stop(process);
                Running.TryRemove(process, out _);
            }

            if (!ended)
                return (ToolEnd.TooLong, "");
            Task.WhenAll(output, errors).Wait(TimeSpan.FromSeconds(5), CancellationToken.None);
            return (
                process.ExitCode == 0 ? ToolEnd.Done : ToolEnd.Failed,
                output.IsCompletedSuccessfully ? output.Result : ""
            );
        }
    }

    // A terminal that is closed sends SIGHUP, at which a program just ends: its children would work on for nobody.
    private static IDisposable? WatchForTheEnd()
    {
        AppDomain.CurrentDomain.ProcessExit += static (_, _) => StopAll();
        return OperatingSystem.IsWindows()
            ? null
            : PosixSignalRegistration.Create(
                PosixSignal.SIGHUP,
                static context =>
                {
                    const int hangUp = 128 + 1;
                    context.Cancel = true;
                    StopAll();
                    Environment.Exit(hangUp);
                }
            );
    }

    private static void StopAll()
    {
        foreach ((Process process, string folder) in Running)
        {
            Stop(process);
            try
            {
                Directory.Delete(folder, recursive: true);
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                // The system's own clean-up takes it.
            }
        }
    }

    private static bool Wait(Process process, TimeSpan time, CancellationToken cancellation)
    {
        long started = Stopwatch.GetTimestamp();
        while (!process.WaitForExit(Look))
        {
            cancellation.ThrowIfCancellationRequested();
            if (Stopwatch.GetElapsedTime(started) > time)
                return false;
        }

        return true;
    }

    private static void Stop(Process process)
    {
        try
        {
            process.Kill(entireProcessTree: true);
            process.WaitForExit(TimeSpan.FromSeconds(5));
        }
        catch (Exception fault) when (fault is InvalidOperationException or Win32Exception or AggregateException)
        {
            // It has just ended by itself.
        }
    }

    // Reads to the end, so that the program never waits for its reader, and keeps the beginning.
    private static async Task<string> Drain(StreamReader reader)
    {
        char[] buffer = new char[4096];
        var kept = new System.Text.StringBuilder();
        try
        {
            int read;
            while ((read = await reader.ReadAsync(buffer).ConfigureAwait(false)) > 0)
                if (kept.Length < MostOutput)
                    kept.Append(buffer, 0, Math.Min(read, MostOutput - kept.Length));
        }
        catch (Exception fault) when (fault is IOException or ObjectDisposedException)
        {
            // It was stopped.
        }

        return kept.ToString();
    }
}
