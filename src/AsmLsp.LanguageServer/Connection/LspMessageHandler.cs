using System.Buffers;
using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using System.Text.Json;
using AsmLsp.Core.Repairs;
using AsmLsp.LanguageServer.Protocol;
using StreamJsonRpc;
using StreamJsonRpc.Protocol;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// The gate between the wire and the JSON-RPC library, which closes the connection on anything it can't read.
/// Here, what is no message is answered with -32700 or -32600 and passed over; the session's lifecycle is held; answers that nobody waits for are dropped.
/// </summary>
internal sealed class LspMessageHandler : MessageHandlerBase
{
    /// <summary>How long the end of a session waits for answers under way.</summary>
    private static readonly TimeSpan Farewell = TimeSpan.FromSeconds(2);

    /// <summary>How long a client may read nothing of what is ready for it, with so much waiting that it is not read either.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    /// <summary>The most bytes that wait for the client, and that are read ahead meanwhile; the most requests under way.</summary>
    private const int MostWaiting = 32 * 1024 * 1024,
        MostAhead = 16 * 1024 * 1024,
        MostUnderWay = 256;

    private readonly Inbox inbox;
    private readonly Outbox outbox;
    private readonly Lifecycle lifecycle;
    private readonly ServerLog log;
    private readonly ArrayBufferWriter<byte> outgoing = new();
    private readonly ConcurrentDictionary<RequestId, byte> asked = new();
    private readonly ConcurrentDictionary<RequestId, byte> unanswered = new();
    private RequestId initializing = RequestId.NotSpecified;
    private int reportedBytes;

    public LspMessageHandler(
        Stream input,
        Stream output,
        IJsonRpcMessageFormatter formatter,
        Lifecycle lifecycle,
        ServerLog log,
        Func<bool>? hasHungUp = null
    )
        : base(formatter)
    {
        this.lifecycle = lifecycle;
        this.log = log;
        outbox = new Outbox(output, MostWaiting);
        inbox = new Inbox(
            new FrameReader(input),
            () => !outbox.IsFull && unanswered.Count < MostUnderWay,
            IsExit,
            MostAhead
        )
        {
            HasHungUp = hasHungUp,
            GiveUp = IsGivenUp,
        };
    }

    public override bool CanRead => true;

    public override bool CanWrite => true;

    /// <summary>The next message that the library is to see; null ends the session.</summary>
    protected override async ValueTask<JsonRpcMessage?> ReadCoreAsync(CancellationToken cancellationToken)
    {
        while (!lifecycle.HasExited)
        {
            Frame frame = await inbox.ReadAsync(cancellationToken).ConfigureAwait(false);
            if (frame.IsEnd)
            {
                break;
            }

            JsonRpcMessage? message = frame.Content is { } content
                ? await ParseAsync(content, cancellationToken).ConfigureAwait(false)
                : await RefuseBytesAsync(frame.Fault!, cancellationToken).ConfigureAwait(false);
            if (message is not null && await AdmitAsync(message, cancellationToken).ConfigureAwait(false))
            {
                return message;
            }
        }

        EndEarly();
        await WaitForAnswersAsync(cancellationToken).ConfigureAwait(false);
        await outbox.FinishAsync(Farewell).ConfigureAwait(false);
        return null;
    }

    protected override ValueTask WriteCoreAsync(JsonRpcMessage content, CancellationToken cancellationToken)
    {
        if (content is RawMessage raw)
        {
            WriteFrame(raw.Content.Span);
            return default;
        }

        outgoing.ResetWrittenCount();
        if (
            content is JsonRpcRequest
            {
                IsResponseExpected: true,
                Arguments: null or IReadOnlyList<object?> { Count: 0 },
                Method: { } method
            } bare
        )
        {
            // The library would send an empty list, which is wrong for a method without parameters.
            WriteBare(outgoing, bare.RequestId, json => json.WriteString("method"u8, method));
        }
        else
        {
            Formatter.Serialize(outgoing, content);
        }

        if (content is JsonRpcRequest { IsResponseExpected: true } request)
        {
            asked.TryAdd(request.RequestId, 0);
        }

        WriteFrame(outgoing.WrittenSpan);
        switch (content)
        {
            case JsonRpcResult result:
                unanswered.TryRemove(result.RequestId, out _);
                break;
            case JsonRpcError error:
                unanswered.TryRemove(error.RequestId, out _);
                if (error.RequestId == initializing)
                {
                    lifecycle.InitializeFailed();
                }

                break;
        }

        return default;
    }

