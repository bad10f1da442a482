using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/willSaveWaitUntil</c>: every safe layout fix before saving, where the setting <c>tidyOnSave</c> asks for it.</summary>
internal sealed class WillSaveWaitUntilHandler : IFeature
{
    public const string Method = "textDocument/willSaveWaitUntil";

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
            Method,
            (request, asked, _) =>
                // A save after a delay happens while somebody types: nothing may move under the hands.
                asked.Reason == TextDocumentSaveReason.Manual
                && request.View(asked.TextDocument) is { } view
                && (view.Program.Project.File.TidyOnSave ?? request.Settings.TidyOnSave)
                    ? request.Positions.ToEdits(view.Text, FileLayout.Tidy(view.File, request.Settings.TabWidth))
                    : []
        );
    }
}

internal enum TextDocumentSaveReason
{
    Manual = 1,
    AfterDelay = 2,
    FocusOut = 3,
}

internal sealed record WillSaveTextDocumentParams(TextDocumentIdentifier TextDocument, TextDocumentSaveReason Reason);

internal sealed partial record TextDocumentSyncOptions
{
    public bool? WillSaveWaitUntil { get; init; }
}

internal sealed partial class MessageTypes
{
    public WillSaveTextDocumentParams? WillSaveTextDocumentParams { get; init; }
}
