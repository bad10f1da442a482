using AsmLsp.Core.Text;
using AsmLsp.Host;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The disk with the documents of a snapshot laid over it: an include that is open counts as it stands in the editor, even where it was never
/// saved. Each open document is one <see cref="SourceFile"/> for the life of the view.
/// </summary>
internal sealed class SnapshotView : IFolderView
{
    private readonly Dictionary<string, SourceFile> open;
    private readonly ILookup<string, string> namesByFolder;

    public SnapshotView(Snapshot snapshot, Func<OpenDocument, SourceFile> fileOf)
    {
        StringComparer paths = DiskSources.PathComparer;
        open = snapshot
            .Documents.Values.Where(document => document.Uri.Path is not null)
            .ToDictionary(document => document.Uri.Path!, fileOf, paths);
        namesByFolder = open.Keys.ToLookup(
            path => Path.GetDirectoryName(path) ?? "",
            path => Path.GetFileName(path),
            paths
        );
    }

    /// <summary>What the editor holds for a path, or null.</summary>
    public SourceFile? Open(string path) => open.GetValueOrDefault(path);

    public bool IsFile(string path) => open.ContainsKey(path) || DiskView.Instance.IsFile(path);

    public IEnumerable<string> FilesNamed(string folder, string name) => DiskView.Instance.FilesNamed(folder, name);

    public IEnumerable<string> NamesIn(string folder) =>
        namesByFolder[Path.TrimEndingDirectorySeparator(folder)].Concat(DiskView.Instance.NamesIn(folder));
}
