namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Lines among those of a listing that report errors and warnings: who printed it wrote them, not the author.</summary>
internal static class PrintedMessage
{
    private static readonly string[] Words = ["error", "warning", "message", "note"];

    /// <summary>Whether a line is one: 'Warning[7] ...', 'Error 3: ...', 'Message [12] : ...'.</summary>
    public static bool Is(string text)
    {
        ReadOnlySpan<char> line = text.AsSpan().Trim("*>- \t\u00A0");
        foreach (string word in Words)
        {
            if (!line.StartsWith(word, StringComparison.OrdinalIgnoreCase))
                continue;
            ReadOnlySpan<char> rest = line[word.Length..].TrimStart();
            if (rest.IsEmpty)
                return false;
            bool bracket = rest[0] is '[' or '(';
            if (bracket)
                rest = rest[1..];
            int digits = 0;
            while (digits < rest.Length && char.IsAsciiDigit(rest[digits]))
                digits++;
            if (digits == 0)
                return false;
            rest = rest[digits..].TrimStart();
            return bracket ? rest.Length > 1 && rest[0] is ']' or ')' : rest.Length > 1 && rest[0] == ':';
        }

        return false;
    }
}
