using System.Threading.Channels;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// What waits to be written to the client, in order. Putting something in never waits, so that a client which does not read cannot hold up the session; how much
/// may wait is seen to by whoever takes in what the client sends (<see cref="IsFull"/>).
/// </summary>
internal sealed class Outbox
{
    private readonly Stream output;
    private readonly long mostBytes;
    private readonly Channel<byte[]> frames = Channel.CreateUnbounded<byte[]>(
        new UnboundedChannelOptions { SingleReader = true }
    );
    private readonly Task pump;
    private long waiting;
    private long lastProgress = Environment.TickCount64;
    private volatile IOException? broken;

    public Outbox(Stream output, long mostBytes)
    {
        this.output = output;
        this.mostBytes = mostBytes;
        pump = Task.Run(PumpAsync);
    }

    /// <summary>Whether more waits than a client that reads ever lets wait.</summary>
    public bool IsFull => Interlocked.Read(ref waiting) > mostBytes;

    /// <summary>How long the client has taken nothing.</summary>
    public TimeSpan Stalled => TimeSpan.FromMilliseconds(Environment.TickCount64 - Interlocked.Read(ref lastProgress));

    /// <summary>Puts a frame in.</summary>
    /// <exception cref="IOException">The client is gone.</exception>
    public void Post(byte[] frame)
    {
        if (broken is { } fault)
            throw new IOException(fault.Message, fault);
        if (Interlocked.Add(ref waiting, frame.Length) == frame.Length)
            Interlocked.Exchange(ref lastProgress, Environment.TickCount64);
        frames.Writer.TryWrite(frame);
    }

    /// <summary>Takes nothing more, and waits for what is in it to be written, but not longer than it is given.</summary>
    public async Task FinishAsync(TimeSpan longest)
    {
        frames.Writer.TryComplete();
        await Task.WhenAny(pump, Task.Delay(longest)).ConfigureAwait(false);
    }

    private async Task PumpAsync()
    {
        await foreach (byte[] frame in frames.Reader.ReadAllAsync().ConfigureAwait(false))
        {
            if (broken is null)
            {
                try
                {
                    await output.WriteAsync(frame).ConfigureAwait(false);
                    if (!frames.Reader.TryPeek(out _))
                        await output.FlushAsync().ConfigureAwait(false);
                }
                catch (Exception fault)
                    when (fault is IOException or ObjectDisposedException or InvalidOperationException)
                {
                    broken = fault as IOException ?? new IOException(fault.Message, fault);
                }
            }

            Interlocked.Add(ref waiting, -frame.Length);
            Interlocked.Exchange(ref lastProgress, Environment.TickCount64);
        }
    }
}
