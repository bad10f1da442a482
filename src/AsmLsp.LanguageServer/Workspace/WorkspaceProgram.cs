using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;
using AsmLsp.Host.Building;
using AsmLsp.Ide;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// A program in one version of all its files, assembled at most once however many requests ask. Kept from snapshot to snapshot as long as
/// nothing that it was made from changes.
/// </summary>
internal sealed class WorkspaceProgram
{
    private readonly RecordedIncludes includes;
    private readonly OtherSources others;
    private readonly Lazy<ProgramModel> model;
    private readonly AnalysisLimits limits;
    private readonly Lock gate = new();
    private CancellationTokenSource? running;
    private bool isOutdated;

    public WorkspaceProgram(
        SourceFile root,
        WorkspaceFiles files,
        Project project,
        bool isFragment,
        AnalysisLimits? limits = null
    )
    {
        this.limits = limits ?? AnalysisLimits.Usual;
        Root = root;
        Project = project;
        IsFragment = isFragment;
        Options = OptionsOf(files.Snapshot.Settings, project);
        includes = new RecordedIncludes(files, project);
        others = new OtherSources(files, project, root);
        model = new(() => new ProgramModel(Assemble(), isFragment));
    }

    /// <summary>The file that the program starts with.</summary>
    public SourceFile Root { get; }

    /// <summary>The project file that goes for it.</summary>
    public Project Project { get; }

    /// <summary>What the surroundings say about the program.</summary>
    public AssemblyOptions Options { get; }

    /// <summary>Whether this is a file made to be included, seen without the program that includes it.</summary>
    public bool IsFragment { get; }

    /// <summary>The program as the editor's features ask about it.</summary>
    /// <exception cref="OperationCanceledException">It takes too long, or a newer version has replaced this one.</exception>
    public ProgramModel Model => model.Value;

    /// <inheritdoc cref="Model"/>
    public ProgramAnalysis Analysis => Model.Analysis;

    /// <summary>Whether the program was given up because it took too long, though no newer version had replaced it.</summary>
    public bool IsGivenUp { get; private set; }

    /// <summary>The files of the program; its root alone where it takes too long to work out.</summary>
    public IReadOnlyList<SourceFile> FilesSoFar
    {
        get
        {
            try
            {
                return Analysis.Files;
            }
            catch (OperationCanceledException) when (IsGivenUp)
            {
                return [Root];
            }
        }
    }

    /// <summary>Says that a newer version has replaced this one: work on it that is not nearly done ends.</summary>
    public void Outdate()
    {
        lock (gate)
        {
            isOutdated = true;
            running?.CancelAfter(limits.Outdated);
        }
    }

    /// <summary>The file of the program with a name, or null.</summary>
    public SourceFile? FindFile(string name)
    {
        if (DiskSources.PathComparer.Equals(Root.Name, name))
        {
            return Root;
        }

        foreach (SourceFile file in Analysis.Files)
        {
            if (DiskSources.PathComparer.Equals(file.Name, name))
            {
                return file;
            }
        }

        return null;
    }

    /// <summary>Whether the program is the same in another snapshot.</summary>
    public bool HoldsIn(WorkspaceFiles files, SourceFile root, Project project, bool isFragment) =>
        ReferenceEquals(root, Root)
        && ReferenceEquals(project, Project)
        && isFragment == IsFragment
        && Options == OptionsOf(files.Snapshot.Settings, project)
        && includes.HoldsIn(files)
        && others.HoldsIn(files);

    private ProgramAnalysis Assemble()
    {
        using var stop = new CancellationTokenSource();
        lock (gate)
        {
            running = stop;
            stop.CancelAfter(isOutdated ? limits.Outdated : limits.Longest);
        }

        try
        {
            return Assembler.Assemble([Root, .. others.Files], includes, Options, stop.Token);
        }
        catch (OperationCanceledException)
        {
            IsGivenUp = !isOutdated;
            throw;
        }
        finally
        {
            lock (gate)
            {
                running = null;
            }
        }
    }

    private static AssemblyOptions OptionsOf(Settings settings, Project project)
    {
        AssemblyOptions options = DiskProgram.OptionsOf(project.File);
        return options with
        {
            ProjectChip = options.ProjectChip ?? settings.Chip,
            Defines = OutsideDefines.Join([.. settings.Define, .. project.File.Define]),
            Ignore = IgnoredProblems.Join([.. settings.Ignore, .. project.File.Ignore]),
            ClockHertz = options.ClockHertz ?? (settings.Clock is { } clock ? ClockFinder.ReadRate(clock) : null),
        };
    }
}
