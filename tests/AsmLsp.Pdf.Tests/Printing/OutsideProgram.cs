using System.Diagnostics;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>Runs programs that are not of this project.</summary>
internal static class OutsideProgram
{
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(2);

    /// <summary>Gives what a program writes to its standard output.</summary>
    public static byte[] Run(string program, IEnumerable<string> arguments)
    {
        using Process process = Process.Start(
            new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true }
        )!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        using var output = new MemoryStream();
        Task copy = process.StandardOutput.BaseStream.CopyToAsync(output);
        if (!process.WaitForExit(Longest))
        {
            process.Kill(entireProcessTree: true);
            Assert.Fail($"{program} did not end.");
        }

        copy.Wait(Longest);
        Assert.True(process.ExitCode == 0, $"{program} ended with {process.ExitCode}: {errors.Result}");
        return output.ToArray();
    }

    /// <summary>Does something in a folder of its own, which is gone afterward.</summary>
    public static T InFolder<T>(Func<string, T> work)
    {
        string folder = Directory.CreateTempSubdirectory("printing").FullName;
        try
        {
            return work(folder);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
