using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

public sealed class CompletionTests
{
    private const string Head = " list p=16f84a\n __config 0x3ff1\n";

    /// <summary>What is offered at the mark (from | to, each a list) and what must not be.</summary>
    [Theory]
    [InlineData(" {|}\n", "movlw btfss banksel cblock", "PORTB w")]
    [InlineData("start {|}\n", "movlw goto", "start PORTB")]
    [InlineData(" MOVLW 5\n MO{|}\n", "MOVLW MOVF", "movlw")]
    [InlineData(" movwf {|}\n", "PORTB STATUS TRISA", "movlw w Z start")]
    [InlineData("count equ 0c\n movwf c{|}\n", "count PORTB", "goto")]
    [InlineData(" cblock 0c\n count\n endc\n movwf {|}\n", "count PORTB", "goto")]
    [InlineData(" bsf STATUS,{|}\n", "RP0 Z C", "PORTB w RBIE GIE movlw")]
    [InlineData("stat equ 3\n bsf stat,{|}\n", "RP0 Z C", "PORTB GIE")]
    [InlineData("led equ 2\n bsf PORTB,{|}\n", "led RB0", "PORTB")]
    [InlineData(" movf PORTB,{|}\n", "w f", "Z PORTB W")]
    [InlineData(" movf PORTB,W\n movf PORTB,{|}\n", "W F", "w f")]
    [InlineData(" movf PORTB,0\n incf PORTB,1\n movf PORTB,{|}\n", "0 1", "w f W")]
    [InlineData("start nop\nled equ 2\n goto {|}\n", "start", "PORTB led nop")]
    [InlineData("start nop\n call s{|}\n", "start", "PORTB")]
    [InlineData("led equ 2\n movlw {|}\n", "led PORTB high", "movlw")]
    [InlineData(" tris {|}\n", "PORTA PORTB", "STATUS")]
    [InlineData(" banksel {|}\n", "TRISB", "movlw")]
    [InlineData(" movwf PORTB ; {|}\n", "", "PORTB movlw")]
    [InlineData(" dt \"a{|}\"\n", "", "PORTB movlw")]
    [InlineData(" cblock 0c\n c{|}\n endc\n", "", "movlw PORTB")]
    [InlineData(" radix {|}\n", "dec hex", "PORTB")]
    [InlineData("two macro a,b\n endm\n t{|}\n", "two", "PORTB")]
    [InlineData("#define LAMP PORTB,3\n bsf L{|}\n", "LAMP", "movlw")]
    [InlineData(" nop {|}\n", "", "PORTB movlw")]
    public async Task Offers_what_fits_the_place(string source, string offered, string absent)
    {
        await using Desk desk = await Desk.StartAsync();
        string[] labels = Labels(await desk.AskAsync("textDocument/completion", Head + source + " end\n"));
        Assert.Empty(offered.Split(' ', StringSplitOptions.RemoveEmptyEntries).Except(labels));
        Assert.Empty(absent.Split(' ', StringSplitOptions.RemoveEmptyEntries).Intersect(labels));
        Assert.Equal(labels.Distinct(), labels);
    }

    [Theory]
    [InlineData(" list p={|}\n", "16f84a 16f628a")]
    [InlineData(" list p=16{|}\n", "16f84a 16f628a")]
    [InlineData(" processor {|}\n", "16f84a")]
    [InlineData(" include {|}\n", "<p16f84a.inc>")]
    [InlineData("#include <{|}\n", "p16f84a.inc")]
    [InlineData(" list {|}\n", "p= r=")]
    public async Task Offers_chips_where_a_chip_is_named(string source, string offered)
    {
        await using Desk desk = await Desk.StartAsync();
        string[] labels = Labels(await desk.AskAsync("textDocument/completion", source));
        Assert.Empty(offered.Split(' ').Except(labels));
    }

    [Fact]
    public async Task Configuration_is_offered_field_by_field()
    {
        await using Desk desk = await Desk.StartAsync();
        string[] all = Labels(await desk.AskAsync("textDocument/completion", " list p=16f84a\n __config {|}\n end\n"));
        Assert.Contains("_WDT_OFF", all);
        Assert.Contains("_XT_OSC", all);
        string[] rest = Labels(
            await desk.AskAsync(
                "textDocument/completion",
                " list p=16f84a\n __config _WDT_OFF & _XT_OSC & {|}\n end\n",
                "other.asm"
            )
        );
        Assert.DoesNotContain("_WDT_ON", rest);
        Assert.DoesNotContain("_HS_OSC", rest);
        Assert.Contains("_PWRTE_ON", rest);
        Assert.DoesNotContain("PORTB", rest);
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
    public async Task At_a_configuration_setting_the_others_of_its_field_are_offered()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonArray items = (
            await desk.AskAsync(
                "textDocument/completion",
                " list p=16f84a\n __config _WDT_OFF & _XT{|}_OSC & _CP_OFF\n end\n"
            )
        )!["items"]!.AsArray();
        // Data sheet DS35007B, register 6-1: four oscillators.
        Assert.Equal(
            ["_HS_OSC", "_LP_OSC", "_RC_OSC", "_XT_OSC"],
            items.Select(item => (string)item!["label"]!).Order()
        );
        Assert.All(items, item => Assert.StartsWith("FOSC", (string)item!["detail"]!, StringComparison.Ordinal));
        Assert.All(
            items,
            item => Assert.DoesNotContain("&", (string)item!["textEdit"]!["newText"]!, StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Field_that_is_set_behind_the_cursor_is_not_offered_again()
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.DoesNotContain(
            "_HS_OSC",
            Labels(await desk.AskAsync("textDocument/completion", " list p=16f84a\n __config {|} & _XT_OSC\n end\n"))
        );
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

    [Fact]
    public async Task Operation_in_column_one_is_indented_as_the_others_are()
    {
        await using Desk desk = await Desk.StartAsync();
        JsonNode? list = await desk.AskAsync("textDocument/completion", "\tnop\n\tnop\nmo{|}\n\tend\n");
        Assert.Equal(
            "\tmovlw",
            (string)
                list!["items"]!.AsArray().Single(item => (string)item!["label"]! == "movlw")!["textEdit"]!["newText"]!
        );
    }

    [Fact]
    public async Task Label_that_is_missing_is_offered_in_column_one()
    {
        await using Desk desk = await Desk.StartAsync();
        Assert.Contains(
            "wait",
            Labels(await desk.AskAsync("textDocument/completion", Head + " call wait\n{|}\n end\n"))
        );
    }

    [Theory]
    [InlineData(" {|}\n", "movlw", "Puts the constant into W.")]
    [InlineData(" {|}\n", "cblock", "rising values")]
    [InlineData("led equ 2 ; red lamp\n movlw {|}\n", "led", "red lamp")]
    [InlineData(" bsf STATUS,{|}\n", "RP0", "bit 5")]
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
