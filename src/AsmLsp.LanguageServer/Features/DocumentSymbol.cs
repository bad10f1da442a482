using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/documentSymbol</c>: the outline, as a tree where the client shows one, else flat.</summary>
internal sealed class DocumentSymbolHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentSymbolProvider = true });
        registry.Request<TextDocumentParams, DocumentSymbolEntry[]>(
            Methods.DocumentSymbol,
            (request, asked, _) => request.View(asked.TextDocument) is { } view ? Handle(request, view) : []
        );
    }

    public static DocumentSymbolEntry[] Handle(RequestContext request, FileView view)
    {
        if (request.Profile.HierarchicalSymbols)
        {
            return [.. Outline.Of(view.File).Select(Tree)];
        }

        var flat = new List<DocumentSymbolEntry>();
        Flatten(Outline.Of(view.File), null);
        return [.. flat];

        DocumentSymbol Tree(OutlineEntry entry) =>
            new(
                entry.Name,
                OutlineSymbols.KindOf(entry.Kind),
                request.Lines(view.Source, entry.FirstLine, entry.LastLine),
                request.Range(view.Source, entry.Line, entry.Columns)
            )
            {
                Detail = entry.Detail,
                Children = entry.Children.IsEmpty ? null : [.. entry.Children.Select(Tree)],
            };

        void Flatten(IEnumerable<OutlineEntry> entries, string? container)
        {
            foreach (OutlineEntry entry in entries)
            {
                flat.Add(
                    new SymbolInformation(
                        entry.Name,
                        OutlineSymbols.KindOf(entry.Kind),
                        new Location(view.Uri.Text, request.Lines(view.Source, entry.FirstLine, entry.LastLine))
                    )
                    {
                        ContainerName = container,
                    }
                );
                Flatten(entry.Children, entry.Name);
            }
        }
    }
}
