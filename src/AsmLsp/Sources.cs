using System.CommandLine;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.Host.Building;

namespace AsmLsp;

/// <summary>What the verbs that read a source share: the options, loading (also from standard input), and its problems.</summary>
internal static class Sources
{
    /// <summary>The name that stands for standard input or output.</summary>
    public const string Standard = "-";

    public static Option<string?> ChipOption() =>
        new("--chip") { Description = "The chip, whatever the source says (such as 16F84A).", HelpName = "NAME" };

    public static Option<string[]> IncludeOption() =>
        new("--include")
        {
            Description = "A further folder to look for included files in; may be given more than once.",
            HelpName = "FOLDER",
        };

    /// <summary>Loads a source; tells why where that fails, and gives null.</summary>
    public static DiskProgram? Load(string path, string? device, string[]? includes, TextWriter error)
    {
        if (device is not null && Core.Devices.DeviceCatalog.Find(device) is null)
        {
            error.WriteLine($"relist: no chip called {device} is known here. 'relist chips' lists those that are.");
            return null;
        }

        DiskProgram? program;
        if (path == Standard)
        {
            var loader = new FileLoader();
            using Stream input = Console.OpenStandardInput();
            using var bytes = new MemoryStream();
            input.CopyTo(bytes);
            string name = Path.Combine(Environment.CurrentDirectory, "standard-input.asm");
            if (!loader.Decode(name, bytes.ToArray()).TryGet(out LoadedFile? file, out LoadFailure? fault))
            {
                error.WriteLine($"relist: {fault.Message}");
                return null;
            }

            program = DiskProgram.Of(file, loader, device, includes ?? []);
        }
        else
        {
            (program, LoadFailure? failure) = DiskProgram.Load(path, device, includes);
            if (failure is not null)
                error.WriteLine($"relist: {failure.Message}");
        }

        foreach (string note in program?.Notes ?? [])
            error.WriteLine($"relist: {note}");
        return program;
    }

    /// <summary>All problems of a program, those of the printed text included.</summary>
    public static IReadOnlyList<Problem> ProblemsOf(ProgramAnalysis program)
    {
        var all = new List<Problem>();
        foreach (SourceFile file in program.Files)
            all.AddRange(ProgramProblems.All(program, file));
        return all;
    }

    /// <summary>A path as a person in the current folder reads it.</summary>
    public static string Shown(string path)
    {
        string relative = Path.GetRelativePath(Environment.CurrentDirectory, path);
        return relative.StartsWith("..", StringComparison.Ordinal) ? path : relative;
    }

    /// <summary>Writes a text to a file, or to standard output for "-"; tells why where that fails.</summary>
    public static bool Write(string path, string text, TextWriter output, TextWriter error)
    {
        if (path == Standard)
        {
            output.Write(text);
            return true;
        }

        if (AtomicWriter.Write(path, Encoding.UTF8.GetBytes(text)) is not { } fault)
            return true;
        error.WriteLine($"relist: {fault}");
        return false;
    }
}
