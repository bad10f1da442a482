using AsmLsp.Core.Text;
using AsmLsp.Host.Building;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Builds the program of a document and says the person in one line what came of it.</summary>
internal static class ProgramBuild
{
    /// <summary>Writes the HEX file; gives its path, or null where none was written (which is reported).</summary>
    public static async Task<string?> RunAsync(
        ServerContext server,
        DocumentView view,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        WorkspaceProgram program = view.Program;
        string name = program.Root.ShortName;
        if (!Path.IsPathFullyQualified(program.Root.Name))
        {
            server.Client.ShowMessage(
                MessageType.Warning,
                $"{view.Uri.Name} is not saved as a file yet: save it first, then its HEX file has a place to go."
            );
            return null;
        }

        if (program.IsFragment)
        {
            server.Client.ShowMessage(
                MessageType.Warning,
                $"{name} is made to be included, and no program that includes it was found: there is no HEX file to write. Open the program, or name it as root in relist.json."
            );
            return null;
        }

        using WorkProgress? shown = await server
            .Client.BeginProgressAsync(progress, $"Building {name}", cancellable: false, cancellation)
            .ConfigureAwait(false);
        BuildResult result = ProgramBuilder.Build(program.Analysis, [.. program.Model.AllProblems], PlaceOf(view));
        if (result.Refusal is { } refusal)
        {
            server.Client.ShowMessage(MessageType.Error, $"{name}: {refusal}");
            shown?.Finish("no HEX written");
            return null;
        }

        if (result.KeptNote is { } note)
            server.Client.ShowMessage(MessageType.Warning, note);
        server.Client.ShowMessage(
            MessageType.Info,
            $"{Path.GetFileName(result.HexPath)} written in {FolderOf(result.HexPath)}: {result.Summary.ToLine()}{Unsaved(view)}"
        );
        shown?.Finish($"{Path.GetFileName(result.HexPath)} written");
        return result.HexPath;
    }

    /// <summary>
    /// Where the HEX file of a program goes: as the project file says, else the settings, else beside the source. Both may come with the workspace, so
    /// that they decide within it only: the open folders, and that of the file which the person opened.
    /// </summary>
    public static HexPlace PlaceOf(DocumentView view) =>
        HexPlace.Of(
            view.Program.Root.Name,
            view.Program.Project.File,
            view.Program.Project.Folder,
            view.Programs.Files.BoundsOf(view.Source.Name),
            view.Programs.Snapshot.Settings.Output
        );

    /// <summary>The last part of the folder: a notice is short, and cut at its end.</summary>
    private static string FolderOf(string? path) =>
        Path.GetFileName(Path.GetDirectoryName(path)) is { Length: > 0 } name ? name : "/";

    /// <summary>What is open counts as it is in the editor, so a file that was not saved is named: the HEX holds more than the disk does.</summary>
    private static string Unsaved(DocumentView view)
    {
        string[] names =
        [
            .. view
                .Program.Analysis.Files.Where(file =>
                    view.Programs.DocumentOf(file) is not null && DiffersFromDisk(file)
                )
                .Select(file => file.ShortName),
        ];
        return names.Length == 0 ? "" : $" (with changes in {string.Join(", ", names)} that are not saved yet)";
    }

    private static bool DiffersFromDisk(SourceFile file) =>
        new Host.FileLoader().Load(file.Name).File is not { } saved || saved.Text.ToString() != file.Text.ToString();
}
