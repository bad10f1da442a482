using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class CompletionTests
{
    private const string Head = " list p=16f84a\n __config 0x3ff1\n";

    /// <summary>What is offered at the mark (from | to, each a list) and what must not be.</summary>
    [Theory]
    [InlineData(" {|}\n", "movlw btfss banksel cblock", "PORTB w")]
    [InlineData(" movwf {|}\n", "PORTB STATUS TRISA", "movlw w Z start")]
    [InlineData(" bsf STATUS,{|}\n", "RP0 Z C", "PORTB w RBIE GIE movlw")]
    [InlineData(" movwf PORTB ; {|}\n", "", "PORTB movlw")]
    public async Task Offers_what_fits_the_place(string source, string offered, string absent)
    {
        await using Desk desk = await Desk.StartAsync();
        string[] labels = Labels(await desk.AskAsync("textDocument/completion", Head + source + " end\n"));
        Assert.Empty(offered.Split(' ', StringSplitOptions.RemoveEmptyEntries).Except(labels));
        Assert.Empty(absent.Split(' ', StringSplitOptions.RemoveEmptyEntries).Intersect(labels));
        Assert.Equal(labels.Distinct(), labels);
    }

    // The numbers are those of CompletionItemKind in LSP 3.17.
    [Theory]
    [InlineData(" {|}\n", "movlw", 14)]
    [InlineData("two macro a,b\n endm\n t{|}\n", "two", 3)]
    [InlineData(" movwf {|}\n", "PORTB", 6)]
    [InlineData("led equ 2\n movlw {|}\n", "led", 21)]
    [InlineData(" bsf STATUS,{|}\n", "RP0", 20)]
    [InlineData(" processor {|}\n", "16f84a", 9)]
    [InlineData(" list {|}\n", "p=", 10)]
    public async Task Each_offer_has_its_kind_and_place_in_the_list(string source, string label, int kind)
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? list = await desk.AskAsync("textDocument/completion", Head + source + " end\n");
        JsonNode item = list!["items"]!.AsArray().Single(item => (string)item!["label"]! == label)!;
        Assert.Equal(kind, (int)item["kind"]!);
        Assert.EndsWith(label, (string)item["sortText"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Configuration_setting_is_found_by_what_it_means_and_joined_to_the_others()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode found = (
            await desk.AskAsync("textDocument/completion", " list p=16f84a\n __config _XT_OSC watch{|}\n end\n")
        )!["items"]!
            .AsArray()
            .Single(item => (string)item!["label"]! == "_WDT_OFF")!;
        Assert.Contains("watchdog", (string)found["filterText"]!, StringComparison.Ordinal);
        Assert.Equal("& _WDT_OFF", (string)found["textEdit"]!["newText"]!);
    }

    [Fact]
    public async Task File_beside_is_offered_for_an_include()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Write("delay.inc", "");
        Assert.Contains("delay.inc", Labels(await desk.AskAsync("textDocument/completion", " include \"{|}\n")));
    }

    [Fact]
    public async Task Whole_word_under_the_cursor_is_replaced()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? list = await desk.AskAsync("textDocument/completion", Head + " movwf PO{|}RT\n end\n");
        JsonNode edit = list!["items"]!.AsArray().Single(item => (string)item!["label"]! == "PORTB")!["textEdit"]!;
        Assert.Equal(
            """{"start":{"line":2,"character":7},"end":{"line":2,"character":11}}""",
            edit["range"]!.ToJsonString()
        );
    }

    [Theory]
    [InlineData(" {|}\n", "movlw", "Puts the constant into W.")]
    [InlineData("led equ 2 ; red lamp\n movlw {|}\n", "led", "red lamp")]
    [InlineData(" movwf {|}\n", "PORTB", "0x06")]
    public async Task Documentation_comes_when_it_is_asked_for(string source, string label, string text)
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? list = await desk.AskAsync("textDocument/completion", Head + source + " end\n");
        JsonNode item = list!["items"]!.AsArray().Single(item => (string)item!["label"]! == label)!;
        Assert.Null(item["documentation"]);
        JsonNode? resolved = await desk.Session.Client.RequestAsync("completionItem/resolve", item);
        Assert.Contains(text, (string)resolved!["documentation"]!["value"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Client_without_markdown_gets_plain_documentation()
    {
        await using Desk desk = await Desk.StartAsync("{}");
        JsonNode? list = await desk.AskAsync("textDocument/completion", Head + " {|}\n end\n");
        JsonNode? resolved = await desk.Session.Client.RequestAsync(
            "completionItem/resolve",
            list!["items"]!.AsArray().Single(item => (string)item!["label"]! == "movlw")
        );
        Assert.DoesNotContain('`', (string)resolved!["documentation"]!);
    }

    private static string[] Labels(JsonNode? list) =>
        [.. list!["items"]!.AsArray().Select(item => (string)item!["label"]!)];
}
