using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Building;

/// <summary>A program on the disk: its root source with the settings of the project file around it.</summary>
public sealed class DiskProgram
{
    private DiskProgram(
        SourceFile root,
        IncludeResolver includes,
        AssemblyOptions options,
        WorkspaceFile project,
        string? projectFolder,
        IReadOnlyList<string> notes
    )
    {
        Root = root;
        Includes = includes;
        Options = options;
        Project = project;
        ProjectFolder = projectFolder;
        Notes = notes;
    }

    /// <summary>The source that the program starts with.</summary>
    public SourceFile Root { get; }

    /// <summary>Where included files are found.</summary>
    public IncludeResolver Includes { get; }

    /// <summary>What the surroundings say about the program.</summary>
    public AssemblyOptions Options { get; }

    /// <summary>The project file, or an empty one.</summary>
    public WorkspaceFile Project { get; }

    /// <summary>The folder of the project file, or null where there is none.</summary>
    public string? ProjectFolder { get; }

    /// <summary>What a person should know about how the source and the project file were read.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>The same for included files, once the program has been assembled: those that could not be read first.</summary>
    public IEnumerable<string> IncludeNotes =>
        Includes.Failures.Values.Select(f => f.Message).Concat(Includes.Notes.Values);

    /// <summary>Loads a source and what its project file says; gives the reason where the source can't be read.</summary>
    /// <param name="path">The source.</param>
    /// <param name="device">A chip that goes before what the project file says, or null.</param>
    /// <param name="includeFolders">Folders to look for includes in, before those of the project file.</param>
    public static (DiskProgram? Program, LoadFailure? Failure) Load(
        string path,
        string? device = null,
        IReadOnlyList<string>? includeFolders = null
    )
    {
        var loader = new FileLoader();
        return loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure)
            ? (Of(file, loader, device, includeFolders ?? []), null)
            : (null, failure);
    }

    /// <summary>Makes a program of a text that was read already, as from standard input; includes are looked for beside its name.</summary>
    public static DiskProgram Of(
        LoadedFile file,
        FileLoader loader,
        string? device,
        IReadOnlyList<string> includeFolders
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        var notes = new List<string>();
        if (file.Note is { } note)
            notes.Add(note);
        string folder = Path.GetDirectoryName(Path.GetFullPath(file.Path)) ?? "/";
        (WorkspaceFile project, string? projectFolder) = FindProject(loader, folder, notes);
        IEnumerable<string> further = project.IncludeFolders.Select(f => Path.GetFullPath(f, projectFolder ?? folder));
        var search = new IncludeSearch(
            projectFolder is null ? [] : [projectFolder],
            [.. includeFolders.Select(Path.GetFullPath), .. further],
            DiskView.Instance
        );
        return new DiskProgram(
            new SourceFile(file.Path, file.Text),
            new IncludeResolver(search, loader),
            new AssemblyOptions { Chip = device, ProjectChip = project.Chip },
            project,
            projectFolder,
            notes
        );
    }

    /// <summary>Assembles the program.</summary>
    public ProgramAnalysis Assemble() => Assembler.Assemble(Root, Includes, Options);

    private static (WorkspaceFile Project, string? Folder) FindProject(
        FileLoader loader,
        string folder,
        List<string> notes
    )
    {
        if (WorkspaceFile.FindAbove(folder, null) is not { } path)
            return (WorkspaceFile.Empty, null);
        if (!loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            notes.Add(failure.Message);
            return (WorkspaceFile.Empty, null);
        }

        (WorkspaceFile project, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(
            file.Text.ToString()
        );
        notes.AddRange(problems.Select(p => p.Message));
        return (project, Path.GetDirectoryName(path));
    }
}
