using System.Text;
using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests;

/// <summary>What is no message is answered or passed over; the session continues (JSON-RPC 2.0, section 5.1 for the codes).</summary>
public sealed class FrameTests
{
    private const string Hover =
        """{"jsonrpc":"2.0","id":7,"method":"textDocument/hover","params":{"textDocument":{"uri":"file:///a.asm"},"position":{"line":0,"character":0}}}""";

    [Theory]
    [InlineData("{")]
    [InlineData("")]
    [InlineData("not json")]
    [InlineData("{\"jsonrpc\":\"2.0\",}")]
    public async Task Unreadable_json_is_answered_with_32700(string content) => await RefusedAsync(content, -32700);

    [Theory]
    [InlineData("[]")]
    [InlineData("[" + Hover + "]")]
    [InlineData("""{"jsonrpc":"2.0"}""")]
    [InlineData("""{"jsonrpc":"2.0","method":5,"params":{}}""")]
    [InlineData("""{"jsonrpc":"2.0","id":{},"method":"textDocument/hover"}""")]
    [InlineData("17")]
    [InlineData("null")]
    [InlineData("\"text\"")]
    public async Task Json_that_is_no_message_is_answered_with_32600(string content) =>
        await RefusedAsync(content, -32600);

    [Fact]
    public async Task Deeply_nested_json_does_not_end_the_session() =>
        await RefusedAsync(new string('[', 5000), -32700);

    [Fact]
    public async Task Faulty_message_with_an_id_is_answered_under_that_id()
    {
        await using Session session = await Session.StartAsync();
        session.Client.SendContent("""{"jsonrpc":"2.0","id":41}""");
        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.Equal(41, (int)reply["id"]!);
        Assert.Equal(-32600, (int)reply["error"]!["code"]!);
    }

