using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>Judges numbers that were read from a picture: nothing in a program says that a digit is another one.</summary>
internal static class OcrNumbers
{
    // Wrong digits were read with up to 0.980 in the measurements; a letter that names the notation has the support of the digits.
    private const float ClearDigit = 0.985f,
        ClearLetter = 0.9f,
        Unsure = 0.5f;

    /// <summary>The doubt of a number, or null.</summary>
    /// <param name="syntax">Its line.</param>
    /// <param name="token">Its place among the tokens.</param>
    /// <param name="clarity">How clearly its characters were read; empty where it is not in what was read.</param>
    /// <param name="radix">The radix of numbers without a notation.</param>
    /// <param name="isDestination">Whether it is the destination of an instruction.</param>
    public static ReadingDoubt? Of(LineSyntax syntax, int token, float[] clarity, int radix, bool isDestination)
    {
        string word = syntax.TextOf(token);
        if (clarity.Length == 0)
            return OcrQuestions.Unclear(word);
        // 0 and 1 are not taken for each other, and nothing else can be there.
        if (isDestination && word is "0" or "1")
            return clarity[0] < Unsure ? OcrQuestions.Unclear(word) : null;
        LiteralReading reading = Literals.Read(word, radix);
        (int first, int end) = DigitsOf(word, reading);
        for (int i = 0; i < clarity.Length; i++)
        {
            bool isDigit = i >= first && i < end;
            // The 0 and the x in front of hexadecimal digits, and quotes around any, can be nothing else.
            bool isFixed = !isDigit && word[i] is '0' or 'x' or 'X' or '\'' or '"';
            if (!isFixed && clarity[i] < (isDigit ? ClearDigit : ClearLetter))
                return OcrQuestions.Unclear(word);
        }

        if (reading.Radix == 16 && OtherOf(word, clarity, first, end) is { } other)
            return OcrQuestions.Either(syntax, token, [other]);
        if (
            reading.Notation == LiteralNotation.Binary
            && word.AsSpan().Count('0') + word.AsSpan().Count('1') is not (8 or 14) and > 4
        )
            return OcrQuestions.Unclear(word);
        // The d of a decimal and the a of a character are taken for each other.
        return word.Length == 4 && word[1] == '\'' && word[0] is 'a' or 'A' ? OcrQuestions.Unclear(word) : null;
    }

    private static (int First, int End) DigitsOf(string word, in LiteralReading reading)
    {
        int first = 0,
            end = word.Length;
        if (word.Length > 2 && word[1] == '\'')
            (first, end) = (2, word.EndsWith('\'') ? end - 1 : end);
        else if (word.Length > 2 && word[0] == '0' && word[1] is 'x' or 'X')
            first = 2;
        else if (reading.Radix == 16 && word[^1] is 'h' or 'H')
            end--;
        return (first, end);
    }

    // Small c and e are taken for each other at any clarity, unless their shapes on the page prove them.
    private static string? OtherOf(string word, float[] clarity, int first, int end)
    {
        char[]? other = null;
        for (int i = first; i < end; i++)
        {
            if (word[i] is not ('c' or 'e') || clarity[i] >= OcrLine.Proved)
                continue;
            other ??= word.ToCharArray();
            other[i] = word[i] == 'c' ? 'e' : 'c';
        }

        return other is null ? null : new string(other);
    }
}
