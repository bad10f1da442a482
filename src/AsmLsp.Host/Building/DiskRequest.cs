namespace AsmLsp.Host.Building;

/// <summary>What a person asks for when a program is loaded, beside its source.</summary>
public sealed record DiskRequest
{
    /// <summary>A chip that goes before what the source and the project file say, or null.</summary>
    public string? Chip { get; init; }

    /// <summary>The project file that the person named, or null to look for one, not above the workspace.</summary>
    public string? ProjectFile { get; init; }

    /// <summary>Folders to look for includes in, before those of the project file.</summary>
    public IReadOnlyList<string> IncludeFolders { get; init; } = [];

    /// <summary>Names that are defined before the first line, 'NAME' or 'NAME=TEXT', beside those of the project file.</summary>
    public IReadOnlyList<string> Defines { get; init; } = [];

    /// <summary>The further sources that the program is put together from; empty leaves it to the project file.</summary>
    public IReadOnlyList<string> Others { get; init; } = [];

    /// <summary>The build of the project file that is meant, or null.</summary>
    public NamedBuild? Build { get; init; }
}
