using System.Text.Json;
using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

internal enum DiagnosticSeverity
{
    Error = 1,
    Warning = 2,
    Information = 3,
    Hint = 4,
}

internal enum DiagnosticTag
{
    Unnecessary = 1,
    Deprecated = 2,
}

internal sealed record Diagnostic(LspRange Range, string Message) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(RelatedInformation);

    public DiagnosticSeverity? Severity { get; init; }
    public IntOrString? Code { get; init; }
    public CodeDescription? CodeDescription { get; init; }
    public string? Source { get; init; }
    public DiagnosticTag[]? Tags { get; init; }
    public DiagnosticRelatedInformation[]? RelatedInformation { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CodeDescription(string Href);

internal sealed record DiagnosticRelatedInformation(Location Location, string Message);

internal sealed record PublishDiagnosticsParams(string Uri, Diagnostic[] Diagnostics)
{
    public int? Version { get; init; }
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

/// <summary>Goes with an error that tells the client whether to ask again.</summary>
internal sealed record DiagnosticServerCancellationData(bool RetriggerRequest);
