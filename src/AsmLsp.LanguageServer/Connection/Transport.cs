using System.IO.Pipes;
using System.Net.Sockets;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>Opens the way to the client where it is not the process's own input and output; the client listens in both cases.</summary>
internal static class Transport
{
    private const string WindowsPipes = @"\\.\pipe\";

    /// <summary>Connects to a named pipe (a path of a local socket outside Windows).</summary>
    /// <exception cref="IOException">Nobody listens there.</exception>
    public static async Task<Stream> ConnectPipeAsync(string name, CancellationToken cancellation)
    {
        if (!OperatingSystem.IsWindows() && name.Contains('/', StringComparison.Ordinal))
        {
            var local = new Socket(AddressFamily.Unix, SocketType.Stream, ProtocolType.Unspecified);
            return await ConnectAsync(local, () => local.ConnectAsync(new UnixDomainSocketEndPoint(name), cancellation))
                .ConfigureAwait(false);
        }

        string plain = name.StartsWith(WindowsPipes, StringComparison.OrdinalIgnoreCase)
            ? name[WindowsPipes.Length..]
            : name;
        var pipe = new NamedPipeClientStream(".", plain, PipeDirection.InOut, PipeOptions.Asynchronous);
        try
        {
            await pipe.ConnectAsync(10_000, cancellation).ConfigureAwait(false);
            return pipe;
        }
        catch (TimeoutException fault)
        {
            await pipe.DisposeAsync().ConfigureAwait(false);
            throw new IOException($"No client listens on the pipe {name}.", fault);
        }
    }

    /// <summary>Connects to a port of this machine.</summary>
    /// <exception cref="IOException">Nobody listens there.</exception>
    public static async Task<Stream> ConnectSocketAsync(int port, CancellationToken cancellation)
    {
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        return await ConnectAsync(socket, () => socket.ConnectAsync("localhost", port, cancellation))
            .ConfigureAwait(false);
    }

    private static async Task<Stream> ConnectAsync(Socket socket, Func<ValueTask> connect)
    {
        try
        {
            await connect().ConfigureAwait(false);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch (SocketException fault)
        {
            socket.Dispose();
            throw new IOException(fault.Message, fault);
        }
    }
}