    // The outbox does it when it has nothing more to write.
    protected override ValueTask FlushAsync(CancellationToken cancellationToken) => default;

    private async ValueTask<JsonRpcMessage?> ParseAsync(byte[] content, CancellationToken cancellation)
    {
        try
        {
            // What is no text in UTF-8 makes the library fail late, and end the session.
            if (!System.Text.Unicode.Utf8.IsValid(content))
                content = Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(content));
            Host.JsonEscapes.ReplaceLoneSurrogates(content);
            return Formatter.Deserialize(new ReadOnlySequence<byte>(content));
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            // The library says unreadable JSON and unusable messages by many exception types: all mean the same here.
            (int code, string text, RequestId id) = Diagnose(content);
            log.Warn(text);
            await ReplyAsync(id, code, text, cancellation).ConfigureAwait(false);
            return null;
        }
    }

    private async ValueTask<JsonRpcMessage?> RefuseBytesAsync(string fault, CancellationToken cancellation)
    {
        log.Warn(fault);
        const int mostAnswers = 100;
        if (reportedBytes < mostAnswers)
        {
            // Not for ever: a stream of stray lines must not be answered line by line.
            reportedBytes++;
            await ReplyAsync(RequestId.Null, ErrorCodes.ParseError, fault, cancellation).ConfigureAwait(false);
        }

        return null;
    }

    private static (int Code, string Text, RequestId Id) Diagnose(byte[] content)
    {
        try
        {
            using var document = JsonDocument.Parse(content);
            JsonElement root = document.RootElement;
            if (root.ValueKind == JsonValueKind.Array)
            {
                return (
                    ErrorCodes.InvalidRequest,
                    "Several messages in one (a batch) are not part of the language server protocol.",
                    RequestId.Null
                );
            }

            RequestId id = RequestId.Null;
            if (root.ValueKind == JsonValueKind.Object && root.TryGetProperty("id", out JsonElement given))
            {
                id = given.ValueKind switch
                {
                    JsonValueKind.Number when given.TryGetInt64(out long number) => new RequestId(number),
                    JsonValueKind.String => new RequestId(given.GetString()),
                    _ => RequestId.Null,
                };
            }

            return (
                ErrorCodes.InvalidRequest,
                "A message that is neither request, notification nor answer was passed over.",
                id
            );
        }
        catch (Exception fault) when (fault is JsonException or InvalidOperationException)
        {
            return (ErrorCodes.ParseError, "A message that is not readable as JSON was passed over.", RequestId.Null);
        }
    }

    private async ValueTask<bool> AdmitAsync(JsonRpcMessage message, CancellationToken cancellation)
    {
        switch (message)
        {
            case JsonRpcRequest request:
                if (request.Method is not { Length: > 0 } method)
                {
                    await ReplyAsync(
                            request.IsResponseExpected ? request.RequestId : RequestId.Null,
                            ErrorCodes.InvalidRequest,
                            "A message without a method was passed over.",
                            cancellation
                        )
                        .ConfigureAwait(false);
                    return false;
                }

                return await AdmitAsync(request, method, cancellation).ConfigureAwait(false);
            case JsonRpcResult result:
                return asked.TryRemove(result.RequestId, out _);
            case JsonRpcError error:
                return asked.TryRemove(error.RequestId, out _);
            default:
                return false;
        }
    }

    private async ValueTask<bool> AdmitAsync(JsonRpcRequest request, string method, CancellationToken cancellation)
    {
        log.Note(method);
        bool isRequest = request.IsResponseExpected;
        if (lifecycle.Admit(method, isRequest) is { } refusal)
        {
            if (isRequest)
            {
                await ReplyAsync(request.RequestId, refusal.ErrorCode, refusal.Message, cancellation)
                    .ConfigureAwait(false);
            }

            return false;
        }

        if (method == Methods.Exit)
        {
            return false;
        }

        if (method == Methods.Shutdown && isRequest)
        {
            // Answered here, since clients send it with null, nothing or an empty object as parameters.
            await WriteAsync(new JsonRpcResult { RequestId = request.RequestId, Result = null }, cancellation)
                .ConfigureAwait(false);
            return false;
        }

        if (isRequest)
        {
            if (method == Methods.Initialize)
            {
                initializing = request.RequestId;
            }

            unanswered.TryAdd(request.RequestId, 0);
        }

        return true;
    }

    private async ValueTask ReplyAsync(RequestId id, int code, string text, CancellationToken cancellation)
    {
        // Written by hand: the library leaves out an id of null, which the protocol wants to see.
        var content = new ArrayBufferWriter<byte>();
        WriteBare(
            content,
            id,
            json =>
            {
                json.WriteStartObject("error"u8);
                json.WriteNumber("code"u8, code);
                json.WriteString("message"u8, text);
                json.WriteEndObject();
            }
        );
        await WriteAsync(new RawMessage(content.WrittenMemory), cancellation).ConfigureAwait(false);
    }

    private static void WriteBare(ArrayBufferWriter<byte> content, RequestId id, Action<Utf8JsonWriter> rest)
    {
        using var json = new Utf8JsonWriter(content);
        json.WriteStartObject();
        json.WriteString("jsonrpc"u8, "2.0"u8);
        if (id.Number is { } number)
        {
            json.WriteNumber("id"u8, number);
        }
        else if (id.String is { } name)
        {
            json.WriteString("id"u8, name);
        }
        else
        {
            json.WriteNull("id"u8);
        }

        rest(json);
        json.WriteEndObject();
    }

    private void WriteFrame(ReadOnlySpan<byte> content)
    {
        byte[] header = Encoding.ASCII.GetBytes(
            string.Create(CultureInfo.InvariantCulture, $"Content-Length: {content.Length}\r\n\r\n")
        );
        byte[] frame = new byte[header.Length + content.Length];
        header.CopyTo(frame, 0);
        content.CopyTo(frame.AsSpan(header.Length));
        outbox.Post(frame);
    }

    private bool IsGivenUp()
    {
        if (!outbox.IsFull || outbox.Stalled < Patience)
            return false;
        log.Warn("the client has not read for a minute what is ready for it, so the session ends.");
        return true;
    }

    private bool IsExit(byte[] content) =>
        content.AsSpan().IndexOf("\"exit\""u8) >= 0 && Peek(content) is { Method: Methods.Exit };

    private JsonRpcRequest? Peek(byte[] content)
    {
        try
        {
            return Formatter.Deserialize(new ReadOnlySequence<byte>(content)) as JsonRpcRequest;
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            return null;
        }
    }

    // Where answers cannot be delivered any more, what was read ahead still says whether the end was in order.
    private void EndEarly()
    {
        foreach (Frame frame in inbox.Left)
        {
            if (
                frame.Content is { } content
                && (content.AsSpan().IndexOf("\"exit\""u8) >= 0 || content.AsSpan().IndexOf("\"shutdown\""u8) >= 0)
                && Peek(content) is { Method: Methods.Exit or Methods.Shutdown } request
            )
                lifecycle.Admit(request.Method, request.IsResponseExpected);
        }
    }

    private async ValueTask WaitForAnswersAsync(CancellationToken cancellation)
    {
        long deadline = Environment.TickCount64 + (long)Farewell.TotalMilliseconds;
        while (!unanswered.IsEmpty && Environment.TickCount64 < deadline)
        {
            await Task.Delay(2, cancellation).ConfigureAwait(false);
        }
    }

    private sealed class RawMessage(ReadOnlyMemory<byte> content) : JsonRpcMessage
    {
        public ReadOnlyMemory<byte> Content { get; } = content;
    }
}
