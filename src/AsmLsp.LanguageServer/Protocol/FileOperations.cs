using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

internal sealed record FileOperationPattern(string Glob)
{
    /// <summary><c>file</c> or <c>folder</c>; both when left out.</summary>
    public string? Matches { get; init; }
}

internal sealed record FileOperationFilter(FileOperationPattern Pattern)
{
    public string? Scheme { get; init; }
}

internal sealed record FileOperationRegistrationOptions(FileOperationFilter[] Filters);

internal sealed record FileRename(string OldUri, string NewUri);

internal sealed record RenameFilesParams(FileRename[] Files) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Files);
}
