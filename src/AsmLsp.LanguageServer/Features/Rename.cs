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
            Methods.Rename,
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
