using System.Text.Json.Nodes;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Tests.Harness;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>Documents that ask for too much: they are reported about, and the others are served as before.</summary>
public sealed class HostileDocumentTests
{
    private const string Clean = " list p=16f84a\n __config 0x3ff1\n org 0\nstart nop\n goto start\n end\n";

    // Nearly a million lines by loops, each with a long sum: seconds of work, within what an assembly may do at all.
    private static readonly string Slow = SlowProgram();

    [Fact]
    public async Task A_define_without_an_end_leaves_the_problems_of_other_documents_alone()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("bad.asm", "#define d d+d\n movlw d\n end\n");
        desk.Open("good.asm", Clean.Replace("goto start", "goto nowhere", StringComparison.Ordinal));
        Assert.Equal(["5:undefined-name"], await desk.ProblemsAsync("good.asm"));
        Assert.Contains("2:bad-expression", await desk.ProblemsAsync("bad.asm"));
        desk.Session.Change(desk.UriOf("bad.asm"), 2, Session.Whole(Clean));
        Assert.Empty(await desk.ProblemsAsync("bad.asm", 2));
    }

    [Fact]
    public void A_program_that_takes_too_long_is_given_up_with_a_problem_and_its_next_version_starts_clean()
    {
        var store = new ProgramCache(
            new FileLoader(),
            new AnalysisLimits(TimeSpan.FromMilliseconds(250), TimeSpan.FromMilliseconds(1))
        );
        WorkspacePrograms slow = store.Of(With("untitled:a.asm", 1, Slow));
        DocumentView view = slow.Find(DocumentUri.Parse("untitled:a.asm"))!;
        Assert.Throws<OperationCanceledException>(() => view.File.Analysis);
        Assert.True(view.Program.IsGivenUp);
        Diagnostic reported = Assert.Single(
            Diagnostics.Of(
                slow,
                view.Program,
                view.Source,
                ClientProfile.From(null),
                new PositionMapper(ColumnEncoding.Utf16)
            )
        );
        Assert.Equal("takes-too-long", reported.Code!.Value.Text);

        WorkspacePrograms next = store.Of(With("untitled:a.asm", 2, " nop\n end\n"));
        Assert.Equal(1, next.Find(DocumentUri.Parse("untitled:a.asm"))!.File.Analysis.Image.Count);
    }

    [Fact]
    public void A_version_that_a_newer_one_replaced_is_not_worked_out_to_its_end()
    {
        var store = new ProgramCache(
            new FileLoader(),
            new AnalysisLimits(TimeSpan.FromMinutes(5), TimeSpan.FromMilliseconds(1))
        );
        WorkspaceProgram old = store
            .Of(With("untitled:a.asm", 1, Slow))
            .Find(DocumentUri.Parse("untitled:a.asm"))!
            .Program;
        Assert.NotNull(store.Of(With("untitled:a.asm", 2, Clean)).Find(DocumentUri.Parse("untitled:a.asm")));
        Assert.Throws<OperationCanceledException>(() => old.Analysis);
        Assert.False(old.IsGivenUp);
    }

    [Fact]
    public void An_older_request_does_not_replace_the_newer_version()
    {
        var store = new ProgramCache(
            new FileLoader(),
            new AnalysisLimits(TimeSpan.FromMinutes(5), TimeSpan.FromMilliseconds(1))
        );
        WorkspaceSnapshot before = With("untitled:a.asm", 1, Clean);
        WorkspaceProgram newer = store
            .Of(With("untitled:a.asm", 2, " nop\n end\n"))
            .Find(DocumentUri.Parse("untitled:a.asm"))!
            .Program;
        Assert.NotNull(store.Of(before).Find(DocumentUri.Parse("untitled:a.asm")));
        Assert.Equal(1, newer.Analysis.Image.Count);
    }

    [Fact]
    public async Task A_document_longer_than_any_source_is_reported_and_checked_again_when_it_is_shorter()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("big.asm", new string(';', OpenDocument.MostCharacters + 1));
        desk.Open("good.asm", Clean);
        Assert.Equal(["1:file-too-large"], await desk.ProblemsAsync("big.asm"));
        Assert.Empty(await desk.ProblemsAsync("good.asm"));
        desk.Session.Change(desk.UriOf("big.asm"), 2, Session.Edit(0, 0, 0, 5, ""));
        Assert.Null(await desk.AtAsync("textDocument/hover", "big.asm", 0, 3));
        desk.Session.Change(desk.UriOf("big.asm"), 3, Session.Whole(Clean));
        Assert.Empty(await desk.ProblemsAsync("big.asm", 3));
    }

    [Fact]
    public async Task Long_texts_of_a_workspace_are_not_looked_through_for_includes()
    {
        await using Desk desk = await Desk.StartAsync(inWorkspace: true);
        desk.Write("log.txt", " include part.inc\n end\n" + new string('x', 2 * 1024 * 1024));
        desk.Write("part.inc", " movlw count\n");
        desk.Open("part.inc", " movlw count\n");
        JsonNode? none = await desk.AtAsync("textDocument/definition", "part.inc", 0, 8);
        Assert.DoesNotContain("txt", none?.ToJsonString() ?? "", StringComparison.Ordinal);
        Assert.DoesNotContain("main.asm", none?.ToJsonString() ?? "", StringComparison.Ordinal);
        desk.Write("main.asm", "count equ 5\n include part.inc\n end\n");
        desk.Session.Client.Notify(
            "workspace/didChangeWatchedFiles",
            new JsonObject
            {
                ["changes"] = new JsonArray(new JsonObject { ["uri"] = desk.UriOf("main.asm"), ["type"] = 1 }),
            }
        );
        JsonNode? definition = await desk.AtAsync("textDocument/definition", "part.inc", 0, 8);
        Assert.Contains("main.asm", definition!.ToJsonString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Hover_on_a_configuration_line_covers_the_place_that_was_asked_about()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Clean);
        JsonNode operation = (await desk.AtAsync("textDocument/hover", "main.asm", 1, 3))!;
        Assert.Equal(
            """{"start":{"line":1,"character":1},"end":{"line":1,"character":9}}""",
            operation["range"]!.ToJsonString()
        );
        JsonNode operand = (await desk.AtAsync("textDocument/hover", "main.asm", 1, 12))!;
        Assert.Equal(
            """{"start":{"line":1,"character":10},"end":{"line":1,"character":16}}""",
            operand["range"]!.ToJsonString()
        );
    }

    [Fact]
    public async Task Call_hierarchy_is_not_prepared_on_an_instruction()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Clean);
        Assert.Empty((await desk.AtAsync("textDocument/prepareCallHierarchy", "main.asm", 4, 3))!.AsArray());
        Assert.Single((await desk.AtAsync("textDocument/prepareCallHierarchy", "main.asm", 4, 8))!.AsArray());
    }

    [Theory]
    [InlineData(0, 0, 0, 3)]
    [InlineData(3, 0, 4, 4)]
    [InlineData(4, 2, 4, 2)]
    [InlineData(0, 0, 9, 0)]
    public async Task Inlay_hints_lie_inside_the_range_that_was_asked_for(int line, int character, int endLine, int end)
    {
        await using Desk desk = await Desk.StartAsync(settings: JsonNode.Parse("""{"inlayHints":{"words":true}}"""));
        desk.Open("main.asm", Clean);
        var range = new JsonObject
        {
            ["start"] = new JsonObject { ["line"] = line, ["character"] = character },
            ["end"] = new JsonObject { ["line"] = endLine, ["character"] = end },
        };
        JsonArray hints = (
            await desk.OfAsync("textDocument/inlayHint", "main.asm", new() { ["range"] = range })
        )!.AsArray();
        Assert.Equal(endLine == 9, hints.Count > 1);
        foreach (JsonNode? hint in hints)
        {
            (int, int) at = ((int)hint!["position"]!["line"]!, (int)hint["position"]!["character"]!);
            Assert.InRange(at, (line, character), (endLine, end));
        }
    }

    [Fact]
    public async Task Formatting_with_blanks_leaves_no_tab_between_the_parts_of_a_line()
    {
        await using Desk desk = await Desk.StartAsync();
        const string tabbed =
            "start\tmovlw\t5\t; five\tof them\n\tmovwf\t20\n\t; by itself\nx\tequ\t5\n\tdt\t\"a\tb\"\n\tcblock\t20\n\ta,\tb\n\tendc\n\tend\n";
        desk.Open("main.asm", tabbed);
        foreach (bool blanks in (bool[])[true, false])
        {
            JsonArray edits = (
                await desk.OfAsync(
                    "textDocument/formatting",
                    "main.asm",
                    new()
                    {
                        ["options"] = new JsonObject { ["tabSize"] = 8, ["insertSpaces"] = blanks },
                    }
                )
            )!.AsArray();
            string[] lines = Features.ActionTests.Apply(tabbed, edits).Split('\n');
            string tabs = string.Concat(lines.Select(l => l.Count(c => c == '\t')));
            if (blanks)
            {
                // What is left is in a comment and in a text.
                Assert.Equal("1000100000", tabs);
            }
            else
            {
                Assert.StartsWith("\tmovwf\t20", lines[1], StringComparison.Ordinal);
            }
        }
    }

    private static WorkspaceSnapshot With(string uri, int version, string text)
    {
        OpenDocument document = OpenDocument.Of(DocumentUri.Parse(uri), "asm", version, text);
        return WorkspaceSnapshot.Empty with
        {
            Number = version,
            Documents = WorkspaceSnapshot.Empty.Documents.Add(document.Uri, document),
        };
    }

    private static string SlowProgram()
    {
        string sum = "j set " + string.Join('+', Enumerable.Repeat("i", 60)) + "\n";
        string loop = "i set 0\n while i < 4000\n" + string.Concat(Enumerable.Repeat(sum, 4)) + "i set i+1\n endw\n";
        return string.Concat(Enumerable.Repeat(loop, 35)) + " nop\n end\n";
    }
}
