using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.Tests;

/// <summary><c>relist serve</c> as editors start it.</summary>
public sealed class ServeTests
{
    [Fact]
    public async Task Session_over_standard_input_and_output_ends_with_0()
    {
        using RelistProcess relist = RelistProcess.Start("serve", "--stdio");
        await using TestClient client = relist.Talk();
        await SessionAsync(client);
        (int code, string errors) = await relist.EndAsync();
        Assert.Equal(0, code);
        Assert.Equal("", errors);
    }

    [Fact]
    public async Task Exit_without_shutdown_ends_with_1()
    {
        using RelistProcess relist = RelistProcess.Start("serve");
        await using TestClient client = relist.Talk();
        await client.RequestAsync("initialize", RelistProcess.Initialize());
        client.Notify("exit", null);
        Assert.Equal(1, (await relist.EndAsync()).Code);
    }

    [Fact]
    public async Task Input_that_is_closed_ends_the_server_with_1()
    {
        using RelistProcess relist = RelistProcess.Start("serve");
        relist.CloseInput();
        Assert.Equal(1, (await relist.EndAsync()).Code);
    }

    [Fact]
    public async Task Unknown_flags_are_reported_on_the_error_stream_and_the_server_continues()
    {
        using RelistProcess relist = RelistProcess.Start(
            "serve",
            "--node-ipc",
            "--log-level=debug",
            "stray",
            "--stdio"
        );
        await using TestClient client = relist.Talk();
        await SessionAsync(client);
        (int code, string errors) = await relist.EndAsync();
        Assert.Equal(0, code);
        Assert.Contains("--node-ipc is not a flag of serve", errors, StringComparison.Ordinal);
        Assert.Contains("--log-level is not a flag of serve", errors, StringComparison.Ordinal);
        Assert.Contains("stray is not a flag of serve", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Malformed_json_on_the_wire_does_not_end_the_server()
    {
        using RelistProcess relist = RelistProcess.Start("serve");
        await using TestClient client = relist.Talk();
        client.SendContent("{ not json");
        Assert.Equal(-32700, (int)(await client.Stray.ReadAsync())["error"]!["code"]!);
        await SessionAsync(client);
        Assert.Equal(0, (await relist.EndAsync()).Code);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Server_connects_to_the_port_that_the_client_listens_on(bool withEquals)
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        string port = ((IPEndPoint)listener.LocalEndpoint).Port.ToString(
            System.Globalization.CultureInfo.InvariantCulture
        );
        using RelistProcess relist = withEquals
            ? RelistProcess.Start("serve", $"--socket={port}")
            : RelistProcess.Start("serve", "--socket", port);
        using Socket socket = await listener.AcceptSocketAsync().WaitAsync(TestClient.Deadline);
        await using var stream = new NetworkStream(socket);
        await using var client = new TestClient(
            stream,
            stream,
            nameof(Server_connects_to_the_port_that_the_client_listens_on)
        );
        await SessionAsync(client);
        Assert.Equal(0, (await relist.EndAsync()).Code);
    }

    [Fact]
    public async Task Server_connects_to_the_local_socket_that_the_client_listens_on()
    {
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        string path = Path.Combine(Path.GetTempPath(), $"relist-{Guid.NewGuid():N}.sock");
        using var listener = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
        listener.Bind(new UnixDomainSocketEndPoint(path));
        listener.Listen();
        using RelistProcess relist = RelistProcess.Start("serve", $"--pipe={path}");
        using Socket socket = await listener.AcceptAsync().WaitAsync(TestClient.Deadline);
        await using var stream = new NetworkStream(socket);
        await using var client = new TestClient(
            stream,
            stream,
            nameof(Server_connects_to_the_local_socket_that_the_client_listens_on)
        );
        await SessionAsync(client);
        Assert.Equal(0, (await relist.EndAsync()).Code);
        File.Delete(path);
    }

    [Theory]
    [InlineData("--socket=notaport", "--socket needs a port number")]
    [InlineData("--socket=1", "no connection to the client")]
    [InlineData("--pipe=/nowhere/at/all.sock", "no connection to the client")]
    [InlineData("--pipe=", "--pipe needs the name")]
    public async Task Way_to_the_client_that_is_none_ends_with_2_and_the_reason(string flag, string reason)
    {
        using RelistProcess relist = RelistProcess.Start("serve", flag);
        (int code, string errors) = await relist.EndAsync();
        Assert.Equal(2, code);
        Assert.Contains(reason, errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Server_ends_when_the_process_of_the_editor_is_gone(bool byFlag)
    {
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        using Process editor = Process.Start("sleep", "60");
        string id = editor.Id.ToString(System.Globalization.CultureInfo.InvariantCulture);
        using RelistProcess relist = byFlag
            ? RelistProcess.Start("serve", $"--clientProcessId={id}")
            : RelistProcess.Start("serve");
        await using TestClient client = relist.Talk();
        await client.RequestAsync("initialize", RelistProcess.Initialize(byFlag ? null : editor.Id));
        Assert.False(client.Ended.IsCompleted);
        editor.Kill();
        Assert.Equal(1, (await relist.EndAsync()).Code);
    }

    private static async Task SessionAsync(TestClient client)
    {
        Assert.Equal(
            "relist",
            (string)(await client.RequestAsync("initialize", RelistProcess.Initialize()))!["serverInfo"]!["name"]!
        );
        await client.RequestAsync("shutdown", null);
        client.Notify("exit", null);
    }

    [Theory]
    [InlineData(true, 0)]
    [InlineData(false, 1)]
    public async Task Client_that_reads_nothing_ends_the_server_all_the_same(bool inOrder, int code)
    {
        using RelistProcess process = RelistProcess.Start("serve");
        var frames = new List<byte>();
        void Add(string method, JsonNode? parameters, int? id = null)
        {
            var message = new JsonObject { ["jsonrpc"] = "2.0", ["method"] = method };
            if (id is not null)
                message["id"] = id;
            if (parameters is not null)
                message["params"] = parameters;
            frames.AddRange(TestClient.Frame(System.Text.Encoding.UTF8.GetBytes(message.ToJsonString())));
        }

        var source = new System.Text.StringBuilder(" list p=16f84a\n");
        for (int i = 0; i < 900; i++)
            source.Append(System.Globalization.CultureInfo.InvariantCulture, $"l{i} movlw 1\n");
        Add("initialize", RelistProcess.Initialize(), 1);
        Add("initialized", new JsonObject());
        Add(
            "textDocument/didOpen",
            new JsonObject
            {
                ["textDocument"] = new JsonObject
                {
                    ["uri"] = "file:///flood.asm",
                    ["languageId"] = "asm",
                    ["version"] = 1,
                    ["text"] = source.ToString(),
                },
            }
        );
        // Each answer has some hundred kilobytes; a pipe holds 64.
        for (int i = 2; i < 1000; i++)
            Add(
                "textDocument/documentSymbol",
                new JsonObject { ["textDocument"] = new JsonObject { ["uri"] = "file:///flood.asm" } },
                i
            );
        if (inOrder)
        {
            Add("shutdown", null, 1000);
            Add("exit", null);
        }

        await process.WriteAsync([.. frames]);
        Assert.Equal(code, (await process.EndAsync()).Code);
    }
}
