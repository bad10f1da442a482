using System.Text.Json;
using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Commands;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/codeLens</c>: above each routine who calls it, how many words it takes, and its cycles where they are known.</summary>
internal sealed class CodeLensHandler : IFeature
{
    public const string Method = "textDocument/codeLens";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { CodeLensProvider = new() { ResolveProvider = false } });
        registry.Request<TextDocumentParams, CodeLens[]>(
            Method,
            (request, asked, cancellation) =>
                request.View(asked.TextDocument) is { } view ? Handle(request, view, cancellation) : []
        );
    }

    public static CodeLens[] Handle(RequestContext request, DocumentView view, CancellationToken cancellation) =>
        [
            .. RoutineLenses
                .Of(view.File, new(request.Settings.LensCallers, request.Settings.LensSize), cancellation)
                .Select(lens => new CodeLens(request.Range(lens.Routine.Place))
                {
                    Command = new Command(lens.Title, ShowCallersCommand.CommandName)
                    {
                        Arguments = [LspJson.Element(view.Uri.Text), LspJson.Element(lens.Routine.Name)],
                    },
                }),
        ];
}

internal sealed record CodeLensOptions
{
    public bool? ResolveProvider { get; init; }
}

internal sealed record CodeLens(LspRange Range)
{
    public Command? Command { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public CodeLensOptions? CodeLensProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public CodeLens[]? CodeLensList { get; init; }
}
