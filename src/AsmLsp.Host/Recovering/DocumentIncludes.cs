using System.Collections.Concurrent;
using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Recovering;

/// <summary>
/// The files that the program of a document may take in. A document is a stranger's: it must not decide which files of the machine are read, shown on a page
/// and kept in an archive. So only files beside it, and in folders that a person named, are read, and none that a link there leads out to.
/// </summary>
public sealed class DocumentIncludes : IIncludeResolver
{
    private readonly ConfinedView view;
    private readonly IncludeResolver resolver;

    /// <summary>Makes the includes of one document.</summary>
    /// <param name="folder">The document's folder; null where it has none.</param>
    /// <param name="named">Folders that a person named.</param>
    /// <param name="open">The file that an editor holds for a full path, or null.</param>
    public DocumentIncludes(string? folder, IEnumerable<string> named, Func<string, SourceFile?>? open = null)
    {
        ImmutableArray<string> further = [.. named.Select(Path.GetFullPath)];
        view = new ConfinedView(folder is null ? further : [folder, .. further], open);
        resolver = new IncludeResolver(
            new IncludeSearch(folder is null ? [] : [folder], further, view),
            new FileLoader(),
            open
        );
    }

    /// <summary>What a person should know: files that were not read, and why; and how others were read.</summary>
    public IEnumerable<string> Notes =>
        view
            .Refused.Order(StringComparer.Ordinal)
            .Select(static path =>
                $"{path} is not read: it is outside the folder of the document. To include it, add --include {Path.GetDirectoryName(path)}."
            )
            .Concat(resolver.Failures.Values.Select(static f => f.Message))
            .Concat(resolver.Notes.Values);

    /// <inheritdoc/>
    public SourceFile? Resolve(string name, SourceFile from) => resolver.Resolve(name, from);

    /// <inheritdoc/>
    public bool IsUnreadable(string name, SourceFile from) => resolver.IsUnreadable(name, from);

    private sealed class ConfinedView(ImmutableArray<string> folders, Func<string, SourceFile?>? open) : IFolderView
    {
        private readonly ConcurrentDictionary<string, byte> refused = new();

        public IEnumerable<string> Refused => refused.Keys;

        public bool IsFile(string path)
        {
            bool isOpen = open?.Invoke(path) is not null;
            if (!isOpen && !DiskView.Instance.IsFile(path))
                return false;
            if (folders.Any(f => WorkspaceBounds.Below(f, path) is not null && RealPath.IsIn(f, path)))
                return true;
            refused.TryAdd(path, 0);
            return false;
        }

        public IEnumerable<string> NamesIn(string folder) =>
            folders.Any(f => WorkspaceBounds.Below(f, folder) is not null) ? DiskView.Instance.NamesIn(folder) : [];
    }
}
