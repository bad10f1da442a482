using System.CommandLine;
using System.Globalization;
using System.Text;
using System.Text.Json;
using AsmLsp.Host.Archive;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist archive add</c>: files the read-out of a programmed chip in an archive.</summary>
internal sealed class ArchiveVerb : IVerb
{
    private const int MostBoards = 99_999;

    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist archive add kit readout-07.hex --board 7",
        "relist archive add kit readout-08.hex --board 8 --who Ada --note \"second try\"",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var folder = new Argument<string>("DIR") { Description = "The folder that 'recover --archive' made." };
        var readout = new Argument<string>("READOUT.hex") { Description = "What was read from the programmed chip." };
        var board = new Option<int>("--board")
        {
            Description = "The number of the board.",
            HelpName = "N",
            Required = true,
        };
        var who = new Option<string?>("--who") { Description = "Who programmed it.", HelpName = "NAME" };
        var note = new Option<string?>("--note") { Description = "What else there is to say.", HelpName = "TEXT" };
        var json = new Option<bool>("--json") { Description = "Write JSON, for scripts." };
        var add = new Command(
            "add",
            "Compare a read-out with the HEX of the archive, file it, and tick its board in boards.csv.\n\nExit code 0: the chip holds that HEX; 1: it does not, which is filed too; 2: nothing was filed."
        )
        {
            folder,
            readout,
            board,
            who,
            note,
            json,
        };
        add.SetAction(parsed =>
            Add(
                parsed.GetRequiredValue(folder),
                new FilingRequest(
                    parsed.GetRequiredValue(readout),
                    parsed.GetRequiredValue(board),
                    parsed.GetValue(who) ?? "",
                    parsed.GetValue(note) ?? ""
                ),
                parsed.GetValue(json),
                parsed.InvocationConfiguration.Output,
                parsed.InvocationConfiguration.Error
            )
        );
        return new Command("archive", "File what was read from a programmed chip in the archive of its program.")
        {
            add,
        };
    }

    private static int Add(string folder, FilingRequest request, bool isJson, TextWriter output, TextWriter error)
    {
        if (request.Board is < 1 or > MostBoards)
        {
            error.WriteLine($"relist: --board takes a number from 1 to {MostBoards}.");
            return ExitCodes.Unusable;
        }

        FilingOutcome outcome = BoardFiling.Add(folder, request);
        if (outcome.Row is not { } row)
        {
            error.WriteLine($"relist: {outcome.Refusal}");
            return ExitCodes.Unusable;
        }

        if (isJson)
        {
            using var stream = new MemoryStream();
            using (var json = new Utf8JsonWriter(stream))
            {
                json.WriteStartObject();
                json.WriteNumber("board", row.Board);
                json.WriteString("file", row.File);
                json.WriteBoolean("same", row.IsSame);
                json.WriteString("message", row.Verdict);
                json.WriteString("checksum", row.Checksum.Length > 0 ? row.Checksum : null);
                json.WriteEndObject();
            }

            VisibleWriter.Data(output).Write(Encoding.UTF8.GetString(stream.ToArray()) + "\n");
        }
        else
        {
            output.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"Board {row.Board}: {row.Verdict}")
                    + (row.Checksum.Length > 0 ? $" Checksum {row.Checksum}." : "")
            );
            error.WriteLine($"Filed: {Path.Combine(folder, row.File)}");
        }

        return row.IsSame ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }
}
