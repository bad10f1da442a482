using System.Text.Json;
using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>codeAction/resolve</c>: the edits of the repair or refactoring that was chosen.</summary>
internal sealed class CodeActionResolveHandler : IFeature
{
    public const string Method = "codeAction/resolve";

    public void Register(FeatureRegistry registry) =>
        registry.Request<CodeAction, CodeAction>(Method, (request, action, _) => Handle(request, action));

    public static CodeAction Handle(RequestContext request, CodeAction action)
    {
        if (
            action.Data is not { ValueKind: JsonValueKind.Array } data
            || data.GetArrayLength() != 2
            || data.EnumerateArray().Any(part => part.ValueKind != JsonValueKind.String)
        )
        {
            return action;
        }

        if (
            request.Programs.Find(DocumentUri.Parse(data[0].GetString()!)) is not { } view
            || Actions.Find(view.File, data[1].GetString()!) is not { } offered
        )
        {
            throw new LspException(
                ErrorCodes.ContentModified,
                "The text has changed since: this fix no longer applies."
            );
        }

        WorkspaceEdit edit = Edits.Of(request, view.Programs, offered.Changes());
        if (offered.IsRefactoring && Edits.IsEmpty(edit))
        {
            throw LspException.Refused(RefactoringActions.DoesNotHold);
        }

        return action with
        {
            Edit = edit,
        };
    }
}

internal sealed partial class MessageTypes
{
    public CodeAction? CodeAction { get; init; }
}
