using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Ide.HexFiles;
using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/documentSymbol</c>: the outline, as a tree where the client shows one, else flat.</summary>
internal sealed class DocumentSymbolHandler : IFeature
{
    public const string Method = "textDocument/documentSymbol";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentSymbolProvider = true });
        registry.Request<TextDocumentParams, DocumentSymbolEntry[]>(
            Method,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view
                    ? Handle(request, Outline.Of(view.File), view.Source, view.Uri)
                : request.Hex(asked.TextDocument) is { } hex
                    ? Handle(request, HexOutline.Of(hex.File), WorkspaceFiles.FileOf(hex.Document), hex.Document.Uri)
                : []
        );
    }

    private static DocumentSymbolEntry[] Handle(
        RequestContext request,
        ImmutableArray<OutlineEntry> outline,
        SourceFile source,
        DocumentUri uri
    )
    {
        if (request.Profile.HierarchicalSymbols)
        {
            return [.. outline.Select(Tree)];
        }

        var flat = new List<DocumentSymbolEntry>();
        Flatten(outline, null);
        return [.. flat];

        DocumentSymbol Tree(OutlineEntry entry) =>
            new(
                entry.Name,
                OutlineSymbols.KindOf(entry.Kind),
                request.Lines(source, entry.FirstLine, entry.LastLine),
                request.Range(source, entry.Line, entry.Columns)
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
                        new Location(uri.Text, request.Lines(source, entry.FirstLine, entry.LastLine))
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

/// <summary>The answer to <c>textDocument/documentSymbol</c>: a tree, or a flat list for clients that declare no tree.</summary>
[JsonConverter(typeof(DocumentSymbolEntryConverter))]
internal abstract record DocumentSymbolEntry;

internal sealed record DocumentSymbol(string Name, SymbolKind Kind, LspRange Range, LspRange SelectionRange)
    : DocumentSymbolEntry
{
    public string? Detail { get; init; }
    public DocumentSymbol[]? Children { get; init; }
}

internal sealed record SymbolInformation(string Name, SymbolKind Kind, Location Location) : DocumentSymbolEntry
{
    public string? ContainerName { get; init; }
}

internal sealed class DocumentSymbolEntryConverter : ObjectUnionConverter<DocumentSymbolEntry>
{
    protected override Type Pick(JsonElement element) =>
        element.TryGetProperty("location", out _) ? typeof(SymbolInformation) : typeof(DocumentSymbol);
}

internal sealed partial record ServerCapabilities
{
    public bool? DocumentSymbolProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public DocumentSymbolEntry[]? DocumentSymbolEntryList { get; init; }
    public DocumentSymbol? DocumentSymbol { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class DocumentSymbolClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether an outline is shown as a tree.</summary>
        public bool HierarchicalSymbols => client.Flag("textDocument.documentSymbol.hierarchicalDocumentSymbolSupport");
    }
}
