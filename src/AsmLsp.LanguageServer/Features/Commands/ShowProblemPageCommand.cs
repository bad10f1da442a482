using System.Text.Json;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary><c>relist.showProblemPage CODE</c>: opens the page that explains a kind of problem; gives its address.</summary>
internal sealed class ShowProblemPageCommand : ICommand
{
    public string Name => "relist.showProblemPage";

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        string code = arguments.Text(0, "the code of a problem");
        ProblemPages pages = ProblemPages.OfThisVersion;
        if (pages.AddressOf(code) is not { } address)
        {
            throw LspException.Refused($"There is no page about '{code}'.");
        }

        if (!pages.Write(code))
        {
            throw LspException.Refused(
                $"The page about '{code}' could not be written to {DocumentUri.Parse(address).Path}."
            );
        }

        if (
            !await request
                .Server.Client.ShowDocumentAsync(new(address) { TakeFocus = true }, cancellation)
                .ConfigureAwait(false)
        )
        {
            request.Server.Client.ShowMessage(
                MessageType.Info,
                $"The page about '{code}' is {DocumentUri.Parse(address).Path}."
            );
        }

        return LspJson.Element(address);
    }
}
