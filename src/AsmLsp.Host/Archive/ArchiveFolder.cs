using System.Text;

namespace AsmLsp.Host.Archive;

/// <summary>An archive on the disk: what its list says, and what is there.</summary>
internal sealed class ArchiveFolder
{
    private ArchiveFolder(string path, Dictionary<string, string> sums, Dictionary<string, byte[]> files)
    {
        Path = path;
        Sums = sums;
        Files = files;
    }

    /// <summary>The folder.</summary>
    public string Path { get; }

    /// <summary>The sums of the list, by name.</summary>
    public IReadOnlyDictionary<string, string> Sums { get; }

    /// <summary>The files of the list that are there.</summary>
    public IReadOnlyDictionary<string, byte[]> Files { get; }

    /// <summary>The document's copy, or null.</summary>
    public string? Document =>
        Sums.Keys.FirstOrDefault(static n => n.StartsWith("document.", StringComparison.Ordinal));

    /// <summary>The files of the list that are missing.</summary>
    public IEnumerable<string> Missing => Sums.Keys.Where(n => !Files.ContainsKey(n)).Order(StringComparer.Ordinal);

    /// <summary>The files that are not what the list says.</summary>
    public IEnumerable<string> Changed =>
        Files.Where(f => Checksums.Of(f.Value) != Sums[f.Key]).Select(static f => f.Key).Order(StringComparer.Ordinal);

    /// <summary>Whether a folder has the list of an archive.</summary>
    public static bool IsArchive(string folder) =>
        Directory.Exists(folder) && FileKinds.Of(System.IO.Path.Combine(folder, ArchiveNames.Sums)) == FileKind.Regular;

    /// <summary>The full paths of what the list of an archive names, and of the list.</summary>
    public static IEnumerable<string> NamesOf(string folder)
    {
        string list = System.IO.Path.Combine(folder, ArchiveNames.Sums);
        IEnumerable<string> names =
            FileLoader.ReadBytes(list, out byte[] bytes) is null
            && Checksums.Read(Encoding.UTF8.GetString(bytes)) is { } sums
                ? sums.Keys
                : [];
        return names.Append(ArchiveNames.Sums).Select(n => System.IO.Path.Combine(folder, n));
    }

    /// <summary>Reads an archive; gives the reason in words where it cannot be read.</summary>
    public static (ArchiveFolder? Folder, string? Failure) Read(string folder)
    {
        string list = System.IO.Path.Combine(folder, ArchiveNames.Sums);
        if (FileLoader.ReadBytes(list, out byte[] bytes) is { } failure)
            return (null, failure.Message);
        if (Checksums.Read(Encoding.UTF8.GetString(bytes)) is not { } sums)
            return (null, $"{list} is not the list of an archive.");
        var files = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (string name in sums.Keys)
        {
            string path = System.IO.Path.Combine(folder, name);
            if (FileKinds.Of(path) != FileKind.Regular)
                continue;
            if (FileLoader.ReadBytes(path, int.MaxValue, out byte[] content) is { } fault)
                return (null, fault.Message);
            files[name] = content;
        }

        return (new ArchiveFolder(folder, sums, files), null);
    }
}
