using System.Globalization;
using System.Text;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;
using AsmLsp.Host;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>
/// <c>relist.compare READOUT BUILD</c>: compares a HEX file with a build, which is a source or another HEX file; shows the verdict, and gives
/// it with the whole report.
/// </summary>
internal sealed class CompareCommand : ICommand
{
    public const string CommandName = "relist.compare";

    public string Name => CommandName;

    public Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        var readoutUri = DocumentUri.Parse(arguments.Text(0, "the address of a HEX file"));
        var buildUri = DocumentUri.Parse(arguments.Text(1, "the address of the build, a source or a HEX file"));
        WordMemory readout = MemoryOf(request, readoutUri);
        ProgramAnalysis? program;
        WordMemory build;
        if (HexView.IsHex(buildUri, request.Snapshot.Documents.GetValueOrDefault(buildUri)))
        {
            build = MemoryOf(request, buildUri);
            program = HexView.SourceOf(request.Programs, buildUri);
            // The source may have been edited since: its lines would be wrong ones.
            if (program is not null && (program.HasErrors || !program.Image.Memory.SequenceEqual(build)))
                program = null;
        }
        else
        {
            program =
                request.Programs.Find(buildUri)?.Program.Analysis
                ?? throw LspException.Refused($"{buildUri.Name} is neither open nor a file that can be read.");
            if (program.HasErrors)
                throw LspException.Refused($"{buildUri.Name} has errors. Resolve them first.");
            build = program.Image.Memory;
        }

        var comparison = ReadoutComparison.Of(
            build,
            readout,
            program?.Device ?? HexView.Find(request.Programs, readoutUri)?.File.Device,
            program
        );
        using var report = new StringWriter(CultureInfo.InvariantCulture) { NewLine = "\n" };
        ReadoutReport.Write(report, comparison, (buildUri.Name, readoutUri.Name), program, showAll: false);
        request.Server.Client.ShowMessage(
            comparison.IsSame ? MessageType.Info : MessageType.Warning,
            $"{readoutUri.Name}: {comparison.Verdict.Sentence}"
        );
        return Task.FromResult<JsonElement?>(Answer(comparison, report.ToString()));
    }

    private static JsonElement Answer(ReadoutComparison comparison, string report)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            json.WriteString("kind", comparison.Verdict.Code);
            json.WriteString("verdict", comparison.Verdict.Sentence);
            json.WriteBoolean("same", comparison.IsSame);
            json.WriteString("report", report);
            json.WriteEndObject();
        }

        using var document = JsonDocument.Parse(stream.ToArray());
        return document.RootElement.Clone();
    }

    // As it is in the editor, else as it is on the disk.
    private static WordMemory MemoryOf(RequestContext request, DocumentUri uri)
    {
        HexReading reading;
        if (HexView.Find(request.Programs, uri) is { } open)
        {
            reading = open.File.Reading;
        }
        else
        {
            if (uri.Path is not { } path)
                throw LspException.Refused($"{uri.Name} is neither open nor a file that can be read.");
            if (FileLoader.ReadBytes(path, out byte[] bytes) is { } failure)
                throw LspException.Refused(failure.Message);
            reading = IntelHexReader.Read(Encoding.Latin1.GetString(bytes));
        }

        return reading.IsUsable
            ? reading.Memory
            : throw LspException.Refused(
                $"{uri.Name}: {reading.Faults.First(static f => f.IsFatal).Message} Its words cannot be trusted."
            );
    }
}
