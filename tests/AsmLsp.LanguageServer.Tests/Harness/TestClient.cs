using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Threading.Channels;

namespace AsmLsp.LanguageServer.Tests.Harness;

/// <summary>
/// A client of the tests' own, written against the text of LSP 3.17 and not against the library under test. Every well-formed message in both
/// directions is written to a file; tests/conformance checks them against the published types.
/// </summary>
internal sealed class TestClient : IAsyncDisposable
{
    public static readonly TimeSpan Deadline = TimeSpan.FromSeconds(20);

    private readonly Stream stream;
    private readonly Stream input;
    private readonly MessageRecorder recorder;
    private readonly ConcurrentDictionary<string, TaskCompletionSource<JsonObject>> waiting = new();
    private readonly Channel<JsonObject> received = Channel.CreateUnbounded<JsonObject>();
    private readonly SemaphoreSlim sending = new(1);
    private readonly Task reading;
    private int nextId;

    public TestClient(Stream input, Stream output, string name)
    {
        this.input = input;
        stream = output;
        recorder = new MessageRecorder(name);
        reading = Task.Run(ReadAsync);
    }

    /// <summary>Answers requests of the server: method and parameters to result. The default refuses.</summary>
    public Func<string, JsonNode?, JsonNode?>? Answer { get; set; }

    /// <summary>Off where a test answers as no good client does.</summary>
    public bool RecordsAnswers { get; set; } = true;

    /// <summary>Requests and notifications that the server sent, in order.</summary>
    public ConcurrentQueue<JsonObject> FromServer { get; } = new();

    /// <summary>Everything that came and belongs to no request of ours: errors with a null id above all.</summary>
    public ChannelReader<JsonObject> Stray => received.Reader;

    /// <summary>Ends when the server closes its side.</summary>
    public Task Ended => reading;

    /// <summary>Sends a request; the id is given back for cancelling.</summary>
    public (JsonNode Id, Task<JsonObject> Reply) Ask(
        string method,
        JsonNode? parameters,
        JsonNode? id = null,
        bool record = true
    )
    {
        id ??= JsonValue.Create(Interlocked.Increment(ref nextId));
        var message = new JsonObject
        {
            ["jsonrpc"] = "2.0",
            ["id"] = id.DeepClone(),
            ["method"] = method,
        };
        if (parameters is not null)
        {
            message["params"] = parameters.DeepClone();
        }

        var reply = new TaskCompletionSource<JsonObject>(TaskCreationOptions.RunContinuationsAsynchronously);
        waiting[id.ToJsonString()] = reply;
        Send(message, record);
        return (id, reply.Task.WaitAsync(Deadline));
    }

    /// <summary>The result of a request; an error fails the test with its message.</summary>
    public async Task<JsonNode?> RequestAsync(string method, JsonNode? parameters)
    {
        JsonObject reply = await Ask(method, parameters).Reply;
        return reply["error"] is { } error
            ? throw new InvalidOperationException($"{method}: {error.ToJsonString()}")
            : reply["result"];
    }

    /// <summary>The error code of a request that must fail.</summary>
    public async Task<int> ErrorOfAsync(string method, JsonNode? parameters)
    {
        JsonObject reply = await Ask(method, parameters).Reply;
        return (int?)reply["error"]?["code"]
            ?? throw new InvalidOperationException($"{method} did not fail: {reply.ToJsonString()}");
    }

    public void Notify(string method, JsonNode? parameters)
    {
        var message = new JsonObject { ["jsonrpc"] = "2.0", ["method"] = method };
        if (parameters is not null)
        {
            message["params"] = parameters.DeepClone();
        }

        Send(message);
    }

    /// <summary>Sends bytes as they are: for what no good client sends.</summary>
    public void SendBytes(byte[] bytes)
    {
        sending.Wait();
        try
        {
            stream.Write(bytes);
            stream.Flush();
        }
        finally
        {
            sending.Release();
        }
    }

