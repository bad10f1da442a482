using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/willSaveWaitUntil</c>: every safe layout repair before saving, where the setting <c>tidy.onSave</c> asks for it.</summary>
internal sealed class WillSaveWaitUntilHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    TextDocumentSync = (offer.TextDocumentSync ?? new()) with { WillSaveWaitUntil = true },
                }
        );
        registry.Request<WillSaveTextDocumentParams, LspTextEdit[]>(
            Methods.WillSaveWaitUntil,
            (request, asked, _) =>
                // A save after a delay happens while somebody types: nothing may move under the hands.
                request.Settings.TidyOnSave
                && asked.Reason == TextDocumentSaveReason.Manual
                && request.View(asked.TextDocument) is { } view
                    ? request.Positions.ToEdits(view.Text, FileLayout.Tidy(view.File, request.Settings.TabWidth))
                    : []
        );
    }
}
