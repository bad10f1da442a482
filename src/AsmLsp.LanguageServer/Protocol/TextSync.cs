using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>One change; without a range the text is the whole new document.</summary>
internal sealed record TextDocumentContentChangeEvent(string Text)
{
    public LspRange? Range { get; init; }
}
