namespace AsmLsp.Host.Comparison;

/// <summary>A stretch of a line, and whether the other side has it, too.</summary>
/// <param name="Start">Where it begins.</param>
/// <param name="Length">How long it is.</param>
/// <param name="IsShared">Whether the other side has the same word there.</param>
internal readonly record struct WordPiece(int Start, int Length, bool IsShared);

/// <summary>Finds which words of two lines differ; blanks do not count.</summary>
internal static class WordDifference
{
    // Two lines of more words than this are shown without marks.
    private const int MostWords = 400;

    /// <summary>The words of both texts in order, each with whether it is shared.</summary>
    public static (List<WordPiece> Before, List<WordPiece> After) Between(string before, string after)
    {
        List<WordPiece> a = Words(before),
            b = Words(after);
        if (a.Count > MostWords || b.Count > MostWords)
            return ([.. a.Select(Shared)], [.. b.Select(Shared)]);
        // The longest row of words that both have in the same order.
        int[,] length = new int[a.Count + 1, b.Count + 1];
        for (int i = a.Count - 1; i >= 0; i--)
        for (int j = b.Count - 1; j >= 0; j--)
            length[i, j] = Same(i, j) ? length[i + 1, j + 1] + 1 : Math.Max(length[i + 1, j], length[i, j + 1]);
        for (int i = 0, j = 0; i < a.Count && j < b.Count; )
        {
            if (Same(i, j))
            {
                a[i] = Shared(a[i]);
                b[j] = Shared(b[j]);
                i++;
                j++;
            }
            else if (length[i + 1, j] >= length[i, j + 1])
                i++;
            else
                j++;
        }

        return (a, b);

        bool Same(int i, int j) =>
            before.AsSpan(a[i].Start, a[i].Length).SequenceEqual(after.AsSpan(b[j].Start, b[j].Length));
    }

    private static WordPiece Shared(WordPiece piece) => piece with { IsShared = true };

    // Runs of letters and digits, and each other sign by itself: '1,2' has three words, so that a comma put in shows alone.
    private static List<WordPiece> Words(string text)
    {
        var words = new List<WordPiece>();
        for (int i = 0; i < text.Length; )
        {
            if (char.IsWhiteSpace(text[i]))
            {
                i++;
                continue;
            }

            int start = i++;
            if (IsPart(text[start]))
                while (i < text.Length && IsPart(text[i]))
                    i++;
            words.Add(new WordPiece(start, i - start, false));
        }

        return words;
    }

    private static bool IsPart(char c) => char.IsLetterOrDigit(c) || c is '_' or '\'' or '.' || char.IsSurrogate(c);
}
