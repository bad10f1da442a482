namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// Takes in the client's messages as fast as they can be answered. A client that does not read its answers is not read either, or the memory would fill; but some
/// more messages are looked at ahead, and the end of the input, since the session must end when the client wants it to.
/// </summary>
/// <param name="frames">The wire.</param>
/// <param name="mayGoOn">Whether another message may be worked on.</param>
/// <param name="isExit">Whether a message ends the session.</param>
/// <param name="mostAhead">The most bytes that are kept ahead.</param>
internal sealed class Inbox(FrameReader frames, Func<bool> mayGoOn, Func<byte[], bool> isExit, int mostAhead)
{
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(20);

    private readonly Queue<Frame> ahead = new();
    private long aheadBytes;
    private Task<Frame>? reading;

    /// <summary>Whether the input was closed by the client, as the system says it before all bytes are read; null where it cannot know.</summary>
    public Func<bool>? HasHungUp { get; init; }

    /// <summary>When to end a session whose client reads nothing; true ends it.</summary>
    public Func<bool> GiveUp { get; init; } = static () => false;

    /// <summary>What was read ahead and not worked on, when the session ends early.</summary>
    public IEnumerable<Frame> Left => ahead;

    /// <summary>The next message; an end where the client wants the session to end, or must not be waited for any longer.</summary>
    public async ValueTask<Frame> ReadAsync(CancellationToken cancellation)
    {
        while (true)
        {
            if (mayGoOn())
            {
                if (ahead.TryDequeue(out Frame kept))
                {
                    aheadBytes -= kept.Content?.Length ?? 0;
                    return kept;
                }

                if (reading is null)
                    return await frames.ReadAsync(cancellation).ConfigureAwait(false);
                Frame frame = await reading.ConfigureAwait(false);
                reading = null;
                return frame;
            }

            bool hasRoom = aheadBytes < mostAhead;
            if (hasRoom)
                reading ??= frames.ReadAsync(cancellation).AsTask();
            Task pause = Task.Delay(Look, cancellation);
            if (reading is { } pending && await Task.WhenAny(pending, pause).ConfigureAwait(false) == pending)
            {
                Frame frame = await pending.ConfigureAwait(false);
                reading = null;
                ahead.Enqueue(frame);
                aheadBytes += frame.Content?.Length ?? 0;
                if (frame.IsEnd || (frame.Content is { } content && isExit(content)))
                    return default;
                continue;
            }

            await pause.ConfigureAwait(false);
            if (GiveUp() || (!hasRoom && HasHungUp?.Invoke() == true))
                return default;
        }
    }
}
