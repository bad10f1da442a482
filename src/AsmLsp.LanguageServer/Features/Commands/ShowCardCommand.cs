using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Host;
using AsmLsp.Host.Building;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>
/// <c>relist.showCard URI [content]</c>: shows the bench card of a source or a HEX file, as a page in a cache folder; gives its address. With
/// <c>content</c> nothing is shown: it gives the page itself, for an editor with a preview of its own.
/// </summary>
internal sealed class ShowCardCommand : ICommand
{
    public const string CommandName = "relist.showCard";

    public string Name => CommandName;

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        var uri = DocumentUri.Parse(arguments.Text(0, "the address of a document"));
        string page = CardHtml.Of(BenchCard.Of(SubjectOf(request, uri)));
        if (arguments.Length > 1 && arguments.Text(1, "'content'") == "content")
            return LspJson.Element(page);
        string name = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(uri.Text)))[..16];
        string folder = CacheFolder.For("cards"),
            path = Path.Combine(folder, name + ".html");
        string? fault;
        try
        {
            Directory.CreateDirectory(folder);
            fault = AtomicWriter.Write(path, Encoding.UTF8.GetBytes(page));
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            fault = failure.Message;
        }

        if (fault is not null)
            throw LspException.Refused($"The card could not be written: {fault}");
        string address = DocumentUri.FromPath(path).Text;
        if (
            !await request
                .Server.Client.ShowDocumentAsync(new(address) { External = true }, cancellation)
                .ConfigureAwait(false)
        )
            request.Server.Client.ShowMessage(MessageType.Info, $"The card of {uri.Name} is {path}.");
        return LspJson.Element(address);
    }

    private static BenchSubject SubjectOf(RequestContext request, DocumentUri uri)
    {
        string stem = Path.GetFileNameWithoutExtension(uri.Name);
        if (HexView.Find(request.Programs, uri) is { } hex)
            return BenchSubject.Of(uri.Name, hex.UsableMemory, hex.Chip, HertzOf(request.Settings.Clock));

        DocumentView view =
            request.Programs.Find(uri)
            ?? throw LspException.Refused($"{uri.Name} is neither open nor a file that can be read.");
        Core.Assembly.ProgramAnalysis program = view.Program.Analysis;
        if (program.HasErrors)
            throw LspException.Refused($"{uri.Name} has errors. Resolve them first: a card needs the words.");
        Device device =
            program.Device ?? throw LspException.Refused($"{uri.Name} names no chip. Name it with 'list p=...'.");
        Problem[] problems = [.. view.Program.Model.AllProblems];
        int doubts = problems.Count(static p => p.Code == ProgramBuilder.DoubtCode);
        return BenchSubject.Of(stem + ".hex", program, device, view.ExplainOptions.ClockHertz) with
        {
            Doubts = doubts,
            Warnings = problems.Count(static p => p.Severity == Severity.Warning) - doubts,
        };
    }

    private static double? HertzOf(string? clock) => clock is null ? null : Core.Flow.ClockFinder.ReadRate(clock);
}
