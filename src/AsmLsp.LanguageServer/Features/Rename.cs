using AsmLsp.Core.Text;
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
                    throw LspException.Refused("There is no name here that could be renamed.");
                }

                return Edits.Of(request, view.Set, Renaming.Run(view, Renaming.Prepare(view, at), asked.NewName));
            }
        );
    }
}
