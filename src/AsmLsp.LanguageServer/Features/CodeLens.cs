using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Commands;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/codeLens</c>: above each routine who calls it, how many words it takes, and its cycles where they are known.</summary>
internal sealed class CodeLensHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { CodeLensProvider = new() { ResolveProvider = false } });
        registry.Request<TextDocumentParams, CodeLens[]>(
            Methods.CodeLens,
            (request, asked, cancellation) =>
                request.View(asked.TextDocument) is { } view ? Handle(request, view, cancellation) : []
        );
    }

    public static CodeLens[] Handle(RequestContext request, FileView view, CancellationToken cancellation)
    {
        var lenses = new List<CodeLens>();
        var routines = Routines.Of(view.Set, view.Program);
        foreach (RoutineLines routine in routines.All.Where(routine => routine.File == view.File))
        {
            cancellation.ThrowIfCancellationRequested();
            LspRange range = request.Range(view.File, routine.Entry.Line, routine.Entry.Columns);
            if (request.Settings.LensCallers)
            {
                int uses = routines.Into(routine).Count();
                if (uses > 0)
                {
                    Add(string.Create(CultureInfo.InvariantCulture, $"used in {uses} place{(uses == 1 ? "" : "s")}"));
                }
            }

            if (request.Settings.LensSize && Size(view, routine) is { } size)
            {
                Add(size);
            }

            void Add(string title) =>
                lenses.Add(
                    new CodeLens(range)
                    {
                        Command = new Command(title, ShowCallersCommand.CommandName)
                        {
                            Arguments = [LspJson.Element(view.Uri.Text), LspJson.Element(routine.Name)],
                        },
                    }
                );
        }

        return [.. lenses];
    }

    /// <summary>Words and cycles, as following the flow of the program tells; without that (a faulty program) the words of its lines.</summary>
    private static string? Size(FileView view, RoutineLines routine)
    {
        if (FlowOf(view)?.Routine(AddressOf(view, routine)) is { } facts)
        {
            string cycles = facts.Cycles switch
            {
                null => "",
                { IsExact: true } exact => string.Create(CultureInfo.InvariantCulture, $", {exact.Least} cycles"),
                { } range => string.Create(CultureInfo.InvariantCulture, $", {range.Least} to {range.Most} cycles"),
            };
            return Words(facts.Words) + cycles;
        }

        int words = 0;
        for (int line = routine.Entry.FirstLine; line <= routine.Entry.LastLine; line++)
        {
            words += view.Analysis.FactsOf(view.File, line).Words;
        }

        return words > 0 ? Words(words) : null;
    }

    private static FlowGraph? FlowOf(FileView view) => view.Analysis.HasErrors ? null : FlowGraph.Of(view.Analysis);

    private static int AddressOf(FileView view, RoutineLines routine) =>
        view.Analysis.FindSymbol(routine.Name) is { IsKnown: true } symbol ? symbol.Value : -1;

    private static string Words(int words) =>
        string.Create(CultureInfo.InvariantCulture, $"{words} word{(words == 1 ? "" : "s")}");
}