    [Theory]
    [InlineData("""{"jsonrpc":"2.0","id":999,"result":null}""")]
    [InlineData("""{"jsonrpc":"2.0","id":"unheard","result":{}}""")]
    [InlineData("""{"jsonrpc":"2.0","id":999,"error":{"code":1,"message":"no"}}""")]
    [InlineData("""{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"no"}}""")]
    public async Task Answer_that_nobody_waits_for_is_dropped(string content)
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendContent(content);
        await StillAliveAsync(session);
    }

    [Theory]
    [InlineData("Content-Length: abc\r\n\r\n")]
    [InlineData("Content-Length: -5\r\n\r\n")]
    [InlineData("Content-Length: 1e3\r\n\r\n{}")]
    [InlineData("Content-Length: 0x10\r\n\r\n{}")]
    [InlineData("Content-Length:\r\n\r\n{}")]
    [InlineData("Content-Length: 99999999999999999999\r\n\r\n{}")]
    [InlineData("Content-Length: 2147483648\r\n\r\n{}")]
    [InlineData("Content-Length: 314572800\r\n\r\n{}")]
    [InlineData("Content-Length: 67108865\r\n\r\n{}")]
    [InlineData("Content-Length: 5000\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length: 40\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length: 34\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length: 12\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length: 0\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length: 5\r\nContent-Length: 6\r\n\r\n{}")]
    [InlineData("Content-Length 33\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length=33\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Lenght: 33\r\n\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Length: 33\r\n{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}\n")]
    [InlineData("{\"jsonrpc\":\"2.0\",\"method\":\"$/x\"}")]
    [InlineData("Content-Type: text/plain\r\n\r\n")]
    [InlineData("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")]
    [InlineData("a stray line of a script\n")]
    [InlineData("\0\u0001\u0002\u00ff\u00fe")]
    public async Task Bad_frame_is_answered_and_the_next_message_too(string bytes)
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendBytes(Encoding.Latin1.GetBytes(bytes));
        await StillAliveAsync(session);
        Assert.Contains(-32700, await StrayCodesAsync(session));
    }

    [Fact]
    public async Task Length_beyond_all_bounds_is_answered_at_once()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendBytes("Content-Length: 314572800\r\n\r\n"u8.ToArray());
        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.Equal(-32700, (int)reply["error"]!["code"]!);
        Assert.Contains("64 MB", (string)reply["error"]!["message"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Blank_lines_between_messages_are_no_fault()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendBytes("\r\n\r\n\r\n"u8.ToArray());
        await StillAliveAsync(session);
    }

    [Fact]
    public async Task Random_bytes_before_between_and_within_messages_end_no_session()
    {
        // The same in every run; RELIST_DRAWS=N looks at N times as many, RELIST_DRAWS_FROM at others.
        int times = int.TryParse(Environment.GetEnvironmentVariable("RELIST_DRAWS"), out int n) ? n : 1;
        int from = int.TryParse(Environment.GetEnvironmentVariable("RELIST_DRAWS_FROM"), out int f) ? f : 0;
        for (int seed = from * 100_000; seed < from * 100_000 + 20 * times; seed++)
        {
            var random = new Random(seed);
            await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
            var sent = new List<byte>();
            for (int i = 0; i < 20; i++)
            {
                byte[] bytes = Damaged(random);
                sent.AddRange(bytes);
                session.Client.SendBytes(bytes);
            }

            // A length that swallows what follows is noticed at the header after it, so that a message may be lost to it.
            session.Client.SendContent("{}");
            session.Client.SendContent("{}");
            try
            {
                await StillAliveAsync(session);
            }
            catch (Exception fault)
            {
                throw new InvalidOperationException(
                    $"Case {seed}: {Encoding.Latin1.GetString([.. sent]).Replace("\r\n", "\\r\\n\n", StringComparison.Ordinal)}",
                    fault
                );
            }
        }
    }

    private static byte[] Damaged(Random random)
    {
        byte[] content = Encoding.UTF8.GetBytes(Hover.Replace("\"id\":7", "\"id\":\"odd\"", StringComparison.Ordinal));
        byte[] frame = [.. Encoding.ASCII.GetBytes($"Content-Length: {content.Length}\r\n\r\n"), .. content];
        switch (random.Next(6))
        {
            case 0:
                frame[random.Next(frame.Length)] = (byte)random.Next(256);
                return frame;
            case 1:
                int at = random.Next(frame.Length);
                return [.. frame[..at], .. frame[Math.Min(frame.Length, at + random.Next(20))..]];
            case 2:
                int place = random.Next(frame.Length);
                byte[] more = new byte[random.Next(1, 40)];
                random.NextBytes(more);
                return [.. frame[..place], .. more, .. frame[place..]];
            case 3:
                return
                [
                    .. Encoding.ASCII.GetBytes(
                        $"Content-Length: {random.NextInt64(0, 1L << random.Next(1, 40))}\r\n\r\n"
                    ),
                    .. content,
                ];
            case 4:
                return frame[..random.Next(frame.Length)];
            default:
                return [.. frame, .. frame[..random.Next(30)]];
        }
    }

    private static async Task<List<int>> StrayCodesAsync(Session session)
    {
        var codes = new List<int>();
        while (session.Client.Stray.TryRead(out JsonObject? reply))
            codes.Add((int)reply["error"]!["code"]!);
        await Task.CompletedTask;
        return codes;
    }

    [Fact]
    public async Task Megabyte_without_a_line_end_is_passed_over()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendBytes(Encoding.ASCII.GetBytes(new string('x', 1_000_000) + "\n"));
        await StillAliveAsync(session);
    }

    [Fact]
    public async Task Header_names_are_read_in_any_case_and_order_and_in_single_bytes()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        byte[] content = Encoding.UTF8.GetBytes(Hover.Replace("\"id\":7", "\"id\":\"slow\"", StringComparison.Ordinal));
        byte[] header = Encoding.ASCII.GetBytes(
            $"Content-Type: application/vscode-jsonrpc; charset=utf-8\r\ncontent-length: {content.Length}\r\n\r\n"
        );
        foreach (byte one in header.Concat(content))
        {
            session.Client.SendBytes([one]);
        }

        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.Equal("slow", (string)reply["id"]!);
    }

    [Fact]
    public async Task Connection_cut_inside_a_message_ends_the_session()
    {
        Session session = await Session.StartAsync();
        session.Client.SendBytes(Encoding.ASCII.GetBytes("Content-Length: 500\r\n\r\n{\"jsonrpc\""));
        await session.Client.DisposeAsync();
        Assert.Equal(1, await session.Running.WaitAsync(TestClient.Deadline));
    }

    [Fact]
    public async Task Flood_of_bad_messages_fills_no_error_stream_that_nobody_reads()
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        for (int i = 0; i < 2000; i++)
        {
            session.Client.SendContent("{");
        }

        await StillAliveAsync(session);
        Assert.InRange(session.Log.Length, 1000, 60_000);
        Assert.Contains("further messages of this session are left out", session.Log, StringComparison.Ordinal);
    }

    private static async Task RefusedAsync(string content, int code)
    {
        await using Session session = await Session.StartAsync(features: ProbeFeatures.WithText);
        session.Client.SendContent(content);
        JsonObject reply = await session.Client.Stray.ReadAsync();
        Assert.Equal(code, (int)reply["error"]!["code"]!);
        Assert.True(reply.ContainsKey("id"));
        await StillAliveAsync(session);
    }

    private static async Task StillAliveAsync(Session session)
    {
        session.Open("file:///alive.asm", " nop");
        Assert.Equal("1: nop", await session.TextAsync("file:///alive.asm"));
    }
}
