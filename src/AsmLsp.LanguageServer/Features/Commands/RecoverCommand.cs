using System.Globalization;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Host.Recovering;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>
/// <c>relist.recover URI</c>: makes source of a printed document or a paste, in a new file beside it that is opened; gives its address.
/// Nothing that is there is written over.
/// </summary>
internal sealed class RecoverCommand : ICommand
{
    public string Name => "relist.recover";

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        var uri = DocumentUri.Parse(arguments.Text(0, "the address of a document"));
        Client client = request.Server.Client;
        using WorkProgress? shown = await client
            .BeginProgressAsync(progress, $"Recovering {uri.Name}", cancellable: true, cancellation)
            .ConfigureAwait(false);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(
            cancellation,
            shown?.Cancelled ?? CancellationToken.None
        );
        RecoveryOutcome outcome = Recover(request, uri, either.Token);
        if (outcome.Document is not { } recovered)
            throw LspException.Refused(outcome.Failure!);
        foreach (string note in outcome.Notes)
            client.ShowMessage(MessageType.Warning, note);
        RecoveryResult result = recovered.Result;
        if (
            result.Entries.Any(static entry =>
                entry is { Severity: Severity.Error, Code: DocumentCodes.SeveralListings }
            ) && await ChooseAsync(client, recovered, either.Token).ConfigureAwait(false) is { } number
        )
            result = DocumentRecoverer.Another(RequestOf(request, uri) with { Listing = number }, recovered);
        if (result.Program.Image.Count == 0)
        {
            string? choice = result
                .Entries.FirstOrDefault(entry =>
                    entry is { Severity: Severity.Error, Code: DocumentCodes.SeveralListings }
                )
                ?.Message;
            throw LspException.Refused(
                $"{choice ?? $"No assembly program is found in {uri.Name}."} Nothing is written."
            );
        }

        string path = NewSource.FreePath(
            uri.Path ?? Path.Combine(FolderFor(request.Snapshot, uri), "recovered"),
            "recovered"
        );
        string folder = Path.GetDirectoryName(path)!;
        if ((PrintedFileOutput.Refusal(folder, result) ?? PrintedFileOutput.Write(folder, result)) is { } refusal)
            throw LspException.Refused(refusal);
        string address = await NewSource
            .OpenAsync(request, path, result.Source.ToString(), $"Recover {Path.GetFileName(path)}", either.Token)
            .ConfigureAwait(false);
        int errors = result.AllEntries.Count(entry => entry.Severity == Severity.Error),
            doubts = result.AllEntries.Count(entry => entry.Severity == Severity.Warning);
        string left =
            errors + doubts == 0
                ? "nothing is left in doubt"
                : $"{Count(errors, "problem")} and {Count(doubts, "doubt")} to look at: they are marked in the source";
        client.ShowMessage(
            errors + doubts == 0 ? MessageType.Info : MessageType.Warning,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Path.GetFileName(path)}: {result.Program.Image.ProgramWords} words recovered; {left}.{Beside(result)}"
            )
        );
        shown?.Finish(
            string.Create(CultureInfo.InvariantCulture, $"{result.Program.Image.ProgramWords} words recovered")
        );
        return LspJson.Element(address);
    }

    private static string Beside(RecoveryResult result) =>
        result.Files.IsEmpty
            ? ""
            : $" Beside it: {string.Join(", ", result.Files.Select(static f => f.Name))}, as the document prints {(result.Files.Length == 1 ? "it" : "them")}.";

    // The number of the program that a person wants; null where nobody answers.
    private static async Task<int?> ChooseAsync(
        Client client,
        RecoveredDocument document,
        CancellationToken cancellation
    )
    {
        const int most = 20;
        PrintedDocument printed = document.Printed ?? PasteRecovery.Lay(document.Pasted!).Document;
        string[] buttons =
        [
            .. DocumentListings
                .Find(printed)
                .Where(static l => l.FileName is null)
                .Take(most)
                .Select(static l =>
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{l.Number}: {l.Place}{(l.Chip is { } chip ? $", {chip}" : "")}{(l.FirstLines.IsEmpty ? "" : $", {l.FirstLines[0]}")}"
                    )
                ),
        ];
        string? answer = await client
            .AskPersonAsync(
                MessageType.Info,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{document.Name} holds {buttons.Length} programs or fragments. Which one do you want?"
                ),
                buttons,
                cancellation
            )
            .ConfigureAwait(false);
        // Each button begins with the number of its program.
        return
            answer is not null
            && int.TryParse(answer.Split(':')[0], NumberStyles.None, CultureInfo.InvariantCulture, out int chosen)
            ? chosen
            : null;
    }

    private static RecoveryOutcome Recover(RequestContext request, DocumentUri uri, CancellationToken cancellation) =>
        DocumentRecoverer.Recover(RequestOf(request, uri), cancellation);

    private static DocumentRequest RequestOf(RequestContext request, DocumentUri uri)
    {
        OpenDocument? open = request.Snapshot.Documents.GetValueOrDefault(uri);
        if (open is null && uri.Path is null)
            throw LspException.Refused($"{uri.Name} is neither open nor a file that can be read.");
        return new DocumentRequest(uri.Path ?? uri.Text)
        {
            Name = uri.Name,
            Open = open?.Text,
            OpenFile = request.Programs.Files.Open,
            Assembly = new AssemblyOptions { ProjectChip = request.Settings.Chip },
            Reader = request.Server.Documents is { } documents ? () => documents([]) : null,
        };
    }

    private static string FolderFor(WorkspaceSnapshot snapshot, DocumentUri uri) =>
        snapshot.Folders.Select(folder => folder.Path).FirstOrDefault(path => path is not null)
        ?? throw LspException.Refused(
            $"{uri.Name} is not saved as a file yet: save it first, then the source has a place to go."
        );

    private static string Count(int number, string what) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{(number == 0 ? "no" : number.ToString(CultureInfo.InvariantCulture))} {what}{(number == 1 ? "" : "s")}"
        );
}
