using System.Globalization;
using System.Text;
using System.Text.Json;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>What came next on the wire.</summary>
/// <param name="Content">The bytes of one message, or null where it is none.</param>
/// <param name="Fault">What was wrong with the bytes that were skipped, or null.</param>
internal readonly record struct Frame(byte[]? Content, string? Fault)
{
    /// <summary>Neither a message nor a fault: the stream is over.</summary>
    public bool IsEnd => Content is null && Fault is null;
}

/// <summary>
/// Cuts the incoming bytes into messages (<c>Content-Length</c>, blank line, content). After anything else it is in step again at the next header,
/// wherever that begins: raw line ends cannot be in the strings of a JSON text (RFC 8259, section 7), so that a header within a message means that the length of
/// the message was wrong.
/// </summary>
internal sealed class FrameReader(Stream input)
{
    /// <summary>Longer messages are skipped: no source text comes near it.</summary>
    internal const int MaxContentLength = 64 * 1024 * 1024;

    private const int MaxHeader = 4096,
        Usual = 64 * 1024;

    private static readonly byte[] NameStart = "content-"u8.ToArray();

    private byte[] buffer = new byte[Usual];
    private int start,
        end;
    private bool hasEnded,
        isOutOfStep;

    private ReadOnlySpan<byte> Unread => buffer.AsSpan(start, end - start);

    /// <summary>Waits for the next message, fault or end.</summary>
    public async ValueTask<Frame> ReadAsync(CancellationToken cancellation)
    {
        while (true)
        {
            (int skipped, bool isHeader, bool isStray) = Seek(Unread);
            start += skipped;
            if (isStray && !isOutOfStep)
            {
                // Said once for each stretch of stray bytes, however many pieces it comes in.
                isOutOfStep = true;
                return new(null, "Bytes that belong to no message were skipped.");
            }

            if (!isHeader)
            {
                if (!await MoreAsync(cancellation).ConfigureAwait(false))
                    return new(null, null);
                continue;
            }

            if (EndOfHeader(Unread) is not (>= 0 and var length))
            {
                if (Unread.Length > MaxHeader)
                {
                    start++;
                    continue;
                }

                if (!await MoreAsync(cancellation).ConfigureAwait(false))
                    return new(null, "The connection ended inside a header.");
                continue;
            }

            (int contentLength, int advance, string? fault) = ReadHeader(Unread[..length]);
            start += advance;
            if (fault is not null)
            {
                bool isNews = !isOutOfStep;
                isOutOfStep = true;
                if (isNews)
                    return new(null, fault);
                continue;
            }

            isOutOfStep = false;
            return await ContentAsync(contentLength, cancellation).ConfigureAwait(false);
        }
    }

    private async ValueTask<Frame> ContentAsync(int length, CancellationToken cancellation)
    {
        int searched = 0;
        while (end - start < length)
        {
            if (HeaderWithin(Unread[searched..]) is >= 0 and var found)
            {
                start += searched + found;
                return new(null, "The Content-Length of a message is greater than the message; it was skipped.");
            }

            searched = Math.Max(0, end - start - MaxHeader);
            if (!await MoreAsync(cancellation).ConfigureAwait(false))
            {
                start = end;
                return new(null, "The connection ended inside a message.");
            }
        }

        byte[] content = Unread[..length].ToArray();
        // What is not one JSON text was cut at the wrong place: what comes after the text, or at a header in it, is looked at again.
        int used = EndOfJson(content);
        if (used < 0)
            used = HeaderWithin(content) is >= 0 and var header ? header : length - PartOfName(content);
        start += used;
        if (start == end && buffer.Length > 4 * Usual)
            (buffer, start, end) = (new byte[Usual], 0, 0);
        // The whole piece continues, so that it is refused as what it is.
        return new(content, null);
    }

    /// <summary>How many bytes in front of a header, or of what may become one, are none; whether a header begins there; whether stray bytes were among them.</summary>
    private static (int Skipped, bool IsHeader, bool IsStray) Seek(ReadOnlySpan<byte> bytes)
    {
        int at = 0;
        while (Name(bytes[at..]) is >= 0 and var found)
        {
            at += found;
            switch (StartsHeader(bytes[at..]))
            {
                case true:
                    return (at, true, HasStray(bytes[..at]));
                case null:
                    return (at, false, HasStray(bytes[..at]));
            }

            at++;
        }

        int kept = PartOfName(bytes);
        return (bytes.Length - kept, false, HasStray(bytes[..^kept]));
    }

    /// <summary>Whether bytes that begin with the start of a name are a header; null where more are needed to say.</summary>
    private static bool? StartsHeader(ReadOnlySpan<byte> bytes)
    {
        ReadOnlySpan<byte> rest = bytes[NameStart.Length..];
        foreach (byte[] name in (ReadOnlySpan<byte[]>)["length"u8.ToArray(), "type"u8.ToArray()])
        {
            int compared = Math.Min(name.Length, rest.Length);
            if (!Ascii.EqualsIgnoreCase(rest[..compared], name.AsSpan(0, compared)))
                continue;
            ReadOnlySpan<byte> after = rest[compared..].TrimStart(" \t"u8);
            if (compared < name.Length || after.IsEmpty)
                return bytes.Length > MaxHeader ? false : null;
            return after[0] == ':';
        }

        return false;
    }

    private static bool HasStray(ReadOnlySpan<byte> bytes) => bytes.IndexOfAnyExcept(" \t\r\n"u8) >= 0;

