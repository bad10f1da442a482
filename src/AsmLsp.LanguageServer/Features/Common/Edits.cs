using AsmLsp.Core.Refactorings;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Edits of files in the form that the client takes.</summary>
internal static class Edits
{
    /// <summary>Edits of several files; the documents' versions go along where the client looks at them.</summary>
    public static WorkspaceEdit Of(RequestContext request, WorkspacePrograms programs, IEnumerable<FileEdits> changes)
    {
        if (request.Profile.DocumentChanges)
        {
            return new WorkspaceEdit
            {
                DocumentChanges =
                [
                    .. changes.Select(change => new TextDocumentEdit(
                        new(programs.UriOf(change.File).Text, programs.DocumentOf(change.File)?.Version),
                        request.Positions.ToEdits(change.File.Text, change.Edits)
                    )),
                ],
            };
        }

        return new WorkspaceEdit
        {
            Changes = changes.ToDictionary(
                change => programs.UriOf(change.File).Text,
                change => request.Positions.ToEdits(change.File.Text, change.Edits)
            ),
        };
    }

    /// <summary>Whether edits change nothing, as those of a refactoring that does not do what its title says.</summary>
    public static bool IsEmpty(WorkspaceEdit edit) =>
        (edit.Changes is null || edit.Changes.Values.All(edits => edits.Length == 0))
        && (
            edit.DocumentChanges is null
            || edit.DocumentChanges.All(change => change is TextDocumentEdit { Edits.Length: 0 })
        );
}
