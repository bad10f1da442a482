using System.Globalization;
using AsmLsp.Core.Printed;

namespace AsmLsp;

/// <summary>Reads standard input, up to a bound: a pipe may never end.</summary>
internal static class StandardInput
{
    private const int Chunk = 64 * 1024;

    /// <summary>Reads all of it; gives the reason in words where that fails.</summary>
    /// <param name="mostBytes">The most that is read, given the kind of what begins like this.</param>
    /// <param name="bytes">What was read.</param>
    public static string? Read(Func<DocumentFileKind, int> mostBytes, out byte[] bytes)
    {
        bytes = [];
        try
        {
            using Stream? input = StandardStreams.Input();
            if (input is null)
                return "standard input is closed, so that nothing can be read from it.";
            var chunks = new List<byte[]>();
            long size = 0;
            int most = int.MaxValue;
            while (true)
            {
                byte[] chunk = new byte[Chunk];
                int got = input.ReadAtLeast(chunk, Chunk, throwOnEndOfStream: false);
                if (chunks.Count == 0)
                    most = mostBytes(DocumentFile.KindOf(chunk.AsSpan(0, got).ToArray()));
                size += got;
                if (size > most)
                    return string.Create(
                        CultureInfo.InvariantCulture,
                        $"standard input is longer than {most / (1024 * 1024)} MB, the most that is read of this kind. Nothing is written."
                    );
                chunks.Add(got == Chunk ? chunk : chunk[..got]);
                if (got < Chunk)
                    break;
            }

            bytes = new byte[size];
            int at = 0;
            foreach (byte[] chunk in chunks)
            {
                chunk.CopyTo(bytes, at);
                at += chunk.Length;
            }

            return null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return $"standard input can't be read: {fault.Message}";
        }
    }
}
