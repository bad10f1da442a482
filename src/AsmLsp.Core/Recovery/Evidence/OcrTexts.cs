using System.Buffers;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>Judges texts in quotes that were read from a picture: no program says which letters they have.</summary>
internal static class OcrTexts
{
    private static readonly SearchValues<char> Confusable = SearchValues.Create("0O1lIi5S8B2Zo");

    /// <summary>The doubt of a text, or null where the shape of each of its characters is proved and its words are of letters or of digits.</summary>
    /// <param name="word">The text with its quotes.</param>
    /// <param name="clarity">How clearly its characters were read; empty where it is not in what was read.</param>
    /// <param name="isOnGrid">Whether the room of a blank is known.</param>
    public static ReadingDoubt? Of(string word, ReadOnlySpan<float> clarity, bool isOnGrid)
    {
        if (clarity.Length != word.Length || word.Length < 3)
            return OcrQuestions.Unclear(word, "the text ");
        for (int i = 1; i + 1 < word.Length; )
        {
            if (word[i] == ' ')
            {
                if (!isOnGrid)
                    return OcrQuestions.Unclear(word, "the text ");
                i++;
                continue;
            }

            int start = i;
            while (i + 1 < word.Length && char.IsAsciiLetterOrDigit(word[i]))
                if (clarity[i++] < OcrLine.Proved)
                    return OcrQuestions.Unclear(word, "the text ");
            if (
                i == start
                    ? clarity[i++] < OcrLine.Proved || word[start] == '\\'
                    : !IsOfOneKind(word.AsSpan(start, i - start))
            )
                return OcrQuestions.Unclear(word, "the text ");
        }

        return null;
    }

    // Letters of one case, or a capital and small ones: O is no 0 there, nor l a 1. What could be both by itself is not certain.
    private static bool IsOfOneKind(ReadOnlySpan<char> run)
    {
        if (run.IndexOfAnyExcept(Confusable) < 0)
            return false;
        bool digits = run.IndexOfAnyExceptInRange('0', '9') < 0;
        if (digits)
            return true;
        // An l may be a capital I at the start of a word.
        return run[0] is not ('l' or 'I')
            && run.IndexOfAnyInRange('0', '9') < 0
            && (run[1..].IndexOfAnyInRange('a', 'z') < 0 || run[1..].IndexOfAnyInRange('A', 'Z') < 0);
    }
}
