using System.Text.Json.Serialization;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/didChangeWatchedFiles</c>: sources and the project file, as far as the client can watch.</summary>
internal sealed class DidChangeWatchedFilesHandler : IFeature
{
    public const string Method = "workspace/didChangeWatchedFiles";

    /// <summary>Names that sources and includes go by; capitals come from old disks.</summary>
    private const string Watched = "**/{*.{asm,ASM,inc,INC,s,S,src,SRC,h,H},relist.json}";

    public void Register(FeatureRegistry registry)
    {
        registry.Notification<DidChangeWatchedFilesParams>(
            Method,
            (server, change) =>
                server.Workspace.FilesChanged([.. change.Changes.Select(file => DocumentUri.Parse(file.Uri))])
        );

        registry.Dynamic(client =>
            client.CanRegister("workspace.didChangeWatchedFiles")
                ? new Registration("files", Method)
                {
                    RegisterOptions = LspJson.Element(
                        new DidChangeWatchedFilesRegistrationOptions([new WatchedPattern(Watched)])
                    ),
                }
                : null
        );
    }
}

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

internal sealed record WatchedPattern(
    [property: JsonConverter(typeof(StringOrConverter<RelativePattern>))] StringOr<RelativePattern> GlobPattern
)
{
    public int? Kind { get; init; }
}

internal sealed record DidChangeWatchedFilesRegistrationOptions(WatchedPattern[] Watchers);

internal sealed partial class MessageTypes
{
    public DidChangeWatchedFilesParams? DidChangeWatchedFilesParams { get; init; }
    public DidChangeWatchedFilesRegistrationOptions? DidChangeWatchedFilesRegistrationOptions { get; init; }
    public RelativePattern? RelativePattern { get; init; }
}
