using System.Runtime.CompilerServices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// Which file includes which, as the lines say, whatever choices stand around them. Enough to find the program that a file belongs to;
/// what really is included is told by assembling it.
/// </summary>
internal static class IncludeGraph
{
    /// <summary>More than any listing has; a home folder opened as workspace must not hold up the answers.</summary>
    private const int MostFiles = 2000, MostEntries = 20_000, DeepestFolder = 8;

    private static readonly string[] Extensions = [".asm", ".inc", ".s", ".src", ".h", ".txt"];

    private static readonly ConditionalWeakTable<SourceText, string[]> Known = [];

    /// <summary>The names that a text includes, as written.</summary>
    public static string[] NamesIn(SourceText text) => Known.GetValue(text, static of =>
    {
        var names = new List<string>();
        foreach (TextLine line in of.Lines)
        {
            if (!line.Text.Contains("include", StringComparison.OrdinalIgnoreCase))
            {
                continue;
            }

            var syntax = LineSyntax.Of(line);
            if (syntax.Operation is { } word && word.TrimStart('#').Equals("include", StringComparison.OrdinalIgnoreCase) && IncludeSearch.Clean(syntax.OperandText) is { Length: > 0 } name)
            {
                names.Add(name);
            }
        }

        return [.. names];
    });

    /// <summary>The files that include a file, directly or through others, and are themselves included by none.</summary>
    /// <param name="files">The files of the snapshot.</param>
    /// <param name="path">The file.</param>
    /// <param name="candidates">The files that may be roots.</param>
    public static List<string> RootsOf(FileSpace files, string path, IEnumerable<SourceFile> candidates)
    {
        var includers = new Dictionary<string, List<string>>(DiskSources.PathComparer);
        foreach (SourceFile file in candidates)
        {
            foreach (string name in NamesIn(file.Text))
            {
                if (files.Find(name, file.Name, ProjectOf(files, file.Name)) is { } target && !DiskSources.PathComparer.Equals(target, file.Name))
                {
                    if (!includers.TryGetValue(target, out List<string>? list))
                    {
                        includers.Add(target, list = []);
                    }

                    list.Add(file.Name);
                }
            }
        }

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

    /// <summary>The project file of a file's folder.</summary>
    public static Project ProjectOf(FileSpace files, string name) =>
        Path.IsPathFullyQualified(name) && Path.GetDirectoryName(name) is { } folder ? files.ProjectOf(folder) : Project.None;

    /// <summary>Source files on the disk around a file: those of its folder first, then those of the workspace folder that it is in.</summary>
    public static List<SourceFile> Around(FileSpace files, string path)
    {
        var found = new List<SourceFile>();
        int entries = 0;
        string own = Path.GetDirectoryName(path) ?? "";
        Collect(own, deep: false);
        foreach (string folder in files.Snapshot.Folders.Select(folder => folder.Path).OfType<string>())
        {
            if (path.StartsWith(Path.TrimEndingDirectorySeparator(folder) + Path.DirectorySeparatorChar, StringComparison.Ordinal))
            {
                Collect(folder, deep: true);
            }
        }

        return found;

        void Collect(string folder, bool deep)
        {
            var options = new EnumerationOptions
            {
                RecurseSubdirectories = deep, MaxRecursionDepth = DeepestFolder, IgnoreInaccessible = true,
                AttributesToSkip = FileAttributes.Hidden | FileAttributes.System | FileAttributes.ReparsePoint,
            };
            try
            {
                foreach (string entry in Directory.EnumerateFiles(folder, "*", options))
                {
                    if (++entries > MostEntries || found.Count >= MostFiles)
                    {
                        return;
                    }

                    if (Extensions.Contains(Path.GetExtension(entry), StringComparer.OrdinalIgnoreCase) && files.Read(entry) is { } file && !found.Contains(file))
                    {
                        found.Add(file);
                    }
                }
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                // A folder that can't be looked at holds no root for us.
            }
        }
    }
}
