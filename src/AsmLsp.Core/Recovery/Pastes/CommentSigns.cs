namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>Two slashes in front of the comments of a text that has no semicolon: whoever colored it for a web page took it for another language.</summary>
internal static class CommentSigns
{
    private const string Slashes = "//";

    // No line of code has them outside quotes.
    private const int LeastSigns = 2;

    /// <summary>Writes semicolons.</summary>
    public static string? Write(string[] lines)
    {
        int signed = 0;
        foreach (string line in lines)
        {
            if (line.Contains(';', StringComparison.Ordinal))
                return null;
            if (SignAt(line) >= 0)
                signed++;
        }

        if (signed < LeastSigns)
            return null;
        for (int i = 0; i < lines.Length; i++)
            if (SignAt(lines[i]) is var at and >= 0)
                lines[i] = lines[i][..at] + ";" + lines[i][(at + Slashes.Length)..];
        return "The comments had '//' before them; it became ';'.";
    }

    // At the start of a line or after a blank, and not in quotes.
    private static int SignAt(string line)
    {
        char quote = '\0';
        for (int at = 0; at + 1 < line.Length; at++)
        {
            char c = line[at];
            if (quote != '\0')
                quote = c == quote ? '\0' : quote;
            else if (c is '"')
                quote = c;
            else if (
                line.AsSpan(at).StartsWith(Slashes, StringComparison.Ordinal)
                && (at == 0 || line[at - 1] is ' ' or '\t')
            )
                return at;
        }

        return -1;
    }
}
