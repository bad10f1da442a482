using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Results;

/// <summary>A file that a recovered program includes and that the document prints by itself: it is to be written beside the source.</summary>
/// <param name="Name">Its name, without folders: beside the source it is found whatever folder the program names.</param>
/// <param name="File">Its text, as the program reads it.</param>
/// <param name="Pages">Where it is printed: <c>page 4</c>; empty for a paste without pages.</param>
/// <param name="Result">Its source with its report; its program is that of the file by itself.</param>
public sealed record PrintedFile(string Name, SourceFile File, string Pages, RecoveryResult Result)
{
    /// <summary>Whether an include line means this file, in whatever folder and case it names it.</summary>
    public bool IsNamed(string written)
    {
        ArgumentNullException.ThrowIfNull(written);
        string name = written.Trim().Trim('<', '>', '"', '\'').Trim();
        return name[(name.LastIndexOfAny(['\\', '/']) + 1)..].Equals(Name, StringComparison.OrdinalIgnoreCase);
    }
}

/// <summary>The files that a program may include: those that are there come first, then those that its document prints.</summary>
internal sealed class PrintedFileIncludes(IIncludeResolver? there, ImmutableArray<PrintedFile> printed)
    : IIncludeResolver
{
    public SourceFile? Resolve(string name, SourceFile from) =>
        there?.Resolve(name, from) ?? printed.FirstOrDefault(f => f.IsNamed(name))?.File;

    public bool IsUnreadable(string name, SourceFile from) => there?.IsUnreadable(name, from) == true;

    public IReadOnlyList<string> Candidates(string name, SourceFile from) => there?.Candidates(name, from) ?? [];
}
