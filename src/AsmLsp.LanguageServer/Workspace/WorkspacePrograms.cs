using System.Collections.Concurrent;
using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The programs of one snapshot. A file is its own root unless the project file names one, an open document includes it or a source in the
/// workspace does; then it is seen through that root.
/// </summary>
internal sealed class WorkspacePrograms(WorkspaceFiles files, ProgramCache store)
{
    /// <summary>Files that are written to be included by another one go by these names.</summary>
    private static readonly string[] FragmentExtensions = [".inc", ".h", ".mac", ".def", ".equ", ".lib", ".var"];

    private readonly ConcurrentDictionary<string, Lazy<WorkspaceProgram>> programs = new(DiskSources.PathComparer);
    private readonly ConcurrentDictionary<string, Lazy<WorkspaceProgram>> byFile = new(DiskSources.PathComparer);
    private readonly Lazy<IncludeGraph> openIncludes = new(() =>
        IncludeGraph.Of(files, files.Snapshot.Documents.Values.Select(WorkspaceFiles.FileOf))
    );

    public WorkspaceSnapshot Snapshot => files.Snapshot;

    public WorkspaceFiles Files => files;

    /// <summary>The file that a client means, in the program that it belongs to; null where it is neither open nor on the disk.</summary>
    public DocumentView? Find(DocumentUri uri)
    {
        OpenDocument? document = Snapshot.Documents.GetValueOrDefault(uri);
        // A HEX file is no source: HexView is about it.
        if (HexView.IsHex(uri, document))
        {
            return null;
        }

        SourceFile? own =
            document is not null ? WorkspaceFiles.FileOf(document)
            : uri.Path is { } path ? files.Read(path)
            : null;
        if (own is null)
        {
            return null;
        }

        WorkspaceProgram program = byFile.GetOrAdd(own.Name, _ => new(() => ProgramOf(own))).Value;
        return new DocumentView(this, program, program.FindFile(own.Name) ?? own, document, document?.Uri ?? uri);
    }

    /// <summary>The programs of all open documents, each once.</summary>
    public IEnumerable<WorkspaceProgram> OfOpenDocuments() =>
        Snapshot.Documents.Keys.Select(uri => Find(uri)?.Program).OfType<WorkspaceProgram>().Distinct();

    /// <summary>The address of a file for the client: its own spelling where the file is open.</summary>
    public DocumentUri UriOf(SourceFile file)
    {
        var uri = Path.IsPathFullyQualified(file.Name) ? DocumentUri.FromPath(file.Name) : DocumentUri.Parse(file.Name);
        return Snapshot.Documents.TryGetValue(uri, out OpenDocument? open) ? open.Uri : uri;
    }

    /// <summary>The open document that a file is, or null.</summary>
    public OpenDocument? DocumentOf(SourceFile file) => Snapshot.Documents.GetValueOrDefault(UriOf(file));

    private WorkspaceProgram ProgramOf(SourceFile file)
    {
        foreach (string root in RootsFor(file))
        {
            if (
                files.Read(root) is { } source
                && Program(source, isFragment: false) is { } program
                && Holds(program, file)
            )
            {
                return program;
            }
        }

        return Program(
            file,
            FragmentExtensions.Contains(Path.GetExtension(file.Name), StringComparer.OrdinalIgnoreCase)
        );
    }

    // A program that takes too long says nothing about what it includes: its files are then seen by themselves.
    private static bool Holds(WorkspaceProgram program, SourceFile file)
    {
        try
        {
            return program.FindFile(file.Name) is not null;
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    private IEnumerable<string> RootsFor(SourceFile file)
    {
        if (!Path.IsPathFullyQualified(file.Name))
        {
            yield break;
        }

        Project project = IncludeGraph.ProjectOf(files, file.Name);
        if (project.Folder is { } folder && project.File.Files is [var first, ..])
            yield return Path.GetFullPath(first, folder);
        if (project.Root is { } named)
        {
            yield return named;
            if (DiskSources.PathComparer.Equals(named, file.Name))
            {
                yield break;
            }
        }

        foreach (
            string root in Nearest(openIncludes.Value.RootsOf(file.Name))
                .Concat(Nearest(IncludeGraph.Around(files, file.Name).RootsOf(file.Name)))
        )
        {
            yield return root;
        }

        IEnumerable<string> Nearest(IEnumerable<string> roots)
        {
            string own = Path.GetDirectoryName(file.Name) ?? "";
            return roots
                .OrderBy(root => Path.GetDirectoryName(root) == own ? 0 : 1)
                .ThenBy(root => root.Length)
                .ThenBy(root => root, StringComparer.Ordinal);
        }
    }

    private WorkspaceProgram Program(SourceFile root, bool isFragment) =>
        programs
            .GetOrAdd(
                root.Name,
                _ =>
                    new(() =>
                    {
                        Project project = IncludeGraph.ProjectOf(files, root.Name);
                        return store.Reuse(root.Name, last => last.HoldsIn(files, root, project, isFragment))
                            ?? store.Keep(
                                root.Name,
                                new WorkspaceProgram(root, files, project, isFragment, store.Limits),
                                Snapshot.Number
                            );
                    })
            )
            .Value;
}
