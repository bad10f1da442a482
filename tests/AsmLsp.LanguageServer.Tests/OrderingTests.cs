using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>Notifications take effect in the order of their arrival; a request sees exactly what came before it.</summary>
public sealed class OrderingTests
{
    private const string Uri = "file:///order.asm";

    [Fact]
    public async Task Twenty_thousand_changes_take_effect_in_order()
    {
        const int Changes = 20_000;
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Open(Uri, "");
        // Each digit goes to the end of what is there: any inversion shows in the text.
        for (int i = 0; i < Changes; i++)
        {
            session.Change(
                Uri,
                i + 2,
                Session.Edit(0, i, 0, i, (i % 10).ToString(System.Globalization.CultureInfo.InvariantCulture))
            );
        }

        string expected = string.Concat(Enumerable.Repeat("0123456789", Changes / 10));
        Assert.Equal($"{Changes + 1}:{expected}", await session.TextAsync(Uri));
        Assert.DoesNotContain("fault", session.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Request_between_changes_sees_the_text_of_its_arrival()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Open(Uri, "0");
        var replies = new List<Task<JsonObject>>();
        for (int i = 1; i <= 500; i++)
        {
            session.Change(Uri, i + 1, Session.Whole($"{i}"));
            replies.Add(session.Client.Ask("textDocument/hover", ProbeFeatures.At(Uri)).Reply);
        }

        JsonObject[] all = await Task.WhenAll(replies);
        for (int i = 1; i <= 500; i++)
        {
            Assert.Equal($"{i + 1}:{i}", (string)all[i - 1]["result"]!["contents"]!);
        }
    }

    [Fact]
    public async Task Slow_request_stops_neither_changes_nor_other_requests()
    {
        using var slow = new SlowCompletion();
        await using Session session = await Session.StartAsync(features: [.. ProbeFeatures.WithText, slow]);
        session.Open(Uri, "before");
        Task<JsonObject> waiting = session.Client.Ask("textDocument/completion", ProbeFeatures.At(Uri)).Reply;
        session.Change(Uri, 2, Session.Whole("after"));
        Assert.Equal("2:after", await session.TextAsync(Uri));
        Assert.False(waiting.IsCompleted);
        slow.Release();
        Assert.Equal("before", (string)(await waiting)["result"]!["items"]![0]!["label"]!);
    }

    [Theory]
    [InlineData("a text")]
    [InlineData(4711)]
    public async Task Cancelled_request_is_answered_with_32800(object id)
    {
        using var slow = new SlowCompletion();
        await using Session session = await Session.StartAsync(features: [.. ProbeFeatures.WithText, slow]);
        JsonNode key = id is int number ? JsonValue.Create(number) : JsonValue.Create((string)id)!;
        Task<JsonObject> waiting = session.Client.Ask("textDocument/completion", ProbeFeatures.At(Uri), key).Reply;
        await slow.Started.WaitAsync(TestClient.Deadline);
        session.Client.Notify("$/cancelRequest", new JsonObject { ["id"] = key.DeepClone() });
        JsonObject reply = await waiting;
        Assert.Equal(-32800, (int)reply["error"]!["code"]!);
    }

    [Fact]
    public async Task Progress_that_a_person_cancels_ends_its_work()
    {
        await using Session session = await Session.StartAsync(
            features: [.. ProbeFeatures.Spine, new EndlessCommand()]
        );
        Task<JsonObject> waiting = session
            .Client.Ask(
                "workspace/executeCommand",
                new JsonObject { ["command"] = "relist.endless", ["workDoneToken"] = "t" }
            )
            .Reply;
        await session.Client.WaitForAsync("$/progress", value => (string?)value["value"]!["kind"] == "begin");
        session.Client.Notify("window/workDoneProgress/cancel", new JsonObject { ["token"] = "t" });
        Assert.Null((await waiting)["result"]);
        await session.Client.WaitForAsync("$/progress", value => (string?)value["value"]!["kind"] == "end");
    }

    [Fact]
    public async Task Cancelling_what_is_not_under_way_is_harmless()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.Notify("$/cancelRequest", new JsonObject { ["id"] = 12345 });
        session.Open(Uri, "x");
        Assert.Equal("1:x", await session.TextAsync(Uri));
    }

