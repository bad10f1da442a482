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
