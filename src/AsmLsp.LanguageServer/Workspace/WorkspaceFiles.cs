using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Text;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The files of one snapshot: what is open counts as it is in the editor, the rest as it is on the disk. Looks at the disk are remembered
/// for a while, since every keystroke asks the same again; an open document is the same object as long as its text is.
/// </summary>
internal sealed class WorkspaceFiles : IFolderView
{
    /// <summary>How long a look at the disk counts, where nobody reports changes.</summary>
    private const long MemoryMilliseconds = 2000;

    private static readonly ConditionalWeakTable<OpenDocument, SourceFile> Buffers = [];

    private readonly Dictionary<string, SourceFile> open;
    private readonly ILookup<string, string> openByFolder;
    private readonly DiskSources disk;
    private readonly Memory memory;

    private WorkspaceFiles(WorkspaceSnapshot snapshot, DiskSources disk, Memory memory)
    {
        Snapshot = snapshot;
        this.disk = disk;
        this.memory = memory;
        StringComparer paths = DiskSources.PathComparer;
        open = snapshot
            .Documents.Values.Where(document => document.Uri.Path is not null)
            .ToDictionary(document => document.Uri.Path!, FileOf, paths);
        openByFolder = open.Keys.ToLookup(
            path => Path.GetDirectoryName(path) ?? "",
            path => Path.GetFileName(path),
            paths
        );
    }

    public WorkspaceSnapshot Snapshot { get; }

    /// <summary>The files of a snapshot; takes over what an earlier one remembers where only texts of open documents changed.</summary>
    public static WorkspaceFiles Of(WorkspaceSnapshot snapshot, DiskSources disk, WorkspaceFiles? earlier)
    {
        Memory memory =
            earlier is null || snapshot.DiskState != earlier.Snapshot.DiskState ? new Memory(new())
            : earlier.memory.IsOld ? new Memory(earlier.memory.Looks)
            : earlier.memory;
        return new WorkspaceFiles(snapshot, disk, memory);
    }

    /// <summary>The name under which an analysis knows a document: its path, or its address where it has none.</summary>
    public static string NameOf(DocumentUri uri) => uri.Path ?? uri.Text;

    /// <summary>The file that an open document is.</summary>
    public static SourceFile FileOf(OpenDocument document) =>
        Buffers.GetValue(document, static open => new SourceFile(NameOf(open.Uri), open.Text));

    /// <summary>The open document with a path, or null.</summary>
    public SourceFile? Open(string path) => open.GetValueOrDefault(path);

    /// <summary>The file with a path, open or on the disk, or null.</summary>
    public SourceFile? Read(string path) => Open(path) ?? memory.Files.GetOrAdd(path, disk.Read);

    /// <inheritdoc/>
    public bool IsFile(string path) => open.ContainsKey(path) || DiskView.Instance.IsFile(path);

    /// <inheritdoc/>
    public IEnumerable<string> FilesNamed(string folder, string name) => DiskView.Instance.FilesNamed(folder, name);

    /// <inheritdoc/>
    public IEnumerable<string> NamesIn(string folder) =>
        openByFolder[Path.TrimEndingDirectorySeparator(folder)].Concat(DiskView.Instance.NamesIn(folder));

    /// <summary>The project file that goes for a folder, read; an empty one where there is none.</summary>
    public Project ProjectOf(string folder) =>
        memory.Projects.GetOrAdd(
            folder,
            at => ProjectFileFor(at) is { } path && Read(path) is { } file ? Project.Read(path, file) : Project.None
        );

    /// <summary>The folders in which something may be written without the person naming the place: those that are open, and that of a file.</summary>
    public WorkspaceBounds BoundsOf(string file) =>
        new(
            Snapshot
                .Folders.Select(static folder => folder.Path)
                .Append(Path.IsPathFullyQualified(file) ? Path.GetDirectoryName(file) : null)
                .OfType<string>()
        );

    // A project file above the workspace is somebody else's, unless the settings name it.
    private string? ProjectFileFor(string folder)
    {
        string[] folders = [.. Snapshot.Folders.Select(static open => open.Path).OfType<string>()];
        if (Snapshot.Settings.Project is { } named)
            return Path.GetFullPath(Path.Combine(folders.FirstOrDefault() ?? folder, named));
        return WorkspaceFile.FindAbove(folder, new WorkspaceBounds(folders).FolderOf(folder) ?? folder);
    }

    /// <summary>The path that an include means, or null.</summary>
    public string? Find(string name, string from, Project project) =>
        memory.Found.GetOrAdd(
            (Path.GetDirectoryName(from) ?? "", name, project),
            key => SearchFor(key.Project).Find(FolderFile(from), key.Name)
        );

    /// <summary>Whether something is where an include is looked for that cannot be read.</summary>
    public bool IsUnreadable(string name, string from, Project project) =>
        Find(name, from, project) is { } path
            ? Read(path) is null
            : SearchFor(project).FindsSpecialFile(FolderFile(from), name);

    /// <summary>The files of the workspace that have the name of an include; a slow look, so it is remembered.</summary>
    public IReadOnlyList<string> Candidates(string name, string from, Project project) =>
        Remember(
            ("candidates", name, Path.GetDirectoryName(from) ?? ""),
            () => (IReadOnlyList<string>)[.. SearchFor(project).Candidates(FolderFile(from), name)]
        );

    /// <summary>Keeps what a slow look over the workspace found until something is opened, saved, closed or reported to have changed.</summary>
    public T Remember<T>(object key, Func<T> look)
        where T : class => (T)memory.Looks.GetOrAdd(key, _ => new Lazy<object>(look)).Value;

    private IncludeSearch SearchFor(Project project) =>
        memory.Searches.GetOrAdd(
            project,
            of =>
            {
                string[] folders = [.. Snapshot.Folders.Select(folder => folder.Path).OfType<string>()];
                string first = folders.FirstOrDefault() ?? of.Folder ?? "";
                // A configured folder may be written relative to the workspace, one of the project file is relative to that.
                IEnumerable<string> configured = Snapshot.Settings.Include.Select(folder =>
                    Path.GetFullPath(Path.Combine(first, folder))
                );
                IEnumerable<string> projects = of.Folder is { } home
                    ? of.File.Include.Select(folder => Path.GetFullPath(folder, home))
                    : [];
                return new IncludeSearch(
                    of.Folder is null ? folders : [of.Folder, .. folders],
                    [.. configured, .. projects],
                    this
                );
            }
        );

    /// <summary>The file whose folder comes first; a buffer without a file has none.</summary>
    private static string? FolderFile(string name) => Path.IsPathFullyQualified(name) ? name : null;

    private sealed class Memory(ConcurrentDictionary<object, Lazy<object>> looks)
    {
        private readonly long born = Environment.TickCount64;

        public bool IsOld => Environment.TickCount64 - born > MemoryMilliseconds;

        public ConcurrentDictionary<string, SourceFile?> Files { get; } = new(DiskSources.PathComparer);

        public ConcurrentDictionary<(string Folder, string Name, Project Project), string?> Found { get; } = new();

        public ConcurrentDictionary<string, Project> Projects { get; } = new(DiskSources.PathComparer);

        public ConcurrentDictionary<Project, IncludeSearch> Searches { get; } = new();

        public ConcurrentDictionary<object, Lazy<object>> Looks { get; } = looks;
    }
}