    [Fact]
    public async Task Fault_in_a_request_is_answered_with_32603_and_written_down_without_ending_the_session()
    {
        await using Session session = await Session.StartAsync(
            features: [.. ProbeFeatures.WithText, new FaultyFolding()]
        );
        var parameters = new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = Uri } };
        Assert.Equal(-32603, await session.Client.ErrorOfAsync("textDocument/foldingRange", parameters));
        Assert.Contains("a fault on purpose", session.Log, StringComparison.Ordinal);
        session.Open(Uri, "x");
        Assert.Equal("1:x", await session.TextAsync(Uri));
    }

    [Fact]
    public async Task Fault_in_a_notification_is_written_down_without_ending_the_session()
    {
        await using Session session = await Session.StartAsync(
            features: [.. ProbeFeatures.WithText, new FaultyFolding()]
        );
        session.Client.Notify(
            "textDocument/willSave",
            new JsonObject
            {
                ["textDocument"] = new JsonObject { ["uri"] = Uri },
                ["reason"] = 1,
            }
        );
        session.Open(Uri, "x");
        Assert.Equal("1:x", await session.TextAsync(Uri));
        Assert.Contains("a fault on purpose", session.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Answers_under_way_are_given_before_exit_ends_the_session()
    {
        using var slow = new SlowCompletion();
        await using Session session = await Session.StartAsync(features: [.. ProbeFeatures.WithText, slow]);
        Task<JsonObject> waiting = session.Client.Ask("textDocument/completion", ProbeFeatures.At(Uri)).Reply;
        await slow.Started.WaitAsync(TestClient.Deadline);
        await session.Client.RequestAsync("shutdown", null);
        session.Client.Notify("exit", null);
        slow.Release();
        Assert.NotNull((await waiting)["result"]);
        Assert.Equal(0, await session.Running.WaitAsync(TestClient.Deadline));
    }

    /// <summary>A completion that waits until it is let go; its one item is the text it was asked about.</summary>
    private sealed class SlowCompletion : IFeature, IDisposable
    {
        private readonly ManualResetEventSlim gate = new();
        private readonly TaskCompletionSource started = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task Started => started.Task;

        public void Release() => gate.Set();

        public void Dispose() => gate.Dispose();

        public void Register(FeatureRegistry registry) =>
            registry.Request<CompletionParams, CompletionList>(
                CompletionHandler.Method,
                (request, parameters, cancellation) =>
                {
                    started.TrySetResult();
                    gate.Wait(cancellation);
                    return new(
                        false,
                        [new CompletionItem(request.Find(parameters.TextDocument)?.Text.ToString() ?? "none")]
                    );
                }
            );
    }

    /// <summary>A command that runs until its progress is canceled.</summary>
    private sealed class EndlessCommand : IFeature
    {
        public void Register(FeatureRegistry registry) =>
            registry.RequestAsync<ExecuteCommandParams, System.Text.Json.JsonElement?>(
                ExecuteCommandHandler.Method,
                async (request, parameters, cancellation) =>
                {
                    using var progress = await request.Server.Client.BeginProgressAsync(
                        parameters.WorkDoneToken,
                        "Endless",
                        cancellable: true,
                        cancellation
                    );
                    var ended = new TaskCompletionSource();
                    using CancellationTokenRegistration registration = progress!.Cancelled.Register(ended.SetResult);
                    await ended.Task.WaitAsync(TestClient.Deadline, cancellation);
                    return null;
                }
            );
    }

    private sealed class FaultyFolding : IFeature
    {
        public void Register(FeatureRegistry registry)
        {
            registry.Request<TextDocumentParams, FoldingRange[]>(
                FoldingRangeHandler.Method,
                (_, _, _) => throw new InvalidOperationException("a fault on purpose")
            );
            registry.Notification<WillSaveTextDocumentParams>(
                "textDocument/willSave",
                (_, _) => throw new InvalidOperationException("a fault on purpose")
            );
        }
    }
}
