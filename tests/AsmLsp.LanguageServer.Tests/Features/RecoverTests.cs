using System.Text;
using System.Text.Json.Nodes;
using AsmLsp.Core.Printed;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class RecoverTests
{
    private const string Paste = " list p=16f84a\n __config 0x3ff1\nstart movlw 5\nmovwf PORTB\n goto start\n end\n";

    [Fact]
    public async Task Paste_becomes_a_new_buffer_beside_it_and_is_shown()
    {
        JsonNode? edit = null,
            shown = null;
        await using Desk desk = await Desk.StartAsync(
            answer: (method, parameters) =>
            {
                (edit, shown) = (
                    method == "workspace/applyEdit" ? parameters!.DeepClone() : edit,
                    method == "window/showDocument" ? parameters!.DeepClone() : shown
                );
                return method switch
                {
                    "workspace/applyEdit" => new JsonObject { ["applied"] = true },
                    "window/showDocument" => new JsonObject { ["success"] = true },
                    _ => null,
                };
            }
        );
        desk.Write("kit.txt", Paste);
        JsonNode? address = await RecoverAsync(desk, "kit.txt");
        Assert.Equal(desk.UriOf("kit.asm"), (string)address!);
        Assert.Equal("create", (string)edit!["edit"]!["documentChanges"]![0]!["kind"]!);
        Assert.Contains(
            " movwf PORTB",
            (string)edit["edit"]!["documentChanges"]![1]!["edits"]![0]!["newText"]!,
            StringComparison.Ordinal
        );
        Assert.Equal((string)address!, (string)shown!["uri"]!);
        Assert.False(File.Exists(Path.Combine(desk.Folder, "kit.asm")));
        Assert.Equal(
            "kit.asm: 3 words recovered; nothing is left in doubt.",
            (string)(await desk.Session.Client.WaitForAsync("window/showMessage"))["params"]!["message"]!
        );
    }

    [Fact]
    public async Task Person_chooses_one_of_several_programs()
    {
        string other = Paste.Replace("movlw 5", "movlw 7", StringComparison.Ordinal);
        JsonNode? asked = null;
        await using Desk desk = await Desk.StartAsync(
            """{"window":{"showMessage":{}}}""",
            answer: (method, parameters) =>
            {
                if (method != "window/showMessageRequest")
                    return null;
                asked = parameters!.DeepClone();
                return parameters["actions"]![1]!.DeepClone();
            }
        );
        desk.Write("kit.txt", Paste + "\n" + other);
        Assert.Equal(desk.UriOf("kit.asm"), (string)(await RecoverAsync(desk, "kit.txt"))!);
        Assert.Contains("2 programs", (string)asked!["message"]!, StringComparison.Ordinal);
        string source = await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit.asm"));
        Assert.Contains("movlw 7", source, StringComparison.Ordinal);
        Assert.DoesNotContain("movlw 5", source, StringComparison.Ordinal);
    }

    [Fact]
    public async Task File_that_the_document_prints_for_its_program_is_written_beside_it()
    {
        const string included =
            " list p=16f84a\n include \"board.inc\"\n __config 0x3ff1\nstart movlw 5\n movwf LAMP\n goto start\n end\n\nboard.inc:\n\nLAMP equ 6\nLIT equ 0x0c\n";
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Write("kit.txt", included);
        Assert.Equal(desk.UriOf("kit.asm"), (string)(await RecoverAsync(desk, "kit.txt"))!);
        Assert.Contains(
            "LIT equ 0x0c",
            await File.ReadAllTextAsync(Path.Combine(desk.Folder, "board.inc")),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "Beside it: board.inc",
            (string)(await desk.Session.Client.WaitForAsync("window/showMessage"))["params"]!["message"]!,
            StringComparison.Ordinal
        );
        // One that is there is read, and not written over.
        File.Delete(Path.Combine(desk.Folder, "kit.asm"));
        desk.Write("board.inc", "LAMP equ 7\n");
        await RecoverAsync(desk, "kit.txt");
        Assert.Equal("LAMP equ 7\n", await File.ReadAllTextAsync(Path.Combine(desk.Folder, "board.inc")));
        Assert.Contains(
            "with other lines",
            await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit.asm")),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Client_without_buffers_of_ours_gets_a_file_and_nothing_is_written_over()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Write("kit.txt", Paste);
        desk.Write("kit.asm", "mine");
        JsonNode? address = await RecoverAsync(desk, "kit.txt");
        Assert.Equal(desk.UriOf("kit-recovered.asm"), (string)address!);
        Assert.Contains(
            " movwf PORTB",
            await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit-recovered.asm")),
            StringComparison.Ordinal
        );
        Assert.Equal("mine", await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit.asm")));
        Assert.Equal(desk.UriOf("kit-recovered-2.asm"), (string)(await RecoverAsync(desk, "kit.txt"))!);
    }

    [Fact]
    public async Task Open_text_counts_as_it_stands_in_the_editor()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Write("kit.txt", "nothing of use");
        desk.Open("kit.txt", Paste);
        Assert.Equal(desk.UriOf("kit.asm"), (string)(await RecoverAsync(desk, "kit.txt"))!);
    }

    [Fact]
    public async Task Printed_document_goes_through_the_reader_that_was_handed_in()
    {
        string[] lines = Paste.TrimEnd('\n').Split('\n');
        var reader = new FixedReader(
            PrintedReading.Of(
                new PrintedDocument([
                    new PrintedPage(
                        1,
                        595,
                        842,
                        [
                            .. lines.Select(
                                (line, i) => new PrintedLine(line, 1, i + 1, 72, 72 + (12 * i), "Courier", 10, true)
                            ),
                        ],
                        []
                    ),
                ])
            )
        );
        await using Desk desk = await Desk.StartAsync("{}", documents: () => reader);
        desk.Write("kit.pdf", "%PDF-1.4 and so on");
        Assert.Equal(desk.UriOf("kit.asm"), (string)(await RecoverAsync(desk, "kit.pdf"))!);
        Assert.Contains(
            " movwf PORTB",
            await File.ReadAllTextAsync(Path.Combine(desk.Folder, "kit.asm")),
            StringComparison.Ordinal
        );
        Assert.Equal("%PDF-1.4 and so on", Encoding.ASCII.GetString(reader.Read!));
    }

    [Fact]
    public async Task Document_that_cannot_be_read_is_reported_in_the_reader_s_words()
    {
        await using Desk desk = await Desk.StartAsync(
            "{}",
            documents: () =>
                new FixedReader(PrintedReading.Of(PrintedFailureKind.ImageOnly, "kit.pdf holds pictures only."))
        );
        desk.Write("kit.pdf", "%PDF-1.4");
        Assert.Equal("kit.pdf holds pictures only.", await RefusalAsync(desk, "kit.pdf"));
    }

    [Theory]
    [InlineData("poem.txt", "Roses are red.\n", "No assembly program is found in poem.txt. Nothing is written.")]
    [InlineData("kit.pdf", "%PDF-1.4", "This server was started without a reader for documents and pictures.")]
    public async Task Input_of_no_use_is_refused_and_nothing_is_written(string name, string content, string reason)
    {
        await using Desk desk = await Desk.StartAsync("{}");
        desk.Write(name, content);
        Assert.Equal(reason, await RefusalAsync(desk, name));
        Assert.Single(Directory.GetFiles(desk.Folder));
    }

    private static Task<JsonNode?> RecoverAsync(Desk desk, string name) =>
        desk.Session.Client.RequestAsync("workspace/executeCommand", Command(desk, name));

    private static async Task<string> RefusalAsync(Desk desk, string name)
    {
        JsonObject reply = await desk.Session.Client.Ask("workspace/executeCommand", Command(desk, name)).Reply;
        Assert.Equal(-32803, (int)reply["error"]!["code"]!);
        return (string)reply["error"]!["message"]!;
    }

    private static JsonObject Command(Desk desk, string name) =>
        new() { ["command"] = "relist.recover", ["arguments"] = new JsonArray(desk.UriOf(name)) };

    private sealed class FixedReader(PrintedReading answer) : IPrintedDocumentReader
    {
        public byte[]? Read { get; private set; }

        PrintedReading IPrintedDocumentReader.Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation)
        {
            Read = bytes.ToArray();
            return answer;
        }
    }
}
