using System.Runtime.CompilerServices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// Which file includes which, as the lines say, whatever choices are around them. Enough to find the program that a file belongs to;
/// what really is included is reported by assembling it.
/// </summary>
internal sealed class IncludeGraph
{
    /// <summary>More than any listing has; a home folder opened as workspace must not hold up the answers.</summary>
    private const int MostFiles = 2000,
        MostEntries = 20_000,
        DeepestFolder = 8;

    /// <summary>A text of a printed program is some tens of thousands of characters long; logs and data are longer.</summary>
    private const long LongestFile = 1024 * 1024,
        MostBytes = 32 * LongestFile;

    /// <summary>Sources come before texts, which may be anything, where there are too many.</summary>
    private static readonly string[] Extensions = [".asm", ".inc", ".s", ".src", ".h", ".txt"];

    private static readonly ConditionalWeakTable<SourceText, string[]> Known = [];

    private readonly Dictionary<string, List<string>> includers = new(DiskSources.PathComparer);

    private IncludeGraph() { }

    /// <summary>What some files include.</summary>
    public static IncludeGraph Of(WorkspaceFiles files, IEnumerable<SourceFile> sources)
    {
        var graph = new IncludeGraph();
        foreach (SourceFile file in sources)
        {
            foreach (string name in NamesIn(file.Text))
            {
                if (
                    files.Find(name, file.Name, ProjectOf(files, file.Name)) is not { } target
                    || DiskSources.PathComparer.Equals(target, file.Name)
                )
                {
                    continue;
                }

                if (!graph.includers.TryGetValue(target, out List<string>? list))
                {
                    graph.includers.Add(target, list = []);
                }

                list.Add(file.Name);
            }
        }

        return graph;
    }

    /// <summary>What the sources around a file include: those of the workspace folders where it is in one, else those of its own folder.</summary>
    public static IncludeGraph Around(WorkspaceFiles files, string path)
    {
        bool isInside = FoldersOf(files)
            .Any(folder =>
                path.StartsWith(
                    Path.TrimEndingDirectorySeparator(folder) + Path.DirectorySeparatorChar,
                    StringComparison.Ordinal
                )
            );
        string own = Path.GetDirectoryName(path) ?? "";
        // Looking over many files takes a while: every file of the place shares one look.
        return files.Remember(
            ("includes", isInside ? "" : own),
            () =>
            {
                if (isInside)
                {
                    return Of(files, InFolders(files));
                }

                var found = new Collection(files);
                found.Add(own, deep: false);
                return Of(files, found.Files);
            }
        );
    }

    /// <summary>The files that include a file, directly or through others, and are themselves included by none.</summary>
    public List<string> RootsOf(string path)
    {
        var roots = new List<string>();
        var seen = new HashSet<string>(DiskSources.PathComparer) { path };
        var waiting = new Stack<string>([path]);
        while (waiting.TryPop(out string? at))
        {
            if (!includers.TryGetValue(at, out List<string>? above))
            {
                if (at != path)
                {
                    roots.Add(at);
                }

                continue;
            }

            foreach (string includer in above)
            {
                if (seen.Add(includer))
                {
                    waiting.Push(includer);
                }
            }
        }

        return roots;
    }

    /// <summary>The names that a text includes, as written.</summary>
    public static string[] NamesIn(SourceText text) =>
        Known.GetValue(
            text,
            static of =>
            {
                var names = new List<string>();
                foreach (TextLine line in of.Lines)
                {
                    // The line's syntax is kept with it, so this costs less than a search in its text.
                    var syntax = LineSyntax.Of(line);
                    if (syntax.OperationKind != OperationKind.Directive)
                    {
                        continue;
                    }

                    if (
                        syntax.Keyword == Keyword.Include
                        && IncludeSearch.Clean(syntax.OperandText) is { Length: > 0 } name
                    )
                    {
                        names.Add(name);
                    }
                }

                return [.. names];
            }
        );

    /// <summary>The project file of a file's folder.</summary>
    public static Project ProjectOf(WorkspaceFiles files, string name) =>
        Path.IsPathFullyQualified(name) && Path.GetDirectoryName(name) is { } folder
            ? files.ProjectOf(folder)
            : Project.None;

    /// <summary>Source files of all workspace folders, up to a limit.</summary>
    public static List<SourceFile> InFolders(WorkspaceFiles files)
    {
        var found = new Collection(files);
        foreach (string folder in FoldersOf(files))
        {
            found.Add(folder, deep: true);
        }

        return found.Files;
    }

    private static IEnumerable<string> FoldersOf(WorkspaceFiles files) =>
        files.Snapshot.Folders.Select(folder => folder.Path).OfType<string>();

    private sealed class Collection(WorkspaceFiles space)
    {
        private readonly HashSet<SourceFile> seen = [];
        private int entries;
        private long bytes;

        public List<SourceFile> Files { get; } = [];

        public void Add(string folder, bool deep)
        {
            var options = new EnumerationOptions
            {
                RecurseSubdirectories = deep,
                MaxRecursionDepth = DeepestFolder,
                IgnoreInaccessible = true,
                AttributesToSkip = FileAttributes.Hidden | FileAttributes.System | FileAttributes.ReparsePoint,
            };
            try
            {
                var sources = new List<(int Rank, string Path)>();
                foreach (string entry in Directory.EnumerateFiles(folder, "*", options))
                {
                    if (++entries > MostEntries)
                    {
                        break;
                    }

                    int rank = Array.FindIndex(
                        Extensions,
                        extension => extension.Equals(Path.GetExtension(entry), StringComparison.OrdinalIgnoreCase)
                    );
                    if (rank >= 0)
                    {
                        sources.Add((rank == Extensions.Length - 1 ? 1 : 0, entry));
                    }
                }

                foreach ((int _, string path) in sources.OrderBy(source => source.Rank))
                {
                    Add(path);
                }
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException)
            {
                // A folder that can't be looked at holds no source for us.
            }
        }

        private void Add(string path)
        {
            if (space.Open(path) is null)
            {
                long length = new FileInfo(path).Length;
                if (length > LongestFile || bytes + length > MostBytes)
                {
                    return;
                }

                bytes += length;
            }

            if (Files.Count < MostFiles && space.Read(path) is { } file && seen.Add(file))
            {
                Files.Add(file);
            }
        }
    }
}
