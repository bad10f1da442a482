using AsmLsp.Core.Text;
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
    private const int Most = 500;

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { WorkspaceSymbolProvider = new WorkspaceSymbolOptions() });
        registry.Request<WorkspaceSymbolParams, SymbolInformation[]>(
            Methods.WorkspaceSymbol,
            (request, asked, cancellation) => Handle(request, asked.Query, cancellation)
        );
    }

    public static SymbolInformation[] Handle(RequestContext request, string query, CancellationToken cancellation)
    {
        ProgramSet set = request.Programs;
        var found = new List<(int Rank, SymbolInformation Symbol)>();
        var done = new HashSet<DocumentUri>();
        foreach (ProgramVersion program in set.OfOpenDocuments())
        {
            foreach (SourceFile file in program.Analysis.Files)
            {
                Look(new FileView(set, program, file, set.DocumentOf(file), set.UriOf(file)));
            }
        }

        foreach (SourceFile file in IncludeGraph.InFolders(set.Files))
        {
            cancellation.ThrowIfCancellationRequested();
            if (!done.Contains(set.UriOf(file)) && set.Find(set.UriOf(file)) is { } view)
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

        void Look(FileView view)
        {
            if (done.Add(view.Uri))
            {
                Entries(view, Outline.Of(view), null);
            }
        }

        void Entries(FileView view, IEnumerable<OutlineEntry> entries, string? container)
        {
            foreach (OutlineEntry entry in entries)
            {
                if (Rank(entry.Name, query) is { } rank)
                {
                    found.Add(
                        (
                            rank,
                            new SymbolInformation(
                                entry.Name,
                                entry.Kind,
                                new Location(view.Uri.Text, request.Range(view.File, entry.Line, entry.Columns))
                            )
                            {
                                ContainerName = container ?? view.File.ShortName,
                            }
                        )
                    );
                }

                Entries(view, entry.Children, entry.Name);
            }
        }
    }

    /// <summary>0 for the whole name, 1 for its start, 2 for a part, 3 where the letters come in this order; null where they don't.</summary>
    private static int? Rank(string name, string query)
    {
        if (name.Equals(query, StringComparison.OrdinalIgnoreCase))
        {
            return 0;
        }

        int at = name.IndexOf(query, StringComparison.OrdinalIgnoreCase);
        if (at >= 0)
        {
            return at == 0 ? 1 : 2;
        }

        int next = 0;
        foreach (char c in name)
        {
            if (next < query.Length && char.ToLowerInvariant(c) == char.ToLowerInvariant(query[next]))
            {
                next++;
            }
        }

        return next == query.Length ? 3 : null;
    }
}
