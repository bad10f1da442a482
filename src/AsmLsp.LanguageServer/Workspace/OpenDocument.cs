using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>A document as the editor holds it: it always wins over the file on disk.</summary>
internal sealed record OpenDocument(DocumentUri Uri, string LanguageId, int Version, SourceText Text)
{
    /// <summary>The most characters that a document may have: as many as the longest file that is read.</summary>
    public const int MostCharacters = Host.FileLoader.MaxLength;

    /// <summary>Whether the document is longer than any source: its text is not kept, and nothing but that is said about it.</summary>
    public bool IsTooLarge { get; private init; }

    /// <summary>A document as a client opens it.</summary>
    public static OpenDocument Of(DocumentUri uri, string languageId, int version, string text) =>
        new OpenDocument(uri, languageId, version, SourceText.From("")).With(version, text);

    /// <summary>The document after the changes of one notification, applied in their order, each to the result of the one before.</summary>
    public OpenDocument Apply(
        int version,
        IReadOnlyList<TextDocumentContentChangeEvent> changes,
        PositionMapper positions
    )
    {
        OpenDocument document = this;
        foreach (TextDocumentContentChangeEvent change in changes)
        {
            if (change.Range is not { } range)
            {
                document = document.With(version, change.Text);
            }
            else if (!document.IsTooLarge)
            {
                SourceText text = document.Text.WithChange(positions.ToSpan(document.Text, range), change.Text);
                document = text.Length > MostCharacters ? document.Without(version) : document with { Text = text };
            }
        }

        return document with
        {
            Version = version,
        };
    }

    private OpenDocument With(int version, string text) =>
        text.Length > MostCharacters
            ? Without(version)
            : this with
            {
                Version = version,
                Text = SourceText.From(text, Text.Encoding),
                IsTooLarge = false,
            };

    // Changes of a part have nothing to be applied to any more, until the client sends the whole text again.
    private OpenDocument Without(int version) =>
        this with
        {
            Version = version,
            Text = SourceText.From("", Text.Encoding),
            IsTooLarge = true,
        };
}
