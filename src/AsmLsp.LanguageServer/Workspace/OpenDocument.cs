using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>A document as the editor holds it: it always wins over the file on disk.</summary>
internal sealed record OpenDocument(DocumentUri Uri, string LanguageId, int Version, SourceText Text)
{
    /// <summary>The document after the changes of one notification, applied in their order, each to the result of the one before.</summary>
    public OpenDocument Apply(
        int version,
        IReadOnlyList<TextDocumentContentChangeEvent> changes,
        PositionMapper positions
    )
    {
        SourceText text = Text;
        foreach (TextDocumentContentChangeEvent change in changes)
        {
            text = change.Range is { } range
                ? text.WithChange(positions.ToSpan(text, range), change.Text)
                : SourceText.From(change.Text, text.Encoding);
        }

        return this with
        {
            Version = version,
            Text = text,
        };
    }
}
