using System.Text;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>A text that came through a program with another encoding: UTF-8 read after Windows-1252, or blanks of print that became question marks.</summary>
internal static class WrongEncoding
{
    // So many different characters do not make UTF-8 by chance.
    private const int LeastCharacters = 3;

    private static readonly UTF8Encoding Utf8 = new(false, true);

    /// <summary>Reads the text once more as UTF-8, where all of it is that.</summary>
    public static string? Decode(string[] lines)
    {
        var decoded = new string[lines.Length];
        var characters = new HashSet<char>();
        bool hasTypesetting = false;
        for (int i = 0; i < lines.Length; i++)
        {
            decoded[i] = lines[i];
            if (!lines[i].AsSpan().ContainsAnyExceptInRange('\0', '\u007F'))
                continue;
            if (AsUtf8(lines[i]) is not { } text)
                return null;
            decoded[i] = text;
            foreach (char c in text)
                if (c > '\u007F')
                {
                    characters.Add(c);
                    hasTypesetting |= c is >= '\u2000' and < '\u2070' or '\u00A0' or '\uFEFF';
                }
        }

        if (characters.Count < LeastCharacters && !hasTypesetting)
            return null;
        decoded.CopyTo(lines, 0);
        return "The text had been read in a wrong encoding; it was read again as UTF-8.";
    }

    private static string? AsUtf8(string line)
    {
        var bytes = new byte[line.Length];
        for (int i = 0; i < line.Length; i++)
        {
            if (TextEncoding.ToByte(line[i]) is not { } value)
                return null;
            bytes[i] = value;
        }

        try
        {
            return Utf8.GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            return null;
        }
    }

    /// <summary>Writes blanks for runs of question marks, where lines begin with them.</summary>
    public static string? ShowBlanks(string[] lines)
    {
        int written = lines.Count(static l => !string.IsNullOrWhiteSpace(l));
        int marked = lines.Count(static l => l.StartsWith("??", StringComparison.Ordinal));
        if (marked < PasteCleaner.LeastLines || marked * 10 < written)
            return null;
        for (int i = 0; i < lines.Length; i++)
            lines[i] = WithBlanks(lines[i]);
        return "Blanks that had become question marks were written again.";
    }

    private static string WithBlanks(string line)
    {
        int end = PasteCleaner.CodeEnd(line);
        var text = new StringBuilder(line);
        int alone = -1,
            count = 0;
        for (int at = 0; at < end; )
        {
            int start = at;
            while (at < end && line[at] == '?')
                at++;
            if (at - start > 1)
                text.Replace('?', ' ', start, at - start);
            else if (at - start == 1)
                (alone, count) = (start, count + 1);
            else
                at++;
        }

        // One alone parts two words; two of them may be the quotes of a number.
        if (count == 1 && alone > 0 && char.IsLetter(line[alone - 1]))
            text[alone] = ' ';
        return text.ToString();
    }
}
