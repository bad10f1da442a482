using System.Buffers;
using System.Globalization;
using System.IO.Pipelines;
using System.Text;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>What came next on the wire.</summary>
/// <param name="Content">The bytes of one message, or null where it is none.</param>
/// <param name="Fault">What was wrong with the bytes that were passed over, or null.</param>
internal readonly record struct Frame(byte[]? Content, string? Fault)
{
    /// <summary>Neither a message nor a fault: the stream is over.</summary>
    public bool IsEnd => Content is null && Fault is null;
}

/// <summary>
/// Cuts the incoming bytes into messages (<c>Content-Length</c>, blank line, content). Bytes that are no header are passed over up to the next
/// header, so that stray output of a wrapper script or one bad message doesn't end the session.
/// </summary>
internal sealed class FrameReader(PipeReader input)
{
    /// <summary>Longer messages are passed over: no source text comes near it.</summary>
    internal const int MaxContentLength = 256 * 1024 * 1024;

    private const int MaxHeaderLine = 4096;

    /// <summary>Waits for the next message, fault or end.</summary>
    public async ValueTask<Frame> ReadAsync(CancellationToken cancellation)
    {
        long? length = null;
        bool anyHeader = false;
        string? fault = null;
        while (true)
        {
            string? line = await ReadLineAsync(cancellation).ConfigureAwait(false);
            if (line is null)
            {
                return new(null, fault ?? (anyHeader ? "The connection ended inside a header." : null));
            }

            if (line.Length == 0)
            {
                if (length is { } known)
                {
                    return fault is null
                        ? await ReadContentAsync(known, cancellation).ConfigureAwait(false)
                        : new(null, fault);
                }

                if (anyHeader || fault is not null)
                {
                    return new(null, fault ?? "A message without Content-Length was passed over.");
                }

                continue;
            }

            int colon = line.IndexOf(':', StringComparison.Ordinal);
            string name = colon < 0 ? "" : line[..colon].Trim();
            if (name.EndsWith("Content-Length", StringComparison.OrdinalIgnoreCase))
            {
                // Garbage without a line end may stand right before a good header: the header counts, the garbage is dropped.
                bool good = long.TryParse(
                    line[(colon + 1)..].Trim(),
                    NumberStyles.None,
                    CultureInfo.InvariantCulture,
                    out long value
                );
                anyHeader = true;
                length = good ? value : null;
                fault = good ? null : "A message with an unreadable Content-Length was passed over.";
            }
            else if (name.Equals("Content-Type", StringComparison.OrdinalIgnoreCase))
            {
                anyHeader = true;
            }
            else
            {
                fault = "Bytes that belong to no message were passed over.";
                length = null;
            }
        }
    }

    private async ValueTask<Frame> ReadContentAsync(long length, CancellationToken cancellation)
    {
        bool keep = length <= MaxContentLength;
        byte[] content = keep ? new byte[length] : [];
        long got = 0;
        while (got < length)
        {
            ReadResult read = await input.ReadAsync(cancellation).ConfigureAwait(false);
            if (read.Buffer.IsEmpty && read.IsCompleted)
            {
                return new(null, "The connection ended inside a message.");
            }

            ReadOnlySequence<byte> part = read.Buffer.Slice(0, Math.Min(read.Buffer.Length, length - got));
            if (keep)
            {
                part.CopyTo(content.AsSpan((int)got));
            }

            got += part.Length;
            input.AdvanceTo(part.End);
        }

        return keep ? new(content, null) : new(null, "A message of more than 256 MB was passed over.");
    }

    /// <summary>One header line without its end; null at the end of the stream; overlong lines are cut into pieces.</summary>
    private async ValueTask<string?> ReadLineAsync(CancellationToken cancellation)
    {
        while (true)
        {
            ReadResult read = await input.ReadAsync(cancellation).ConfigureAwait(false);
            ReadOnlySequence<byte> buffer = read.Buffer;
            if (buffer.PositionOf((byte)'\n') is { } end)
            {
                string line = Text(buffer.Slice(0, end));
                input.AdvanceTo(buffer.GetPosition(1, end));
                return line.TrimEnd('\r');
            }

            if (buffer.Length > MaxHeaderLine || read.IsCompleted)
            {
                string? rest = buffer.IsEmpty ? null : Text(buffer);
                input.AdvanceTo(buffer.End);
                return rest;
            }

            input.AdvanceTo(buffer.Start, buffer.End);
        }
    }

    private static string Text(ReadOnlySequence<byte> bytes) =>
        Encoding.Latin1.GetString(bytes.Length > MaxHeaderLine ? bytes.Slice(bytes.Length - MaxHeaderLine) : bytes);
}
