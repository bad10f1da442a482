using System.Text.Json;
using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary><c>relist.showCallers URI NAME</c>: says where a routine is used; shows the place where there is just one.</summary>
internal sealed class ShowCallersCommand : ICommand
{
    public const string CommandName = "relist.showCallers";

    /// <summary>More would make a message that nobody reads.</summary>
    private const int MostNamed = 12;

    public string Name => CommandName;

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        string uri = arguments.Text(0, "the address of a document"),
            name = arguments.Text(1, "the name of a routine");
        DocumentView view =
            request.Programs.Find(DocumentUri.Parse(uri))
            ?? throw LspException.Refused($"{uri} is neither open nor a file that can be read.");
        var routines = Routines.Of(view.Program.Model);
        RoutineLines routine =
            routines.Find(name) ?? throw LspException.Refused($"There is no routine called {name} in this program.");
        RoutineUse[] uses = [.. routines.Into(routine)];
        Location[] places =
        [
            .. uses.Select(use => new Location(view.Programs.UriOf(use.File).Text, request.Range(use.Place))),
        ];
        bool shown =
            places is [var only]
            && await request
                .Server.Client.ShowDocumentAsync(
                    new(only.Uri) { TakeFocus = true, Selection = only.Range },
                    cancellation
                )
                .ConfigureAwait(false);
        if (!shown)
        {
            string list =
                string.Join(", ", uses.Take(MostNamed).Select(use => $"{use.File.ShortName}:{use.Line + 1}"))
                + (uses.Length > MostNamed ? ", and more" : "");
            request.Server.Client.ShowMessage(
                MessageType.Info,
                uses.Length == 0 ? $"Nothing calls {name}." : $"{name} is used at {list}."
            );
        }

        return LspJson.Element(places);
    }
}
