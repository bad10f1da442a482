namespace AsmLsp.Host.Building;

/// <summary>On whose word a HEX file goes to its place.</summary>
public enum HexPlaceKind
{
    /// <summary>The person named the file for this build, so that it is theirs to overwrite.</summary>
    Named,

    /// <summary>Beside the source, under its name. A HEX from elsewhere that is there is kept under another name.</summary>
    Beside,

    /// <summary>A project file or a setting says so. Nothing but a HEX of this program is overwritten there.</summary>
    Configured,
}

/// <summary>Where the HEX file of a program goes; the one place that decides what may be written there.</summary>
/// <param name="Path">The file.</param>
/// <param name="Kind">On whose word.</param>
/// <param name="Bounds">The workspace; null where the person named the file.</param>
public sealed record HexPlace(string Path, HexPlaceKind Kind, WorkspaceBounds? Bounds)
{
    /// <summary>A file that the person named.</summary>
    public static HexPlace Named(string path) => new(path, HexPlaceKind.Named, null);

    /// <summary>The place when the person names none: as the project file says, else a setting, else beside the source.</summary>
    /// <param name="source">The root source.</param>
    /// <param name="project">The project file.</param>
    /// <param name="projectFolder">Its folder, or null.</param>
    /// <param name="bounds">The workspace.</param>
    /// <param name="setting">What an editor's settings say, relative to the source's folder, or null.</param>
    public static HexPlace Of(
        string source,
        WorkspaceFile project,
        string? projectFolder,
        WorkspaceBounds bounds,
        string? setting = null
    )
    {
        ArgumentNullException.ThrowIfNull(project);
        return project.Output is { } output && projectFolder is not null
                ? new(System.IO.Path.GetFullPath(output, projectFolder), HexPlaceKind.Configured, bounds)
            : setting is not null
                ? new(
                    System.IO.Path.GetFullPath(setting, System.IO.Path.GetDirectoryName(source)!),
                    HexPlaceKind.Configured,
                    bounds
                )
            : new(System.IO.Path.ChangeExtension(source, ".hex"), HexPlaceKind.Beside, bounds);
    }

    /// <summary>Why no HEX may be written here, for people; null where it may.</summary>
    public string? Refusal()
    {
        if (Bounds?.Refusal(Path) is { } outside)
            return outside;
        if (AtomicWriter.Refusal(Path) is { } fault)
            return fault;
        return Kind == HexPlaceKind.Configured && EarlierHex.IsOfAnother(Path)
            ? $"{Path} exists already and is not a HEX file from relist, so it is not overwritten. Name another file as output, or move it away."
            : null;
    }

    /// <summary>Writes the HEX, after what was there has been kept where that is due.</summary>
    /// <returns>The kept copy, or null; and the reason in words where nothing was written.</returns>
    public (string? Copy, string? Fault) Write(ReadOnlySpan<byte> content)
    {
        if (Refusal() is { } refusal)
            return (null, refusal);
        (string? copy, string? fault) = Kind == HexPlaceKind.Beside ? EarlierHex.Keep(Path) : (null, null);
        return fault is not null
            ? (null, fault)
            : (copy, AtomicWriter.Write(Path, content, followsLinks: Kind == HexPlaceKind.Named));
    }
}
