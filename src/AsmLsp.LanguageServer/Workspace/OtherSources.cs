using System.Collections.Immutable;
using AsmLsp.Core.Text;
using AsmLsp.Host.Building;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>The further sources of a program of several files, as the project file names them, in one version each.</summary>
internal sealed class OtherSources
{
    private readonly ImmutableArray<(string Path, SourceFile? File)> sources;

    public OtherSources(WorkspaceFiles files, Project project, SourceFile root) =>
        sources = project.Folder is { } folder
            ? [.. DiskProgram.OthersIn(project.File.Files, folder, root.Name).Select(path => (path, files.Read(path)))]
            : [];

    /// <summary>Those that could be read.</summary>
    public IEnumerable<SourceFile> Files => sources.Select(source => source.File).OfType<SourceFile>();

    /// <summary>Whether the files of another snapshot hold the same.</summary>
    public bool HoldsIn(WorkspaceFiles other)
    {
        foreach ((string path, SourceFile? file) in sources)
            if (!ReferenceEquals(other.Read(path), file))
                return false;
        return true;
    }
}
