using System.Text;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>A mail copied as it was sent: '=' and other characters as a sign with two digits, long lines parted by '=' (quoted-printable, RFC 2045, 6.7).</summary>
internal static class MailEncoding
{
    // RFC 2045: an encoded line has at most 76 characters, so that only long lines are parted.
    private const int LeastParted = 60;

    private static readonly Encoding Utf8 = new UTF8Encoding(false, true);

    /// <summary>Decodes the lines, where all of the text is encoded so.</summary>
    public static string? Decode(string[] lines)
    {
        bool isProved = false;
        foreach (string line in lines)
            for (int at = line.IndexOf('=', StringComparison.Ordinal); at >= 0; at = line.IndexOf('=', at + 1))
            {
                bool isLast = at == line.Length - 1;
                if (isLast && line.Length < LeastParted)
                    return null;
                if (!isLast && (at + 2 >= line.Length || !IsDigit(line[at + 1]) || !IsDigit(line[at + 2])))
                    return null;
                if (isLast)
                {
                    isProved = true;
                    continue;
                }

                // Blanks are encoded at line ends only, and nothing before them but tabs.
                ReadOnlySpan<char> digits = line.AsSpan(at + 1, 2);
                bool isControl = digits[0] is '0' or '1' && digits is not "09";
                if (isControl || (digits is "20" && at + 3 < line.Length && line[at + 3] != '='))
                    return null;
                if (digits is not "3D")
                    continue;
                // An equals sign has something after it: otherwise the three signs are an assignment.
                if (
                    line.AsSpan(at + 3, PasteCleaner.CodeEnd(line) is var end && end > at + 3 ? end - at - 3 : 0)
                        .Trim()
                        .IsEmpty
                    && line.AsSpan(0, at).IndexOf(';') < 0
                )
                    return null;
                isProved = true;
            }

        if (!isProved)
            return null;
        for (int i = 0; i < lines.Length; i++)
        {
            int last = i;
            string whole = lines[i];
            while (whole.EndsWith('=') && last + 1 < lines.Length)
            {
                whole = whole[..^1] + lines[++last];
                lines[last] = "";
            }

            lines[i] = DecodedLine(whole);
            i = last;
        }

        return "The signs of a mail's encoding ('=3D' and the like) became the characters that they mean.";
    }

    private static string DecodedLine(string line)
    {
        if (!line.Contains('=', StringComparison.Ordinal))
            return line;
        var text = new StringBuilder(line.Length);
        var bytes = new List<byte>();
        for (int at = 0; at < line.Length; at++)
        {
            if (line[at] == '=' && at + 2 < line.Length && IsDigit(line[at + 1]) && IsDigit(line[at + 2]))
            {
                bytes.Add(Convert.FromHexString(line.AsSpan(at + 1, 2))[0]);
                at += 2;
                continue;
            }

            Flush(bytes, text);
            text.Append(line[at]);
        }

        Flush(bytes, text);
        return text.ToString();
    }

    private static void Flush(List<byte> bytes, StringBuilder text)
    {
        if (bytes.Count == 0)
            return;
        try
        {
            text.Append(Utf8.GetString([.. bytes]));
        }
        catch (DecoderFallbackException)
        {
            foreach (byte b in bytes)
                text.Append((char)b);
        }

        bytes.Clear();
    }

    private static bool IsDigit(char c) => c is (>= '0' and <= '9') or (>= 'A' and <= 'F');
}