    /// <summary>Sends a content that is not to be recorded as a message.</summary>
    public void SendContent(string content) => SendBytes(Frame(Encoding.UTF8.GetBytes(content)));

    /// <summary>Waits until the server has sent a message that fits.</summary>
    public async Task<JsonObject> WaitForAsync(string method, Func<JsonNode, bool>? fits = null)
    {
        using var limit = new CancellationTokenSource(Deadline);
        while (true)
        {
            foreach (JsonObject message in FromServer)
            {
                if ((string?)message["method"] == method && (fits is null || fits(message["params"]!)))
                {
                    return message;
                }
            }

            if (limit.IsCancellationRequested)
            {
                string seen = string.Join("\n", FromServer.Select(message => message.ToJsonString()));
                throw new TimeoutException($"No {method} came; the server sent:\n{seen}");
            }

            await Task.Delay(2);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await stream.DisposeAsync();
        await input.DisposeAsync();
        recorder.Dispose();
    }

    public static byte[] Frame(byte[] content) =>
        [
            .. Encoding.ASCII.GetBytes(
                string.Create(CultureInfo.InvariantCulture, $"Content-Length: {content.Length}\r\n\r\n")
            ),
            .. content,
        ];

    private void Send(JsonObject message, bool record = true)
    {
        if (record)
        {
            recorder.Write("client", message);
        }

        SendBytes(Frame(JsonSerializer.SerializeToUtf8Bytes(message)));
    }

    private async Task ReadAsync()
    {
        try
        {
            while (await ReadFrameAsync() is { } content)
            {
                Take(JsonNode.Parse(content)!.AsObject());
            }
        }
        finally
        {
            received.Writer.TryComplete();
            foreach (TaskCompletionSource<JsonObject> reply in waiting.Values)
            {
                reply.TrySetException(new IOException("The server closed the connection."));
            }
        }
    }

    private void Take(JsonObject message)
    {
        recorder.Write("server", message);
        if (message.ContainsKey("method"))
        {
            FromServer.Enqueue(message);
            if (message["id"] is { } id)
            {
                string method = (string)message["method"]!;
                var reply = new JsonObject { ["jsonrpc"] = "2.0", ["id"] = id.DeepClone() };
                if (Answer is { } answer)
                {
                    reply["result"] = answer(method, message["params"]);
                }
                else
                {
                    reply["error"] = new JsonObject
                    {
                        ["code"] = -32601,
                        ["message"] = method + " is not answered by this test",
                    };
                }

                Send(reply, RecordsAnswers);
            }
        }
        else if (
            message["id"] is { } id
            && waiting.TryRemove(id.ToJsonString(), out TaskCompletionSource<JsonObject>? reply)
        )
        {
            reply.TrySetResult(message);
        }
        else
        {
            received.Writer.TryWrite(message);
        }
    }

    private async Task<byte[]?> ReadFrameAsync()
    {
        int length = -1;
        while (true)
        {
            string? line = await ReadLineAsync();
            if (line is null)
            {
                return null;
            }

            if (line.Length == 0)
            {
                break;
            }

            if (line.StartsWith("Content-Length: ", StringComparison.Ordinal))
            {
                length = int.Parse(line["Content-Length: ".Length..], CultureInfo.InvariantCulture);
            }
            else
            {
                throw new InvalidDataException("The server wrote something that is no message: " + line);
            }
        }

        byte[] content = new byte[length];
        await input.ReadExactlyAsync(content);
        return content;
    }

    private async Task<string?> ReadLineAsync()
    {
        var line = new StringBuilder();
        byte[] one = new byte[1];
        while (await input.ReadAsync(one) == 1)
        {
            if (one[0] == '\n')
            {
                return line.ToString().TrimEnd('\r');
            }

            line.Append((char)one[0]);
        }

        return line.Length == 0 ? null : throw new EndOfStreamException("The server stopped inside a header.");
    }
}
