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
        string? projectPath,
        WorkspaceBounds bounds,
        IReadOnlyList<string> notes
    )
    {
        Root = root;
        Includes = includes;
        Options = options;
        Project = project;
        ProjectPath = projectPath;
        Bounds = bounds;
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

    /// <summary>The full path of the project file, or null where there is none.</summary>
    public string? ProjectPath { get; }

    /// <summary>The folder of the project file, or null where there is none.</summary>
    public string? ProjectFolder => ProjectPath is null ? null : Path.GetDirectoryName(ProjectPath);

    /// <summary>Where a build may write without being told.</summary>
    public WorkspaceBounds Bounds { get; }

    /// <summary>What a person should know about how the source and the project file were read.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>The same for included files, once the program has been assembled: those that could not be read first.</summary>
    public IEnumerable<string> IncludeNotes =>
        Includes.Failures.Values.Select(f => f.Message).Concat(Includes.Notes.Values);

    /// <summary>Loads a source and what its project file says; gives the reason where the source can't be read.</summary>
    /// <param name="path">The source.</param>
    /// <param name="device">A chip that goes before what the project file says, or null.</param>
    /// <param name="includeFolders">Folders to look for includes in, before those of the project file.</param>
    /// <param name="projectFile">The project file that a person named; null looks for one, not above the workspace.</param>
    public static (DiskProgram? Program, LoadFailure? Failure) Load(
        string path,
        string? device = null,
        IReadOnlyList<string>? includeFolders = null,
        string? projectFile = null
    )
    {
        var loader = new FileLoader();
        return loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure)
            ? (Of(file, loader, device, includeFolders ?? [], projectFile), null)
            : (null, failure);
    }

    /// <summary>Makes a program of a text that was read already, as from standard input; includes are looked for beside its name.</summary>
    public static DiskProgram Of(
        LoadedFile file,
        FileLoader loader,
        string? device,
        IReadOnlyList<string> includeFolders,
        string? projectFile = null
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        var notes = new List<string>();
        if (file.Note is { } note)
            notes.Add(note);
        string folder = Path.GetDirectoryName(Path.GetFullPath(file.Path)) ?? "/";
        var bounds = WorkspaceBounds.OfSource(folder);
        (WorkspaceFile project, string? projectPath) = FindProject(loader, folder, projectFile, notes);
        string? projectFolder = projectPath is null ? null : Path.GetDirectoryName(projectPath);
        if (projectFile is not null && projectFolder is not null)
            bounds = bounds.With(projectFolder);
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
            projectPath,
            bounds,
            notes
        );
    }

    /// <summary>Assembles the program.</summary>
    public ProgramAnalysis Assemble() => Assembler.Assemble(Root, Includes, Options);

    /// <summary>Every file that an assembled program was made from, for a check of what is written.</summary>
    public IEnumerable<string> Inputs(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        return program.Files.Select(static f => f.Name).Concat(ProjectPath is null ? [] : [ProjectPath]);
    }

    private static (WorkspaceFile Project, string? Path) FindProject(
        FileLoader loader,
        string folder,
        string? named,
        List<string> notes
    )
    {
        string? path = named is null
            ? WorkspaceFile.FindAbove(folder, WorkspaceBounds.TopFor(folder))
            : Path.GetFullPath(named);
        if (path is null)
        {
            if (WorkspaceFile.FindAbove(folder, null) is { } above)
                notes.Add(
                    $"{above} is above the current folder and the source, so it does not count. To use it, add --project {above}."
                );
            return (WorkspaceFile.Empty, null);
        }

        if (!loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            notes.Add(failure.Message);
            return (WorkspaceFile.Empty, null);
        }

        (WorkspaceFile project, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(
            file.Text.ToString()
        );
        notes.AddRange(problems.Select(p => p.Message));
        return (project, path);
    }
}
