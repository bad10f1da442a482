namespace AsmLsp.Host;

/// <summary>
/// The one place that decides whether the files that a run is about to write would take away something that it reads, or each other. Files are
/// compared by what they are, not by how they are spelled.
/// </summary>
public sealed class OutputCheck
{
    private readonly Dictionary<FilePlace, string> inputs = [];
    private readonly Dictionary<FilePlace, string> outputs = [];
    private string? refusal;

    /// <summary>Why nothing may be written, for people; null where everything may.</summary>
    public string? Refusal => refusal;

    /// <summary>Adds a file that is read.</summary>
    public OutputCheck Reads(string path)
    {
        if (Path.IsPathFullyQualified(path) || !path.Contains(':', StringComparison.Ordinal))
            if (FilePlace.Of(path) is { } place)
                inputs.TryAdd(place, Shown(path));
        return this;
    }

    /// <summary>Adds files that are read.</summary>
    public OutputCheck Reads(IEnumerable<string> paths)
    {
        ArgumentNullException.ThrowIfNull(paths);
        foreach (string path in paths)
            Reads(path);
        return this;
    }

    /// <summary>Adds standard input, which may be a file.</summary>
    public OutputCheck ReadsStandardInput()
    {
        if (FileIdentity.OfStandard(0) is { } file)
            inputs.TryAdd(new FilePlace(file, ""), "the file on standard input");
        return this;
    }

    /// <summary>Adds standard output, which may be a file.</summary>
    public OutputCheck WritesStandardOutput()
    {
        if (FileIdentity.OfStandard(1) is { } file)
            Add(new FilePlace(file, ""), "standard output");
        return this;
    }

    /// <summary>Adds a file that is to be written; null adds none.</summary>
    /// <param name="what">The option or the thing, for the message.</param>
    /// <param name="path">Where it goes.</param>
    public OutputCheck Writes(string what, string? path)
    {
        if (path is { Length: > 0 } && FilePlace.Of(path) is { } place)
            Add(place, what);
        return this;
    }

    private void Add(FilePlace place, string what)
    {
        if (refusal is not null)
            return;
        if (inputs.TryGetValue(place, out string? read))
            refusal = $"{what} would overwrite {read}, which is read here. Name another file. Nothing is written.";
        else if (!outputs.TryAdd(place, what))
            refusal = $"{outputs[place]} and {what} name the same file. Name another one. Nothing is written.";
    }

    private static string Shown(string path) => Path.GetFileName(path) is { Length: > 0 } name ? name : path;
}
