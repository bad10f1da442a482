using AsmLsp.Core.Text;
using AsmLsp.Ide;
using AsmLsp.Ide.Changes;
using AsmLsp.Ide.Names;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/prepareRename</c>: what would be renamed, or the reason why nothing can be.</summary>
internal sealed class PrepareRenameHandler : IFeature
{
    public const string Method = "textDocument/prepareRename";

    public void Register(FeatureRegistry registry) =>
        registry.Request<TextDocumentPositionParams, PrepareRenameResult?>(
            Method,
            (request, asked, _) =>
            {
                if (request.Asked(asked) is not var (view, at))
                {
                    throw LspException.Refused(Renaming.NoName);
                }

                NameUse name = NameAt(view.File, at);
                return new PrepareRenameResult(
                    request.Range(view.Source, at.Line, name.Columns),
                    view.Text[at.Line].Text.Substring(name.Columns.Start, name.Columns.Length)
                );
            }
        );

    /// <summary>The name at a place; a refusal travels as an error with its reason.</summary>
    internal static NameUse NameAt(ProgramFile file, LinePosition at)
    {
        RenameSubject subject = Renaming.Prepare(file, at);
        return subject.Name ?? throw LspException.Refused(subject.Refusal!);
    }
}

/// <summary>What would be renamed, and the text to start from.</summary>
internal sealed record PrepareRenameResult(LspRange Range, string Placeholder);

internal sealed partial class MessageTypes
{
    public PrepareRenameResult? PrepareRenameResult { get; init; }
}
