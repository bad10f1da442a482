using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Finds the files that a program includes; implemented where files are.</summary>
public interface IIncludeResolver
{
    /// <summary>
    /// The file meant by a name as the program writes it (without quotes or angle brackets), or null where there is
    /// none. The same file must come back as the same <see cref="SourceFile"/> object while one analysis runs.
    /// </summary>
    SourceFile? Resolve(string name, SourceFile from);

    /// <summary>
    /// Whether something is under a name for which no file came back: a device, a pipe, or a file that may not be
    /// read. What it would have brought is not known then, even where the name is that of a chip's header.
    /// </summary>
    bool IsUnreadable(string name, SourceFile from) => false;

    /// <summary>
    /// Where the name leads nowhere: the full paths of files elsewhere in the workspace that have the same file name.
    /// </summary>
    IReadOnlyList<string> Candidates(string name, SourceFile from) => [];
}

/// <summary>A program without files to include.</summary>
public sealed class NoIncludes : IIncludeResolver
{
    /// <summary>The one resolver of this kind.</summary>
    public static NoIncludes Instance { get; } = new();

    /// <inheritdoc/>
    public SourceFile? Resolve(string name, SourceFile from) => null;
}
