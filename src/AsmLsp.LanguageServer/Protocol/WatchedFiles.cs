using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

internal enum FileChangeType
{
    Created = 1,
    Changed = 2,
    Deleted = 3,
}

internal sealed record FileEvent(string Uri, FileChangeType Type);

internal sealed record DidChangeWatchedFilesParams(FileEvent[] Changes) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Changes);
}

internal sealed record RelativePattern(string BaseUri, string Pattern);

internal sealed record WatchedPattern(StringOr<RelativePattern> GlobPattern)
{
    public int? Kind { get; init; }
}

internal sealed record DidChangeWatchedFilesRegistrationOptions(WatchedPattern[] Watchers);
