using AsmLsp.Core.Explain;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Texts of the editor's features in the form that a client shows.</summary>
internal static class ClientText
{
    /// <summary>Documentation as Markdown, or as plain text for a client that declares none.</summary>
    public static StringOr<MarkupContent> Documentation(string markdown, bool showsMarkdown) =>
        showsMarkdown
            ? new MarkupContent(MarkupKind.Markdown, VisibleText.Of(markdown))
            : VisibleText.Of(PlainText.Of(markdown));
}
