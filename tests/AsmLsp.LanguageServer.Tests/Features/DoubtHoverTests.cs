using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using AsmLsp.Core.Printed;
using AsmLsp.LanguageServer.Tests.Harness;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>The hover over the mark of a doubt: its words for everybody, its picture where the document lies beside the source.</summary>
public sealed class DoubtHoverTests
{
    private const string Source =
        " list p=16f84a\n __config 0x3ff1\n movlw 0x30 ; sixty ;{|}? was 3O [ movlw 0x3C] (page 1, line 3)\n end\n";

    private static readonly string[] Lines = [" list p=16f84a", " __config 0x3ff1", " movlw 3O ; sixty", " end"];

    // Four lines of Courier, twelve points apart, on a small page (ISO 32000-1, 7.5; readers find the objects without a table).
    private static readonly string Pdf = string.Create(
        CultureInfo.InvariantCulture,
        $"""
        %PDF-1.4
        1 0 obj << /Type /Catalog /Pages 2 0 R >> endobj
        2 0 obj << /Type /Pages /Kids [3 0 R] /Count 1 >> endobj
        3 0 obj << /Type /Page /Parent 2 0 R /MediaBox [0 0 300 200] /Resources << /Font << /F1 5 0 R >> >> /Contents 4 0 R >> endobj
        4 0 obj << /Length {Content.Length} >> stream
        {Content}
        endstream endobj
        5 0 obj << /Type /Font /Subtype /Type1 /BaseFont /Courier >> endobj
        trailer << /Size 6 /Root 1 0 R >>
        %%EOF

        """
    );

    private static string Content =>
        "BT /F1 10 Tf 12 TL 20 170 Td " + string.Concat(Lines.Select(static l => $"({l}) Tj T* ")) + "ET";

    private static Func<IPrintedDocumentReader> Reader(Action? read = null) =>
        () =>
        {
            read?.Invoke();
            return new FixedReader(
                PrintedReading.Of(
                    new PrintedDocument([
                        new PrintedPage(
                            1,
                            300,
                            200,
                            [
                                .. Lines.Select(
                                    static (l, i) =>
                                        new PrintedLine(l, 1, i + 1, 26, 30 + (12 * i), "Courier", 10, true)
                                ),
                            ],
                            []
                        ),
                    ])
                )
            );
        };

    private static async Task<string> HoverAsync(Desk desk, string name = "kit.asm")
    {
        JsonNode? hover = await desk.AskAsync("textDocument/hover", Source, name);
        return (string)hover!["contents"]!["value"]!;
    }

    // A machine that is busy may not have drawn it at the first time.
    private static async Task<string> PictureAsync(Desk desk, string name = "kit.asm")
    {
        (int line, int character) = desk.Open(name, Source);
        string text = "";
        for (int i = 0; i < 20 && !text.Contains("![", StringComparison.Ordinal); i++)
        {
            JsonNode? hover = await desk.AtAsync("textDocument/hover", name, line, character);
            text = (string)hover!["contents"]!["value"]!;
        }

        return text;
    }

    [Fact]
    public async Task Mark_is_explained_with_its_readings_its_place_and_its_stretch()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? hover = await desk.AskAsync("textDocument/hover", Source);
        Assert.Equal(
            "**Not checked yet**\n\nwas 3O\n\n- It may be `movlw 0x3C`.\n\nPrinted on page 1, line 3.",
            (string)hover!["contents"]!["value"]!
        );
        Assert.Equal(
            """{"start":{"line":2,"character":20},"end":{"line":2,"character":60}}""",
            hover["range"]!.ToJsonString()
        );
        // The comment in front of it is one.
        Assert.Null(await desk.AtAsync("textDocument/hover", "main.asm", 2, 15));
    }

    [Theory]
    [InlineData("kit.asm", "kit.pdf")]
    [InlineData("kit-recovered.asm", "kit.pdf")]
    [InlineData("kit-recovered-2.asm", "KIT.PDF")]
    public async Task Picture_of_the_printed_line_is_shown_where_the_document_lies_beside_the_source(
        string source,
        string document
    )
    {
        await using Desk desk = await Desk.StartAsync(documents: Reader());
        if (source == "kit-recovered-2.asm")
            document = "kit.PDF";
        desk.Write(document, Pdf);
        string text = await PictureAsync(desk, source);
        Match picture = Regex.Match(text, @"\n\n!\[(.*), page 1, line 3\]\((file://.*\.png)\)$");
        Assert.True(picture.Success, text);
        string path = DocumentUri.Parse(picture.Groups[2].Value).Path!;
        byte[] file = await File.ReadAllBytesAsync(path);
        Assert.Equal("PNG", Encoding.ASCII.GetString(file, 1, 3));
        Assert.NotEqual(desk.Folder, Path.GetDirectoryName(path));
        // Nothing was written beside the source.
        Assert.Single(Directory.GetFiles(desk.Folder));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(
                UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
                File.GetUnixFileMode(Path.GetDirectoryName(path)!)
            );
    }

    [Fact]
    public async Task Document_is_read_once_for_all_its_lines_and_again_when_it_changed()
    {
        int read = 0;
        await using Desk desk = await Desk.StartAsync(documents: Reader(() => Interlocked.Increment(ref read)));
        desk.Write("kit.pdf", Pdf);
        string first = await PictureAsync(desk);
        Assert.Equal(first, await PictureAsync(desk));
        desk.Open("kit.asm", Source.Replace("line 3", "line 2", StringComparison.Ordinal), 2);
        await PictureAsync(desk);
        Assert.Equal(1, read);
        desk.Write("kit.pdf", Pdf + "% another");
        Assert.NotEqual(first, await PictureAsync(desk));
        Assert.Equal(2, read);
    }

    [Theory]
    [InlineData("other.pdf", null)]
    [InlineData("kit.pdf", "%PDF-1.4 nothing")]
    [InlineData("kit.pdf", "")]
    public async Task Without_a_document_that_can_be_drawn_the_words_stay(string name, string? content)
    {
        await using Desk desk = await Desk.StartAsync(documents: Reader());
        desk.Write(name, content ?? Pdf);
        Assert.EndsWith("Printed on page 1, line 3.", await HoverAsync(desk), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Client_that_does_not_take_markdown_gets_no_picture_and_nothing_is_read()
    {
        bool read = false;
        await using Desk desk = await Desk.StartAsync(
            """{"textDocument":{"hover":{"contentFormat":["plaintext"]}}}""",
            documents: Reader(() => read = true)
        );
        desk.Write("kit.pdf", Pdf);
        string text = await HoverAsync(desk);
        Assert.StartsWith("Not checked yet", text, StringComparison.Ordinal);
        Assert.EndsWith("Printed on page 1, line 3.", text, StringComparison.Ordinal);
        Assert.False(read);
    }

    [Fact]
    public async Task Words_of_a_mark_cannot_bring_markdown_of_their_own()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? hover = await desk.AskAsync(
            "textDocument/hover",
            " list p=16f84a\n nop ;{|}? ![x](http://example.com/x.png) <img src=x> **b**\n end\n"
        );
        string text = (string)hover!["contents"]!["value"]!;
        Assert.DoesNotContain("![x](", text, StringComparison.Ordinal);
        Assert.DoesNotContain(" <img", text, StringComparison.Ordinal);
        Assert.DoesNotContain("**b**", text, StringComparison.Ordinal);
    }

    private sealed class FixedReader(PrintedReading reading) : IPrintedDocumentReader
    {
        public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default) => reading;
    }
}
