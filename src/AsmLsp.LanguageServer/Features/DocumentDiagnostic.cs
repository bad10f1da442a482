using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/diagnostic</c>: the problems of a document, for clients that fetch them.</summary>
internal sealed class DocumentDiagnosticHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, client) =>
                client.PullDiagnostics
                    ? offer with
                    {
                        DiagnosticProvider = new(InterFileDependencies: true, WorkspaceDiagnostics: true)
                        {
                            Identifier = Diagnostics.Source,
                        },
                    }
                    : offer
        );
        registry.Request<DocumentDiagnosticParams, DocumentDiagnosticReport>(
            Methods.DocumentDiagnostic,
            (request, asked, _) =>
                Handle(
                    request.View(asked.TextDocument) is { } view
                            ? Diagnostics.Of(
                                view.Programs,
                                view.Program,
                                view.Source,
                                request.Profile,
                                request.Positions
                            )
                        : request.Hex(asked.TextDocument) is { } hex ? Diagnostics.OfHex(hex, request.Positions)
                        : null,
                    asked.PreviousResultId
                )
        );
        registry.Changed(
            (server, change) =>
            {
                // The client can't know that other settings or files give other problems.
                if (
                    change.Kind is ChangeKind.Settings or ChangeKind.Files or ChangeKind.Folders
                    && server.Profile.PullDiagnostics
                    && !change.After.Documents.IsEmpty
                )
                {
                    _ = server.Client.RefreshAsync(server.Stopping);
                }
            }
        );
    }

    private static DocumentDiagnosticReport Handle(Diagnostic[]? items, string? previous)
    {
        if (items is null)
        {
            return new(DiagnosticReportKind.Full) { Items = [] };
        }

        string id = Diagnostics.Fingerprint(items);
        if (id == previous)
        {
            return new(DiagnosticReportKind.Unchanged) { ResultId = id };
        }

        foreach (string code in items.Select(item => item.Code?.Text).OfType<string>().Distinct())
        {
            ProblemPages.OfThisVersion.Write(code);
        }

        return new(DiagnosticReportKind.Full) { ResultId = id, Items = items };
    }
}
