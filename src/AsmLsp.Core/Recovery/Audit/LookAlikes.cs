using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Checks the claim that a word was misread: the printed word must be nothing, and the word that was put in its place the only one of its kind
/// that looks like it.
/// </summary>
internal static class LookAlikes
{
    private static readonly string[] Groups = ["0oqd", "1li|!", "5s", "8b", "2z", "6g", "9gq", "uv", "ce", "tf", "rn"];

    /// <summary>Whether a line is its printed row but for words that were certainly misread.</summary>
    public static bool Explain(string printed, string made, NamesInUse names)
    {
        List<string> before = Words(printed),
            after = Words(made);
        int gutter = before.Count - after.Count;
        if (gutter < 0)
            return false;
        for (int i = 0; i < gutter; i++)
            if (!before[i].All(char.IsAsciiHexDigit) || !before[i].Any(char.IsAsciiDigit))
                return false;
        for (int i = 0; i < after.Count; i++)
        {
            string was = before[gutter + i],
                now = after[i];
            if (!was.Equals(now, StringComparison.OrdinalIgnoreCase) && !IsOnlyReading(was, now, names))
                return false;
        }

        return true;
    }

    private static bool IsOnlyReading(string was, string now, NamesInUse names)
    {
        if (OperationWords.KindOf(now) is OperationKind.Instruction or OperationKind.Directive)
        {
            if (OperationWords.KindOf(was) != OperationKind.Unknown || names.IsKnown(was) || names.IsUsed(was))
                return false;
            int near = 0;
            foreach (string word in OperationWords.All)
                if (OperationWords.TakesNoOperand(word) == OperationWords.TakesNoOperand(now) && IsOneStep(was, word))
                    near++;
            return near == 1 && IsOneStep(was, now);
        }

        if (!IsAlike(was, now))
            return false;
        if (char.IsAsciiDigit(now[0]))
            return !IsNumber(was) && IsNumber(now);
        return names.IsKnown(now) && !names.IsKnown(was);
    }

    // The same number of characters, and each that differs has the shape of the other.
    private static bool IsAlike(string a, string b)
    {
        if (a.Length != b.Length)
            return false;
        for (int i = 0; i < a.Length; i++)
        {
            char x = char.ToLowerInvariant(a[i]),
                y = char.ToLowerInvariant(b[i]);
            if (x != y && !Array.Exists(Groups, g => g.Contains(x) && g.Contains(y)))
                return false;
        }

        return true;
    }

    private static bool IsOneStep(string a, string b)
    {
        if (Math.Abs(a.Length - b.Length) > 1)
            return false;
        int from = 0;
        while (from < Math.Min(a.Length, b.Length) && char.ToLowerInvariant(a[from]) == char.ToLowerInvariant(b[from]))
            from++;
        ReadOnlySpan<char> restA = a.AsSpan(from),
            restB = b.AsSpan(from);
        if (restA.Length >= restB.Length && restA.Length > 0)
            restA = restA[1..];
        if (b.Length >= a.Length && restB.Length > 0)
            restB = restB[1..];
        return restA.Equals(restB, StringComparison.OrdinalIgnoreCase);
    }

    // Digits that fit their notation; the value of one without a notation depends on the program.
    private static bool IsNumber(string word)
    {
        bool isHex =
            word.StartsWith("0x", StringComparison.OrdinalIgnoreCase)
            || word.EndsWith("h", StringComparison.OrdinalIgnoreCase);
        ReadOnlySpan<char> digits = word.StartsWith("0x", StringComparison.OrdinalIgnoreCase) ? word.AsSpan(2) : word;
        digits = digits.TrimEnd("hH");
        foreach (char c in digits)
            if (isHex ? !char.IsAsciiHexDigit(c) : !char.IsAsciiDigit(c))
                return false;
        return digits.Length > 0;
    }

    private static List<string> Words(string text)
    {
        var words = new List<string>();
        int end = AuditRow.CommentStart(text);
        for (int i = 0; i < end; )
        {
            int start = i;
            while (i < end && (char.IsLetterOrDigit(text[i]) || text[i] == '_'))
                i++;
            if (i > start)
                words.Add(text[start..i]);
            else
                i++;
        }

        return words;
    }
}
