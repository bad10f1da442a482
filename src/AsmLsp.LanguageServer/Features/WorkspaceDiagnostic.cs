using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>workspace/diagnostic</c>: the problems of all files of the open programs, includes that are not open among them. Documents that are open
/// are left to <c>textDocument/diagnostic</c>, which is asked for them anyway.
/// </summary>
internal sealed class WorkspaceDiagnosticHandler : IFeature
{
    public const string Method = "workspace/diagnostic";

    public void Register(FeatureRegistry registry) =>
        registry.Request<WorkspaceDiagnosticParams, WorkspaceDiagnosticReport>(
            Method,
            (request, asked, _) => Handle(request, asked)
        );

    public static WorkspaceDiagnosticReport Handle(RequestContext request, WorkspaceDiagnosticParams asked)
    {
        WorkspacePrograms programs = request.Programs;
        Dictionary<DocumentUri, string> previous = asked
            .PreviousResultIds.DistinctBy(result => DocumentUri.Parse(result.Uri))
            .ToDictionary(result => DocumentUri.Parse(result.Uri), result => result.Value);
        var reports = new List<WorkspaceDocumentDiagnosticReport>();
        var done = new HashSet<DocumentUri>();
        foreach (WorkspaceProgram program in programs.OfOpenDocuments())
        {
            foreach (SourceFile file in program.FilesSoFar)
            {
                if (programs.UriOf(file) is { } uri && programs.DocumentOf(file) is null && done.Add(uri))
                {
                    Add(uri, Diagnostics.Of(programs, program, file, request.Profile, request.Positions));
                }
            }

            if (program.Project is { Problems.Length: > 0, Source: { } source } && done.Add(programs.UriOf(source)))
            {
                Add(programs.UriOf(source), Diagnostics.OfProject(program.Project, request.Positions));
            }
        }

        // Problems reported before for files that no program includes any more.
        foreach (
            DocumentUri gone in previous.Keys.Where(uri =>
                !done.Contains(uri) && !programs.Snapshot.Documents.ContainsKey(uri)
            )
        )
        {
            Add(gone, []);
        }

        return new([.. reports]);

        void Add(DocumentUri uri, Diagnostic[] items)
        {
            string id = Diagnostics.Fingerprint(items);
            reports.Add(
                previous.GetValueOrDefault(uri) == id
                    ? new(DiagnosticReportKind.Unchanged, uri.Text, null) { ResultId = id }
                    : new(DiagnosticReportKind.Full, uri.Text, null) { ResultId = id, Items = items }
            );
        }
    }
}

internal sealed record WorkspaceDiagnosticParams(PreviousResultId[] PreviousResultIds) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(PreviousResultIds);

    public string? Identifier { get; init; }
    public IntOrString? WorkDoneToken { get; init; }
    public IntOrString? PartialResultToken { get; init; }
}

internal sealed record PreviousResultId(string Uri, string Value);

internal sealed record WorkspaceDiagnosticReport(WorkspaceDocumentDiagnosticReport[] Items);

internal sealed record WorkspaceDocumentDiagnosticReport(
    string Kind,
    string Uri,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.Never)] int? Version
)
{
    public string? ResultId { get; init; }
    public Diagnostic[]? Items { get; init; }
}

internal sealed partial class MessageTypes
{
    public WorkspaceDiagnosticParams? WorkspaceDiagnosticParams { get; init; }
    public WorkspaceDiagnosticReport? WorkspaceDiagnosticReport { get; init; }
}
