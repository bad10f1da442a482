using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Building;

/// <summary>Finds included files on the disk; a file is read once, however often it is included.</summary>
public sealed class DiskIncludes(FileLoader loader, IncludeSearch search) : IIncludeResolver
{
    private readonly Dictionary<string, SourceFile?> read = new(StringComparer.Ordinal);
    private readonly List<string> notes = [];

    /// <summary>What a person should know about how the files were read, and why a found file could not be.</summary>
    public IReadOnlyList<string> Notes => notes;

    /// <inheritdoc/>
    public SourceFile? Resolve(string name, SourceFile from)
    {
        ArgumentNullException.ThrowIfNull(from);
        if (search.Find(from.Name, name) is not { } path) return null;
        if (read.TryGetValue(path, out SourceFile? known)) return known;
        if (loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            if (file.Note is { } note) notes.Add(note);
            known = new SourceFile(file.Path, file.Text);
        }
        else
        {
            notes.Add(failure.Message);
        }

        read.Add(path, known);
        return known;
    }
}