    private static int Name(ReadOnlySpan<byte> bytes)
    {
        for (int at = 0; ; at++)
        {
            int found = bytes[at..].IndexOfAny((byte)'c', (byte)'C');
            if (found < 0 || at + found + NameStart.Length > bytes.Length)
                return -1;
            at += found;
            if (Ascii.EqualsIgnoreCase(bytes.Slice(at, NameStart.Length), NameStart))
                return at;
        }
    }

    // How many bytes at the end may be the first ones of a name.
    private static int PartOfName(ReadOnlySpan<byte> bytes)
    {
        for (int length = Math.Min(NameStart.Length - 1, bytes.Length); length > 0; length--)
            if (Ascii.EqualsIgnoreCase(bytes[^length..], NameStart.AsSpan(0, length)))
                return length;
        return 0;
    }

    /// <summary>Where a whole header with a length is in the bytes of what should be a message; -1 where none does.</summary>
    private static int HeaderWithin(ReadOnlySpan<byte> bytes)
    {
        for (int at = 0; at < bytes.Length; )
        {
            int dash = bytes[at..].IndexOf((byte)'-');
            if (dash < 0)
                return -1;
            at += dash + 1;
            int name = at - NameStart.Length;
            if (name < 0 || !Ascii.EqualsIgnoreCase(bytes.Slice(name, NameStart.Length), NameStart))
                continue;
            ReadOnlySpan<byte> rest = bytes[at..];
            if (rest.Length < 8 || !Ascii.EqualsIgnoreCase(rest[..6], "length"u8))
                continue;
            rest = rest[6..].TrimStart(" \t"u8);
            if (rest.IsEmpty || rest[0] != ':')
                continue;
            rest = rest[1..].TrimStart(" \t"u8);
            int digits = rest.IndexOfAnyExceptInRange((byte)'0', (byte)'9');
            if (digits > 0 && rest[digits] is (byte)'\r' or (byte)'\n')
                return name;
        }

        return -1;
    }

    // The length of a header with its blank line, or -1 where that has not come yet.
    private static int EndOfHeader(ReadOnlySpan<byte> bytes)
    {
        for (int at = 0; ; )
        {
            int found = bytes[at..].IndexOf((byte)'\n');
            if (found < 0)
                return -1;
            at += found + 1;
            if (at < bytes.Length && bytes[at] == '\n')
                return at + 1;
            if (at + 1 < bytes.Length && bytes[at] == '\r' && bytes[at + 1] == '\n')
                return at + 2;
        }
    }

    /// <summary>The length that a header gives, how many bytes of it are done with, and what is wrong with it.</summary>
    private static (int Length, int Advance, string? Fault) ReadHeader(ReadOnlySpan<byte> header)
    {
        // A message without a blank line in front may have run into the next header: that is the one that counts.
        for (int from = 1; Name(header[from..]) is >= 0 and var found; from += found + 1)
        {
            int at = from + found;
            if (StartsHeader(header[at..]) == true && header[at - 1] != '\n')
                return (0, at, "Bytes that belong to no message were skipped.");
        }

        long? length = null;
        foreach (string line in Encoding.Latin1.GetString(header).Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            int colon = line.IndexOf(':', StringComparison.Ordinal);
            if (line.Trim().Length == 0)
                continue;
            if (colon <= 0)
                return (0, header.Length, "Bytes that belong to no message were skipped.");
            if (!line[..colon].Trim().Equals("Content-Length", StringComparison.OrdinalIgnoreCase))
                continue;
            if (
                !long.TryParse(
                    line[(colon + 1)..].Trim(),
                    NumberStyles.None,
                    CultureInfo.InvariantCulture,
                    out long value
                ) || (length is { } earlier && earlier != value)
            )
                return (0, header.Length, "A message with an unreadable Content-Length was skipped.");
            length = value;
        }

        return length switch
        {
            null => (0, header.Length, "A message without Content-Length was skipped."),
            > MaxContentLength => (
                0,
                header.Length,
                $"A message of more than {MaxContentLength / (1024 * 1024)} MB was skipped."
            ),
            _ => ((int)length, header.Length, null),
        };
    }

    // Where the first JSON value of some bytes ends, blanks after it included; -1 where there is none.
    private static int EndOfJson(ReadOnlySpan<byte> content)
    {
        var reader = new Utf8JsonReader(content, new JsonReaderOptions { AllowMultipleValues = true, MaxDepth = 512 });
        try
        {
            if (!reader.Read() || !reader.TrySkip())
                return -1;
        }
        catch (JsonException)
        {
            return -1;
        }

        int at = (int)reader.BytesConsumed;
        int rest = content[at..].IndexOfAnyExcept(" \t\r\n"u8);
        return rest < 0 ? content.Length : at + rest;
    }

    private async ValueTask<bool> MoreAsync(CancellationToken cancellation)
    {
        if (hasEnded)
            return false;
        if (end == buffer.Length)
        {
            if (start >= buffer.Length / 2)
            {
                Unread.CopyTo(buffer);
                (start, end) = (0, end - start);
            }
            else
            {
                byte[] larger = new byte[buffer.Length * 2];
                Unread.CopyTo(larger);
                (buffer, start, end) = (larger, 0, end - start);
            }
        }

        int got = await input.ReadAsync(buffer.AsMemory(end), cancellation).ConfigureAwait(false);
        hasEnded = got == 0;
        end += got;
        return !hasEnded;
    }
}
