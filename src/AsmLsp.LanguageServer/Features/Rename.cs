using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/rename</c>: in all files of the program, and never so that its words change.</summary>
internal sealed class RenameHandler : IFeature
{
    public const string Method = "textDocument/rename";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, client) =>
                offer with
                {
                    RenameProvider = client.PrepareRename ? new RenameOptions { PrepareProvider = true } : true,
                }
        );
        registry.Request<RenameParams, WorkspaceEdit?>(
            Method,
            (request, asked, _) =>
            {
                if (request.Asked(asked) is not var (view, at))
                {
                    throw LspException.Refused(Renaming.NoName);
                }

                RenameResult result = Renaming.Run(
                    view.File,
                    PrepareRenameHandler.NameAt(view.File, at),
                    asked.NewName
                );
                return result.Refusal is { } refusal
                    ? throw LspException.Refused(refusal)
                    : Edits.Of(request, view.Programs, result.Edits);
            }
        );
    }
}

internal sealed record RenameOptions
{
    public bool? PrepareProvider { get; init; }
}

internal sealed record RenameParams(TextDocumentIdentifier TextDocument, Position Position, string NewName)
    : TextDocumentPositionParams(TextDocument, Position);

internal sealed partial record ServerCapabilities
{
    [JsonConverter(typeof(BoolOrConverter<RenameOptions>))]
    public BoolOr<RenameOptions>? RenameProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public RenameParams? RenameParams { get; init; }
    public RenameOptions? RenameOptions { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class RenameClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether the client asks first what would be renamed.</summary>
        public bool PrepareRename => client.Flag("textDocument.rename.prepareSupport");
    }
}
