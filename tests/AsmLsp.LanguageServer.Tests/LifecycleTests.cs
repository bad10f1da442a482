using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>Order of a session; the codes are those of LSP 3.17, section 'Lifecycle Messages' and 'ErrorCodes'.</summary>
public sealed class LifecycleTests
{
    [Fact]
    public async Task Initialize_names_the_server_and_its_version()
    {
        await using Session session = await Session.StartAsync();
        Assert.Equal("relist", (string)session.Offer!["serverInfo"]!["name"]!);
        Assert.Matches(@"^\d+\.\d+\.\d+$", (string)session.Offer["serverInfo"]!["version"]!);
    }

    [Fact]
    public async Task Request_before_initialize_is_refused_with_32002()
    {
        await using Session session = Session.Raw();
        Assert.Equal(
            -32002,
            await session.Client.ErrorOfAsync("textDocument/hover", ProbeFeatures.At("file:///a.asm"))
        );
        Assert.Equal(-32002, await session.Client.ErrorOfAsync("shutdown", null));
    }

    [Fact]
    public async Task Notification_before_initialize_is_dropped()
    {
        await using Session session = Session.Raw(ProbeFeatures.WithText);
        session.Open("file:///a.asm", "early");
        await session.Client.RequestAsync("initialize", Session.Initialize());
        Assert.Null(await session.Client.RequestAsync("textDocument/hover", ProbeFeatures.At("file:///a.asm")));
    }

    [Fact]
    public async Task Second_initialize_is_refused()
    {
        await using Session session = await Session.StartAsync();
        Assert.Equal(-32600, await session.Client.ErrorOfAsync("initialize", Session.Initialize()));
    }

    [Fact]
    public async Task Initialize_with_unusable_parameters_may_be_tried_again()
    {
        await using Session session = Session.Raw();
        session.Client.SendContent(
            """{"jsonrpc":"2.0","id":"first","method":"initialize","params":{"workspaceFolders":5}}"""
        );
        JsonObject refusal = await session.Client.Stray.ReadAsync();
        Assert.Equal(-32602, (int)refusal["error"]!["code"]!);
        Assert.NotNull(await session.Client.RequestAsync("initialize", Session.Initialize()));
    }

    [Fact]
    public async Task Request_after_shutdown_is_refused_with_32600()
    {
        await using Session session = await Session.StartAsync();
        Assert.Null(await session.Client.RequestAsync("shutdown", null));
        Assert.Equal(
            -32600,
            await session.Client.ErrorOfAsync("textDocument/hover", ProbeFeatures.At("file:///a.asm"))
        );
        Assert.Equal(-32600, await session.Client.ErrorOfAsync("shutdown", null));
    }

    [Theory]
    [InlineData("""{"jsonrpc":"2.0","id":"s","method":"shutdown"}""")]
    [InlineData("""{"jsonrpc":"2.0","id":"s","method":"shutdown","params":null}""")]
    [InlineData("""{"jsonrpc":"2.0","id":"s","method":"shutdown","params":{}}""")]
    [InlineData("""{"jsonrpc":"2.0","id":"s","method":"shutdown","params":[]}""")]
    public async Task Shutdown_is_taken_in_every_form_that_clients_send(string message)
    {
        await using Session session = await Session.StartAsync();
        session.Client.SendContent(message);
        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.True(reply.ContainsKey("result"));
        Assert.Null(reply["result"]);
    }

    [Fact]
    public async Task Exit_after_shutdown_ends_with_0()
    {
        await using Session session = await Session.StartAsync();
        await session.Client.RequestAsync("shutdown", null);
        session.Client.Notify("exit", null);
        Assert.Equal(0, await session.Running.WaitAsync(TestClient.Deadline));
    }

    [Fact]
    public async Task Exit_without_shutdown_ends_with_1()
    {
        await using Session session = await Session.StartAsync();
        session.Client.Notify("exit", null);
        Assert.Equal(1, await session.Running.WaitAsync(TestClient.Deadline));
    }

    [Fact]
    public async Task Exit_before_initialize_ends_with_1()
    {
        await using Session session = Session.Raw();
        session.Client.Notify("exit", null);
        Assert.Equal(1, await session.Running.WaitAsync(TestClient.Deadline));
    }

    [Fact]
    public async Task Client_that_vanishes_ends_the_session_with_1()
    {
        Session session = await Session.StartAsync();
        await session.Client.DisposeAsync();
        Assert.Equal(1, await session.Running.WaitAsync(TestClient.Deadline));
    }

    [Fact]
    public async Task Initialized_without_parameters_is_taken()
    {
        var asked = new TaskCompletionSource();
        await using Session session = Session.Raw();
        session.Client.Answer = (method, _) =>
        {
            asked.TrySetResult();
            return method == "workspace/configuration" ? new JsonArray(new JsonObject()) : null;
        };
        await session.Client.RequestAsync("initialize", Session.Initialize("""{"workspace":{"configuration":true}}"""));
        session.Client.SendContent("""{"jsonrpc":"2.0","method":"initialized"}""");
        await asked.Task.WaitAsync(TestClient.Deadline);
    }

    [Fact]
    public async Task Unknown_request_is_answered_with_32601_and_unknown_notification_with_nothing()
    {
        await using Session session = await Session.StartAsync();
        session.Client.SendContent("""{"jsonrpc":"2.0","method":"$/unheardOf","params":{}}""");
        session.Client.SendContent("""{"jsonrpc":"2.0","id":"u","method":"textDocument/unheardOf","params":{}}""");
        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.Equal("u", (string)reply["id"]!);
        Assert.Equal(-32601, (int)reply["error"]!["code"]!);
    }

    [Fact]
    public async Task Parameters_that_are_not_understood_are_answered_with_32602()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendContent(
            """{"jsonrpc":"2.0","id":"u","method":"textDocument/hover","params":{"textDocument":{"uri":"file:///a.asm"}}}"""
        );
        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.Equal(-32602, (int)reply["error"]!["code"]!);
    }
}
