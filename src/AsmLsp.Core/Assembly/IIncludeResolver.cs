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
}

/// <summary>A program without files to include.</summary>
public sealed class NoIncludes : IIncludeResolver
{
    /// <summary>The one resolver of this kind.</summary>
    public static NoIncludes Instance { get; } = new();

    /// <inheritdoc/>
    public SourceFile? Resolve(string name, SourceFile from) => null;
}
