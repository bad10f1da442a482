using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Text;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>A project file with its place; one object for each version of the file.</summary>
internal sealed class Project
{
    private static readonly ConditionalWeakTable<SourceFile, Project> Known = [];

    private Project(
        string? folder,
        SourceFile? source,
        WorkspaceFile file,
        IReadOnlyList<WorkspaceFileProblem> problems
    )
    {
        Folder = folder;
        Source = source;
        File = file;
        Problems = [.. problems];
    }

    /// <summary>No project file: everything is left to the program and the settings.</summary>
    public static Project None { get; } = new(null, null, WorkspaceFile.Empty, []);

    /// <summary>The folder of the file, or null where there is none.</summary>
    public string? Folder { get; }

    /// <summary>The text of the file, or null where there is none.</summary>
    public SourceFile? Source { get; }

    /// <summary>What it says.</summary>
    public WorkspaceFile File { get; }

    /// <summary>What is wrong in it.</summary>
    public ImmutableArray<WorkspaceFileProblem> Problems { get; }

    /// <summary>The full path of the root source that it names, or null.</summary>
    public string? Root => Folder is { } folder && File.Root is { } root ? Path.GetFullPath(root, folder) : null;

    public static Project Read(string path, SourceFile source) =>
        Known.GetValue(
            source,
            of =>
            {
                (WorkspaceFile file, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(
                    of.Text.ToString()
                );
                return new Project(Path.GetDirectoryName(path), of, file, problems);
            }
        );
}
