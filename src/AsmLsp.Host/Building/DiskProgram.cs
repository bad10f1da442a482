using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Building;

/// <summary>A program on the disk: its root source with the settings of the project file around it.</summary>
public sealed class DiskProgram
{
    private DiskProgram(
        ImmutableArray<SourceFile> roots,
        IncludeResolver includes,
        AssemblyOptions options,
        WorkspaceFile project,
        string? projectPath,
        WorkspaceBounds bounds,
        IReadOnlyList<string> notes
    )
    {
        Roots = roots;
        Includes = includes;
        Options = options;
        Project = project;
        ProjectPath = projectPath;
        Bounds = bounds;
        Notes = notes;
    }

    /// <summary>The sources that the program is put together from; most have one.</summary>
    public ImmutableArray<SourceFile> Roots { get; }

    /// <summary>The source that the program starts with.</summary>
    public SourceFile Root => Roots[0];

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

    /// <summary>Where a build may write without being reported.</summary>
    public WorkspaceBounds Bounds { get; }

    /// <summary>What a person should know about how the source and the project file were read.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>The same for included files, once the program has been assembled: those that could not be read first.</summary>
    public IEnumerable<string> IncludeNotes =>
        Includes.Failures.Values.Select(f => f.Message).Concat(Includes.Notes.Values);

    /// <summary>Loads a source and what its project file says; gives the reason where the source can't be read.</summary>
    /// <param name="path">The source.</param>
    /// <param name="request">What the person asked for beside it; null for nothing.</param>
    public static (DiskProgram? Program, LoadFailure? Failure) Load(string path, DiskRequest? request = null)
    {
        var loader = new FileLoader();
        return loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure)
            ? Of(file, loader, request ?? new DiskRequest())
            : (null, failure);
    }

    /// <summary>
    /// Makes a program of a text that was read already, as from standard input; includes are looked for beside its name.
    /// Gives the reason where a further source can't be read.
    /// </summary>
    public static (DiskProgram? Program, LoadFailure? Failure) Of(
        LoadedFile file,
        FileLoader loader,
        DiskRequest request
    )
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(loader);
        ArgumentNullException.ThrowIfNull(request);
        var notes = new List<string>();
        if (file.Note is { } note)
            notes.Add(note);
        string folder = Path.GetDirectoryName(Path.GetFullPath(file.Path)) ?? "/";
        var bounds = WorkspaceBounds.OfSource(folder);
        (WorkspaceFile project, string? projectPath) = FindProject(loader, folder, request.ProjectFile, notes);
        string? projectFolder = projectPath is null ? null : Path.GetDirectoryName(projectPath);
        if (request.ProjectFile is not null && projectFolder is not null)
            bounds = bounds.With(projectFolder);
        IEnumerable<string> further = project.Include.Select(f => Path.GetFullPath(f, projectFolder ?? folder));
        var search = new IncludeSearch(
            projectFolder is null ? [] : [projectFolder],
            [.. request.IncludeFolders.Select(Path.GetFullPath), .. further],
            DiskView.Instance
        );
        var others = new List<SourceFile>();
        foreach (string path in OthersOf(file.Path, request, project, projectFolder))
        {
            if (!loader.Load(path).TryGet(out LoadedFile? other, out LoadFailure? failure))
                return (null, failure);
            if (other.Note is { } said)
                notes.Add(said);
            others.Add(new SourceFile(other.Path, other.Text));
        }

        NamedBuild? build = request.Build;
        return (
            new DiskProgram(
                [new SourceFile(file.Path, file.Text), .. others],
                new IncludeResolver(search, loader),
                OptionsOf(project) with
                {
                    Chip = request.Chip ?? build?.Chip,
                    Defines = OutsideDefines.Join([.. project.Define, .. build?.Define ?? [], .. request.Defines]),
                },
                project,
                projectPath,
                bounds,
                notes
            ),
            null
        );
    }

    /// <summary>What a project file says about every program of its folder.</summary>
    public static AssemblyOptions OptionsOf(WorkspaceFile project)
    {
        ArgumentNullException.ThrowIfNull(project);
        return new AssemblyOptions
        {
            ProjectChip = project.Chip,
            Defines = OutsideDefines.Join(project.Define),
            Ignore = IgnoredProblems.Join(project.Ignore),
            ClockHertz = project.Clock is { } clock ? ClockFinder.ReadRate(clock) : null,
            Board = project.Board is { } board
                ? new BoardFacts(board.Marking, board.Crystal is { } crystal ? ClockFinder.ReadRate(crystal) : null)
                : null,
        };
    }

    /// <summary>Every file that an assembled program was made from, for a check of what is written.</summary>
    public IEnumerable<string> Inputs(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        return program.Files.Select(static f => f.Name).Concat(ProjectPath is null ? [] : [ProjectPath]);
    }

    /// <summary>
    /// The further sources of the program that a source starts, as a project file names them; empty where the source
    /// is none of them.
    /// </summary>
    public static IEnumerable<string> OthersIn(IEnumerable<string> files, string folder, string source)
    {
        string[] all = [.. files.Select(f => Path.GetFullPath(f, folder))];
        return all.Contains(source) ? all.Where(f => f != source) : [];
    }

    private static IEnumerable<string> OthersOf(
        string source,
        DiskRequest request,
        WorkspaceFile project,
        string? projectFolder
    )
    {
        string own = Path.GetFullPath(source);
        if (request.Others.Count > 0)
            return request.Others.Select(Path.GetFullPath).Where(path => path != own);
        if (projectFolder is null)
            return [];
        return OthersIn(request.Build is { Files.Length: > 0 } build ? build.Files : project.Files, projectFolder, own);
    }

    /// <summary>Assembles the program.</summary>
    public ProgramAnalysis Assemble() => Assembler.Assemble(Roots, Includes, Options);

    /// <summary>The project file that goes for a folder, and its path; an empty one and null where there is none.</summary>
    public static (WorkspaceFile Project, string? Path) FindProject(
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
