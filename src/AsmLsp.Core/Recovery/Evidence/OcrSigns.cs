using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>Judges the signs between the words of a line that a machine has read: <c>-40</c> may be <c>.40</c> on paper.</summary>
internal static class OcrSigns
{
    // Below this a sign may be any other one.
    private const float Clear = 0.9f;

    /// <summary>The doubt of an operator, or null.</summary>
    /// <param name="syntax">The line.</param>
    /// <param name="token">The operator, by its place among the tokens.</param>
    /// <param name="clarity">How clearly it was read; empty where it does not be so in what was read.</param>
    public static ReadingDoubt? Of(LineSyntax syntax, int token, ReadOnlySpan<float> clarity)
    {
        string sign = syntax.TextOf(token);
        // 'high' and 'low' are words, and nothing like each other.
        if (char.IsAsciiLetter(sign[0]))
            return null;
        // The sign of a value, not one between two: the point of a decimal number is as small a spot.
        bool next =
            token + 1 < syntax.EndOfCode
            && syntax.Tokens[token + 1].Kind == TokenKind.Number
            && syntax.TextOf(token + 1).AsSpan().IndexOfAnyExceptInRange('0', '9') < 0;
        if (sign is "-" or "~" or "+" && next && IsInFront(syntax, token))
        {
            string other = "." + syntax.TextOf(token + 1);
            string text = string.Concat(
                syntax.Text.AsSpan(0, syntax.Tokens[token].Start),
                other,
                syntax.Text.AsSpan(syntax.Tokens[token + 1].End)
            );
            return new(
                new Doubt($"is it {sign}{syntax.TextOf(token + 1)} or {other}?")
                {
                    Alternatives = [DoubtReading.Of(text)],
                },
                $"Read from a picture: is it {sign}{syntax.TextOf(token + 1)} or {other}? Compare it with the page."
            );
        }

        foreach (float c in clarity)
            if (c < Clear)
                return new(
                    new Doubt($"check {sign}"),
                    $"Read from a picture, and {sign} is not beyond doubt. Compare it with the page."
                );
        return null;
    }

    private static bool IsInFront(LineSyntax syntax, int token)
    {
        if (token == 0)
            return true;
        return syntax.Tokens[token - 1].Kind switch
        {
            TokenKind.Blank or TokenKind.Comma or TokenKind.Open or TokenKind.Operator => true,
            _ => false,
        };
    }
}
