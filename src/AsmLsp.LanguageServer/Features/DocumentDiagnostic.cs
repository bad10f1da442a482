using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/diagnostic</c>: the problems of a document, for clients that fetch them.</summary>
internal sealed class DocumentDiagnosticHandler : IFeature
{
    public const string Method = "textDocument/diagnostic";

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
            Method,
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

internal sealed record DiagnosticOptions(bool InterFileDependencies, bool WorkspaceDiagnostics)
{
    public string? Identifier { get; init; }
}

internal sealed record DocumentDiagnosticParams(TextDocumentIdentifier TextDocument)
{
    public string? Identifier { get; init; }
    public string? PreviousResultId { get; init; }
}

internal static class DiagnosticReportKind
{
    public const string Full = "full";
    public const string Unchanged = "unchanged";
}

/// <summary>
/// The answer to a pull: <c>full</c> with items, or <c>unchanged</c> with the id of the earlier answer (then without items).
/// </summary>
internal sealed record DocumentDiagnosticReport(string Kind)
{
    public string? ResultId { get; init; }
    public Diagnostic[]? Items { get; init; }
    public Dictionary<string, DocumentDiagnosticReport>? RelatedDocuments { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public DiagnosticOptions? DiagnosticProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentDiagnosticParams? DocumentDiagnosticParams { get; init; }
    public DocumentDiagnosticReport? DocumentDiagnosticReport { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class DocumentDiagnosticClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether it fetches problems itself.</summary>
        public bool PullDiagnostics => client.Has("textDocument.diagnostic");
    }
}
