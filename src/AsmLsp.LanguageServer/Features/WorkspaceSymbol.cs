using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>workspace/symbol</c>: names by a part of them, over the open programs and the sources of the workspace folders that are not open.
/// </summary>
internal sealed class WorkspaceSymbolHandler : IFeature
{
    public const string Method = "workspace/symbol";

    private const int Most = 500;

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { WorkspaceSymbolProvider = new WorkspaceSymbolOptions() });
        registry.Request<WorkspaceSymbolParams, SymbolInformation[]>(
            Method,
            (request, asked, cancellation) => Handle(request, asked.Query, cancellation)
        );
    }

    public static SymbolInformation[] Handle(RequestContext request, string query, CancellationToken cancellation)
    {
        WorkspacePrograms programs = request.Programs;
        var found = new List<(int Rank, SymbolInformation Symbol)>();
        var done = new HashSet<DocumentUri>();
        foreach (WorkspaceProgram program in programs.OfOpenDocuments())
        {
            foreach (SourceFile file in program.Analysis.Files)
            {
                Look(new DocumentView(programs, program, file, programs.DocumentOf(file), programs.UriOf(file)));
            }
        }

        foreach (SourceFile file in IncludeGraph.InFolders(programs.Files))
        {
            cancellation.ThrowIfCancellationRequested();
            if (!done.Contains(programs.UriOf(file)) && programs.Find(programs.UriOf(file)) is { } view)
            {
                Look(view);
            }
        }

        return
        [
            .. found
                .OrderBy(entry => entry.Rank)
                .ThenBy(entry => entry.Symbol.Name, StringComparer.OrdinalIgnoreCase)
                .Take(Most)
                .Select(entry => entry.Symbol),
        ];

        void Look(DocumentView view)
        {
            if (!done.Add(view.Uri))
            {
                return;
            }

            foreach (FoundSymbol symbol in SymbolSearch.In(view.File, query))
            {
                OutlineEntry entry = symbol.Entry;
                var place = new Location(view.Uri.Text, request.Range(view.Source, entry.Line, entry.Columns));
                found.Add(
                    (
                        symbol.Rank,
                        new SymbolInformation(entry.Name, OutlineSymbols.KindOf(entry.Kind), place)
                        {
                            ContainerName = symbol.Container ?? view.Source.ShortName,
                        }
                    )
                );
            }
        }
    }
}

internal sealed record WorkspaceSymbolOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record WorkspaceSymbolParams(string Query)
{
    public IntOrString? WorkDoneToken { get; init; }
    public IntOrString? PartialResultToken { get; init; }
}

internal sealed partial record ServerCapabilities
{
    [JsonConverter(typeof(BoolOrConverter<WorkspaceSymbolOptions>))]
    public BoolOr<WorkspaceSymbolOptions>? WorkspaceSymbolProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public WorkspaceSymbolParams? WorkspaceSymbolParams { get; init; }
    public SymbolInformation[]? SymbolInformationList { get; init; }
    public WorkspaceSymbolOptions? WorkspaceSymbolOptions { get; init; }
}
