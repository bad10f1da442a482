using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Connection;

/// <summary><c>initialize</c>: learns what the client can do and says what the server offers it.</summary>
internal sealed class InitializeHandler(ServerContext context, FeatureRegistry registry, Action<int> watchParent)
{
    public InitializeResult Handle(InitializeParams parameters)
    {
        var profile = ClientProfile.From(parameters.Capabilities);
        context.Learn(profile);
        context.Client.Trace = parameters.Trace ?? TraceValue.Off;
        context.Workspace.ChangeFolders(FoldersOf(parameters), []);
        context.Settings.TakeInitial(parameters.InitializationOptions);
        if (parameters.ProcessId is { } processId)
        {
            watchParent(processId);
        }

        return new InitializeResult(registry.Offer(profile), new ServerInfo("relist", LspServer.Version));
    }

    /// <summary>The folders, or what older clients send in their place.</summary>
    private static IEnumerable<DocumentUri> FoldersOf(InitializeParams parameters) =>
        parameters.WorkspaceFolders is { } folders ? folders.Select(folder => DocumentUri.Parse(folder.Uri))
        : parameters.RootUri is { Length: > 0 } uri ? [DocumentUri.Parse(uri)]
        : parameters.RootPath is { Length: > 0 } path ? [DocumentUri.FromPath(path)]
        : [];
}
