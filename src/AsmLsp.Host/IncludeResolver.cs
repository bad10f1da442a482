using System.Collections.Concurrent;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Host;

/// <summary>
/// Gives the assembler the files that a program includes. Made anew for each analysis: a file is read once, so that it stays the same object, and an
/// unreadable one is remembered with its reason. Safe to ask from several threads.
/// </summary>
/// <param name="search">Where to look.</param>
/// <param name="loader">How to read.</param>
/// <param name="open">
/// The file that an editor holds for a full path, or null where it holds none. What it holds always wins over the disk.
/// </param>
public sealed class IncludeResolver(IncludeSearch search, FileLoader loader, Func<string, SourceFile?>? open = null)
    : IIncludeResolver
{
    private readonly ConcurrentDictionary<string, Lazy<SourceFile?>> files = new();
    private readonly ConcurrentDictionary<string, LoadFailure> failures = new();
    private readonly ConcurrentDictionary<string, string> notes = new();

    /// <summary>Files that were found but could not be read, by full path.</summary>
    public IReadOnlyDictionary<string, LoadFailure> Failures => failures;

    /// <summary>What a person should know about how files were read, by full path.</summary>
    public IReadOnlyDictionary<string, string> Notes => notes;

    /// <inheritdoc/>
    public SourceFile? Resolve(string name, SourceFile from)
    {
        ArgumentNullException.ThrowIfNull(from);
        return search.Find(FolderFile(from.Name), name) is { } path
            ? files.GetOrAdd(path, found => new Lazy<SourceFile?>(() => Read(found))).Value
            : null;
    }

    /// <inheritdoc/>
    public bool IsUnreadable(string name, SourceFile from)
    {
        ArgumentNullException.ThrowIfNull(from);
        string? beside = FolderFile(from.Name);
        return search.Find(beside, name) is not null || search.FindsSpecialFile(beside, name);
    }

    /// <inheritdoc/>
    public IReadOnlyList<string> Candidates(string name, SourceFile from)
    {
        ArgumentNullException.ThrowIfNull(from);
        return search.Candidates(FolderFile(from.Name), name);
    }

    /// <summary>The file whose folder comes first; a buffer without a file and standard input have none.</summary>
    private static string? FolderFile(string name)
    {
        if (Path.IsPathFullyQualified(name))
        {
            return name;
        }

        // 'untitled:...' and its like; a single letter before the colon would be a drive.
        bool isAddress = name.IndexOf(':', StringComparison.Ordinal) > 1;
        return name is "-" or "" || isAddress ? null : Path.GetFullPath(name);
    }

    private SourceFile? Read(string path)
    {
        if (open?.Invoke(path) is { } held)
        {
            return held;
        }

        if (!loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            failures[path] = failure;
            return null;
        }

        if (file.Note is { } note)
        {
            notes[path] = note;
        }

        return new SourceFile(path, file.Text);
    }
}
