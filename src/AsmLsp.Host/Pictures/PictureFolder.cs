using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Host.Pictures;

/// <summary>
/// The pictures as files of one folder: each line by its page and line (<c>page-3-line-12.png</c>), and each of their pages with all these lines framed
/// (<c>page-3.png</c>).
/// </summary>
/// <param name="folder">The folder, as a person named it.</param>
/// <param name="pictures">The pictures.</param>
public sealed class PictureFolder(string folder, DocumentPictures pictures)
{
    private readonly string full = Path.GetFullPath(folder);

    /// <summary>The paths of all files.</summary>
    public IEnumerable<string> Files => Contents.Select(static c => c.Path);

    private IEnumerable<(string Path, byte[] Content)> Contents =>
        pictures
            .Lines.Select(l => (PathOf(l.Area.Name), l.Png))
            .Concat(pictures.Pages.Select(p => (PathOf(NameOf(p.Page)), p.Framed)));

    /// <summary>Writes the files; makes the folder where it is not there, but none above it. Gives the reason in words where that fails.</summary>
    public string? Write()
    {
        try
        {
            if (!Directory.Exists(full))
            {
                if (File.Exists(full))
                    return $"{folder} is a file; name a folder for the pictures.";
                if (Path.GetDirectoryName(full) is not { } above || !Directory.Exists(above))
                    return $"{folder} could not be written: the folder that it is to be in does not exist.";
                Directory.CreateDirectory(full);
            }
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return $"{folder} could not be written: {fault.Message}";
        }

        // A link with the name of a picture would lead out of the folder.
        foreach ((string path, byte[] content) in Contents)
            if (AtomicWriter.Write(path, content, followsLinks: false) is { } reason)
                return reason;
        return null;
    }

    /// <summary>The files that show what an entry of the report is about, seen from another folder: its lines, then their pages.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="result">The recovery that it is of.</param>
    /// <param name="from">The folder that the names are to lead from.</param>
    public ImmutableArray<string> FilesOf(RecoveryEntry entry, RecoveryResult result, string from)
    {
        LinePicture[] lines = [.. pictures.Of(entry, result)];
        IEnumerable<int> pages = lines.Select(static l => l.Area.Page);
        if (lines.Length == 0 && entry.Page is { } page)
            pages = [page];
        return
        [
            .. lines
                .Select(static l => l.Area.Name)
                .Concat(pages.Distinct().Where(p => pictures.OfPage(p) is not null).Select(NameOf))
                .Select(n => Path.GetRelativePath(from, PathOf(n)).Replace('\\', '/')),
        ];
    }

    private static string NameOf(int page) => string.Create(CultureInfo.InvariantCulture, $"page-{page}");

    private string PathOf(string name) => Path.Combine(full, name + ".png");
}
