using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>The text that the server holds, after what clients do to it.</summary>
public sealed class DocumentTests
{
    private const string Uri = "file:///bench/main.asm";

    [Theory]
    [InlineData("file:///c%3A/pic/main.asm", "file:///C:/pic/main.asm")]
    [InlineData("file:///home/a%20b/m%C3%BC.asm", "file:///home/a b/mü.asm")]
    [InlineData("FILE:///home/x.asm", "file:///home/x.asm")]
    [InlineData("file://localhost/home/x.asm", "file:///home/x.asm")]
    [InlineData("untitled:Untitled-1", "untitled:Untitled-1")]
    [InlineData("memfs:/a%20b.asm", "memfs:/a%20b.asm")]
    public async Task Same_document_in_another_spelling_is_the_same(string opened, string asked)
    {
        await using Session session = await StartAsync();
        session.Open(opened, "text");
        Assert.Equal("1:text", await session.TextAsync(asked));
    }

    [Theory]
    [InlineData("file:///a.asm", "file:///b.asm")]
    [InlineData("memfs:/a%20b.asm", "memfs:/a b.asm")]
    [InlineData("untitled:1", "file:///1")]
    public async Task Different_documents_stay_apart(string opened, string asked)
    {
        await using Session session = await StartAsync();
        session.Open(opened, "text");
        Assert.Null(await session.Client.RequestAsync("textDocument/hover", ProbeFeatures.At(asked)));
    }

    [Fact]
    public async Task Changes_of_one_notification_build_on_each_other()
    {
        await using Session session = await StartAsync();
        session.Open(Uri, "one\r\ntwo\r\n");
        session.Change(
            Uri,
            2,
            Session.Edit(1, 0, 1, 3, "2"),
            Session.Edit(0, 0, 1, 0, ""),
            Session.Edit(0, 1, 0, 1, "!")
        );
        Assert.Equal("2:2!\r\n", await session.TextAsync(Uri));
    }

    [Fact]
    public async Task Whole_text_and_part_may_come_together()
    {
        await using Session session = await StartAsync();
        session.Open(Uri, "old");
        session.Change(Uri, 2, Session.Whole("abc"), Session.Edit(0, 1, 0, 2, "-"));
        Assert.Equal("2:a-c", await session.TextAsync(Uri));
    }

    [Theory]
    [InlineData(0, 99, 0, 99, "ab+\ncd")]
    [InlineData(99, 0, 99, 5, "ab\ncd+")]
    [InlineData(0, 4294967295, 0, 4294967295, "ab+\ncd")]
    [InlineData(4294967295, 4294967295, 4294967295, 4294967295, "ab\ncd+")]
    [InlineData(-3, -1, -3, -1, "+ab\ncd")]
    [InlineData(1, 1, 0, 1, "a+d")]
    public async Task Position_outside_the_text_is_moved_inside(
        long line,
        long character,
        long endLine,
        long endCharacter,
        string expected
    )
    {
        await using Session session = await StartAsync();
        session.Open(Uri, "ab\ncd");
        JsonObject change = Session.Edit(line, character, endLine, endCharacter, "+");
        // Sent outside the record: no good client sends such numbers.
        session.Client.SendContent(
            new JsonObject
            {
                ["jsonrpc"] = "2.0",
                ["method"] = "textDocument/didChange",
                ["params"] = new JsonObject
                {
                    ["textDocument"] = new JsonObject { ["uri"] = Uri, ["version"] = 2 },
                    ["contentChanges"] = new JsonArray(change),
                },
            }.ToJsonString()
        );
        Assert.Equal("2:" + expected, await session.TextAsync(Uri));
    }

    /// <summary>The 'a𐐀b' of the specification: the character after the astral one is at 3, 5 or 2.</summary>
    [Theory]
    [InlineData("""["utf-16"]""", 3)]
    [InlineData("""["utf-8","utf-16"]""", 5)]
    [InlineData("""["utf-32","utf-8","utf-16"]""", 2)]
    [InlineData("""["latin-1","utf-32"]""", 2)]
    [InlineData("[]", 3)]
    [InlineData("null", 3)]
    [InlineData("\"utf-8\"", 3)]
    public async Task First_known_position_encoding_counts_the_columns(string offered, int column)
    {
        await using Session session = Session.Raw(ProbeFeatures.WithText);
        session.Client.SendContent(
            """{"jsonrpc":"2.0","id":"i","method":"initialize","params":{"capabilities":{"general":{"positionEncodings":OFFERED}}}}""".Replace(
                "OFFERED",
                offered,
                StringComparison.Ordinal
            )
        );
        await session.Client.Stray.ReadAsync();
        session.Open(Uri, "a𐐀b");
        session.Change(Uri, 2, Session.Edit(0, column, 0, column + 1, "X"));
        Assert.Equal("2:a𐐀X", await session.TextAsync(Uri));
    }

    [Fact]
    public async Task Version_that_goes_back_is_reported_once_and_the_text_still_counts()
    {
        await using Session session = await StartAsync();
        session.Open(Uri, "a", version: 5);
        session.Change(Uri, 4, Session.Whole("b"));
        session.Change(Uri, 3, Session.Whole("c"));
        Assert.Equal("3:c", await session.TextAsync(Uri));
        Assert.Single(session.Log.Split("versions are expected to go up")[1..]);
    }

    [Fact]
    public async Task Change_and_close_of_a_document_that_is_not_open_are_left_out()
    {
        await using Session session = await StartAsync();
        session.Change(Uri, 2, Session.Whole("b"));
        session.Close(Uri);
        Assert.Null(await session.Client.RequestAsync("textDocument/hover", ProbeFeatures.At(Uri)));
        session.Open(Uri, "a");
        session.Close(Uri);
        Assert.Null(await session.Client.RequestAsync("textDocument/hover", ProbeFeatures.At(Uri)));
        Assert.Contains("without being open", session.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Second_open_replaces_the_text()
    {
        await using Session session = await StartAsync();
        session.Open(Uri, "first", version: 7);
        session.Open(Uri, "second", version: 1);
        Assert.Equal("1:second", await session.TextAsync(Uri));
    }

    [Fact]
    public async Task Any_language_id_is_taken()
    {
        await using Session session = await StartAsync();
        session.Open(Uri, "x", language: "relist-server");
        Assert.Equal("1:x", await session.TextAsync(Uri));
    }

    private static Task<Session> StartAsync([System.Runtime.CompilerServices.CallerMemberName] string name = "") =>
        Session.StartAsync(features: ProbeFeatures.WithText, name: name);
}
