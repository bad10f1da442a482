using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/didChangeWatchedFiles</c>: sources and the project file, as far as the client can watch.</summary>
internal sealed class DidChangeWatchedFilesHandler : IFeature
{
    /// <summary>Names that sources and includes go by; capitals come from old disks.</summary>
    private const string Watched = "**/{*.{asm,ASM,inc,INC,s,S,src,SRC,h,H},relist.json}";

    public void Register(FeatureRegistry registry)
    {
        registry.Notification<DidChangeWatchedFilesParams>(
            Methods.DidChangeWatchedFiles,
            (server, change) =>
                server.Workspace.FilesChanged([.. change.Changes.Select(file => DocumentUri.Parse(file.Uri))])
        );

        registry.Dynamic(client =>
            client.CanRegister("workspace.didChangeWatchedFiles")
                ? new Registration("files", Methods.DidChangeWatchedFiles)
                {
                    RegisterOptions = LspJson.Element(
                        new DidChangeWatchedFilesRegistrationOptions([new WatchedPattern(Watched)])
                    ),
                }
                : null
        );
    }
}
