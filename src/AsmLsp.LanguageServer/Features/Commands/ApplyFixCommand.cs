using System.Text.Json;
using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary><c>relist.applyFix URI KEY</c>: makes a repair or refactoring, for clients whose menus hold commands only.</summary>
internal sealed class ApplyFixCommand : ICommand
{
    public const string CommandName = "relist.applyFix";

    public string Name => CommandName;

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        string uri = arguments.Text(0, "the address of a document"),
            key = arguments.Text(1, "the name of a fix");
        if (
            request.Programs.Find(DocumentUri.Parse(uri)) is not { } view
            || Actions.Find(view.File, key) is not { } action
        )
        {
            throw LspException.Refused("The text has changed since: this fix no longer applies.");
        }

        WorkspaceEdit edit = Edits.Of(request, view.Programs, action.Changes());
        if (action.IsRefactoring && Edits.IsEmpty(edit))
        {
            throw LspException.Refused(RefactoringActions.DoesNotHold);
        }

        ApplyWorkspaceEditResult? result = await request
            .Server.Client.ApplyEditAsync(action.Title, edit, cancellation)
            .ConfigureAwait(false);
        return LspJson.Element(result?.Applied == true);
    }
}
