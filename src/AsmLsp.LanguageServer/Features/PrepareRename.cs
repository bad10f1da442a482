using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/prepareRename</c>: what would be renamed, or the reason why nothing can be.</summary>
internal sealed class PrepareRenameHandler : IFeature
{
    public void Register(FeatureRegistry registry) =>
        registry.Request<TextDocumentPositionParams, PrepareRenameResult?>(
            Methods.PrepareRename,
            (request, asked, _) =>
            {
                if (request.Asked(asked) is not var (view, at))
                {
                    throw LspException.Refused("There is no name here that could be renamed.");
                }

                NameUse name = Renaming.Prepare(view, at);
                return new PrepareRenameResult(
                    request.Range(view.File, at.Line, name.Columns),
                    view.Text[at.Line].Text.Substring(name.Columns.Start, name.Columns.Length)
                );
            }
        );
}
