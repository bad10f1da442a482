using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.Tests;

/// <summary>
/// The built executable as its own process. RELIST_EXECUTABLE in the environment names another build (the native one, say) to be tested instead of
/// the one beside the tests.
/// </summary>
internal sealed class RelistProcess : IDisposable
{
    private readonly Process process;
    private readonly Task<string> errors;

    private RelistProcess(Process process)
    {
        this.process = process;
        errors = process.StandardError.ReadToEndAsync();
    }

    public int Id => process.Id;

    /// <summary>The executable.</summary>
    public static string Program { get; } =
        Environment.GetEnvironmentVariable("RELIST_EXECUTABLE") is { Length: > 0 } given
            ? given
            : Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "relist.exe" : "relist");

    public static RelistProcess Start(params string[] arguments) => Start(Program, null, arguments);

    /// <summary>A line of the shell, in which <c>$RELIST</c> is the executable: for streams that are closed, full or files.</summary>
    public static RelistProcess Shell(string folder, string line) => Start("/bin/sh", folder, "-c", line);

    private static RelistProcess Start(string program, string? folder, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder ?? "",
        };
        start.Environment["RELIST"] = Program;
        return new(Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start."));
    }

    /// <summary>A client on the process's input and output.</summary>
    public TestClient Talk([CallerMemberName] string name = "") =>
        new(process.StandardOutput.BaseStream, process.StandardInput.BaseStream, name);

    /// <summary>The least that <c>initialize</c> may carry.</summary>
    public static JsonObject Initialize(int? processId = null) =>
        new()
        {
            ["processId"] = processId,
            ["rootUri"] = null,
            ["capabilities"] = new JsonObject(),
        };

    /// <summary>Writes all of its input, and closes it.</summary>
    public async Task WriteAsync(byte[] bytes)
    {
        await process.StandardInput.BaseStream.WriteAsync(bytes);
        process.StandardInput.Close();
    }

    public void CloseInput() => process.StandardInput.Close();

    public Task<string> OutputAsync() => process.StandardOutput.ReadToEndAsync();

    /// <summary>Waits for the end; gives the exit code and what was written to the error stream.</summary>
    public async Task<(int Code, string Errors)> EndAsync()
    {
        await process.WaitForExitAsync().WaitAsync(TestClient.Deadline);
        return (process.ExitCode, await errors.WaitAsync(TestClient.Deadline));
    }

    public void Dispose()
    {
        if (!process.HasExited)
        {
            process.Kill();
        }

        process.Dispose();
    }
}
