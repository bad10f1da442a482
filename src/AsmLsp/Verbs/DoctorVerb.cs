using System.CommandLine;
using System.Runtime.InteropServices;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Printed;
using AsmLsp.Host;
using AsmLsp.Host.Scans;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist doctor</c>: says what is installed, which settings are in force here and where each comes from.</summary>
internal sealed class DoctorVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } = ["relist doctor", "relist doctor ~/boards/flasher"];

    /// <inheritdoc/>
    public Command Create()
    {
        var folder = new Argument<string?>("FOLDER")
        {
            Description = "The folder of the program; the current one unless given.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        Option<bool> json = Sources.JsonOption();
        var command = new Command(
            "doctor",
            "Show what is installed, each setting in force here, and where it comes from."
        )
        {
            folder,
            json,
        };
        command.SetAction(parsed =>
            Run(
                parsed.GetValue(folder) ?? Environment.CurrentDirectory,
                parsed.GetValue(json),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return command;
    }

    private static int Run(string folder, bool isJson, TextWriter output, TextWriter error)
    {
        if (!Directory.Exists(folder))
        {
            error.WriteLine($"relist: there is no folder {folder}.");
            return ExitCodes.Unusable;
        }

        if (isJson)
        {
            var lines = new StringWriter { NewLine = "\n" };
            bool isSound = Look(folder, lines);
            VisibleWriter.Data(output).Write(Json(lines.ToString(), isSound));
            return isSound ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
        }

        bool sound = Look(folder, output);
        output.WriteLine(sound ? "Everything is in order." : "Look at the lines marked '!'.");
        return sound ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    // docs/schemas/doctor.json describes it: each line is a finding.
    private static string Json(string lines, bool isSound) =>
        JsonText.Write(json =>
        {
            json.WriteStartObject();
            json.WriteBoolean("ok", isSound);
            json.WriteStartArray("findings");
            foreach (string line in lines.Split('\n', StringSplitOptions.RemoveEmptyEntries))
            {
                json.WriteStartObject();
                json.WriteBoolean("ok", !line.StartsWith('!'));
                json.WriteString("message", line.TrimStart('!', ' '));
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        });

    private static bool Look(string folder, TextWriter output)
    {
        output.WriteLine(
            $"relist {ServerVersion.Text}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.RuntimeIdentifier}"
        );
        output.WriteLine($"chips known: {DeviceCatalog.Names.Length}");
        bool sound = Devices(output);
        sound &= Folder(folder, output);
        var scans = ScanTools.Find();
        output.WriteLine(
            scans.AreComplete
                ? $"scanned documents: read with {scans.Tesseract} and {scans.PdfToPpm}"
                : $"scanned documents: {scans.HowToInstall()}; only documents with text can be recovered"
        );
        output.WriteLine(
            scans.HowToDraw(DocumentFileKind.Pdf) is { } missing
                ? $"pictures of printed lines: {missing}; until then the review page and hovers show text only"
                : $"pictures of printed lines: drawn with {scans.PdfToPpm}"
        );
        return sound & Project(folder, output);
    }

    private static bool Devices(TextWriter output)
    {
        foreach (string name in DeviceCatalog.Names)
        {
            if (DeviceCatalog.Find(name) is { Registers.Length: > 0 })
                continue;
            output.WriteLine($"! the facts of {name} cannot be read: this copy of relist is damaged");
            return false;
        }

        return true;
    }

    private static bool Folder(string folder, TextWriter output)
    {
        string probe = Path.Combine(folder, $".relist-probe-{Environment.ProcessId}");
        if (AtomicWriter.Write(probe, [0x0A]) is { } fault)
        {
            output.WriteLine($"! HEX files cannot be written here: {fault}");
            return false;
        }

        File.Delete(probe);
        output.WriteLine($"folder: {Path.GetFullPath(folder)} can be written");
        return true;
    }

    private static bool Project(string folder, TextWriter output)
    {
        string? path = WorkspaceFile.FindAbove(folder, WorkspaceBounds.TopFor(Path.GetFullPath(folder)));
        if (path is null && WorkspaceFile.FindAbove(folder, null) is { } above)
            output.WriteLine(
                $"project file above: {above} counts only with --project, or with the editor's setting project"
            );
        WorkspaceFile project = WorkspaceFile.Empty;
        bool sound = true;
        if (path is null)
        {
            output.WriteLine($"project file: none ({WorkspaceFile.FileName} is optional)");
        }
        else if (new FileLoader().Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            (project, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(file.Text.ToString());
            output.WriteLine($"project file: {path}");
            foreach (WorkspaceFileProblem problem in problems)
                output.WriteLine($"! {problem.Message}");
            sound = problems.Count == 0;
        }
        else
        {
            output.WriteLine($"! {failure.Message}");
            sound = false;
        }

        string from = path is null ? "" : $"  (from {WorkspaceFile.FileName})";
        Setting(output, "root", project.Root, "each source by itself", from);
        Setting(output, "chip", project.Chip, "as the source says", from);
        Setting(output, "clock", project.Clock, "as the source's comment says, else no times are shown", from);
        Setting(
            output,
            "include",
            project.Include.IsEmpty ? null : string.Join(", ", project.Include),
            "beside the source",
            from
        );
        Setting(output, "output", project.Output, "beside the source", from);
        Setting(output, "buildOnSave", Word(project.BuildOnSave), "as the editor's settings say", from);
        Setting(output, "tidyOnSave", Word(project.TidyOnSave), "as the editor's settings say", from);
        if (project.Chip is { } chip && DeviceCatalog.Find(chip) is null)
        {
            output.WriteLine($"! no chip called {chip} is known");
            sound = false;
        }

        return sound;
    }

    private static string? Word(bool? flag) => flag is { } value ? (value ? "true" : "false") : null;

    private static void Setting(TextWriter output, string name, string? value, string standard, string from) =>
        output.WriteLine($"  {name}: {(value is null ? $"{standard}  (default)" : value + from)}");
}
