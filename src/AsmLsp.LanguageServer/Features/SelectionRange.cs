using AsmLsp.Core.Text;
using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/selectionRange</c>: word, operand, all operands, code, line, routine, section, file.</summary>
internal sealed class SelectionRangeHandler : IFeature
{
    public const string Method = "textDocument/selectionRange";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { SelectionRangeProvider = true });
        registry.Request<SelectionRangeParams, SelectionRange[]>(
            Method,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view
                    ?
                    [
                        .. asked.Positions.Select(position =>
                            Handle(request, view, request.Positions.ToLinePosition(view.Text, position))
                        ),
                    ]
                    : [.. asked.Positions.Select(position => new SelectionRange(new LspRange(position, position)))]
        );
    }

    public static SelectionRange Handle(RequestContext request, DocumentView view, LinePosition at)
    {
        SelectionRange? selection = null;
        foreach ((LinePosition start, LinePosition end) in Selections.At(view.File, at))
        {
            var range = new LspRange(
                request.Positions.ToPosition(view.Text, start),
                request.Positions.ToPosition(view.Text, end)
            );
            selection = new SelectionRange(range) { Parent = selection };
        }

        return selection!;
    }
}

internal sealed record SelectionRangeParams(TextDocumentIdentifier TextDocument, Position[] Positions);

internal sealed record SelectionRange(LspRange Range)
{
    public SelectionRange? Parent { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public bool? SelectionRangeProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public SelectionRangeParams? SelectionRangeParams { get; init; }
    public SelectionRange[]? SelectionRangeList { get; init; }
}
