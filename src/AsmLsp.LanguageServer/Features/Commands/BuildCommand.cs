using System.Text.Json;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary><c>relist.build URI</c>: writes the HEX file of the program that a document belongs to; gives its path.</summary>
internal sealed class BuildCommand : ICommand
{
    public string Name => "relist.build";

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        string uri = arguments.Text(0, "the address of a document");
        DocumentView view =
            request.Programs.Find(DocumentUri.Parse(uri))
            ?? throw LspException.Refused($"{uri} is neither open nor a file that can be read.");
        string? hex = await ProgramBuild.RunAsync(request.Server, view, progress, cancellation).ConfigureAwait(false);
        return hex is null ? null : LspJson.Element(hex);
    }
}
