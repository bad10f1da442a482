using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>The point of a decimal number is the smallest sign of a page: <c>32</c> in a program whose other numbers are written as <c>.32</c> may have lost it.</summary>
internal sealed class LostPoints
{
    // So many numbers with a point are a habit; numbers without one have to be fewer.
    private const int Least = 2;

    private readonly bool hasHabit;

    public LostPoints(RecoveryResult result)
    {
        int points = 0,
            plain = 0;
        for (int i = 0; i < result.Source.LineCount; i++)
        {
            LineSyntax syntax = LineSyntax.Of(result.Source[i]);
            for (int t = 0; t < syntax.EndOfCode; t++)
                if (syntax.Tokens[t].Kind == TokenKind.Number)
                {
                    if (syntax.TextOf(t)[0] == '.')
                        points++;
                    else if (IsPlain(syntax.TextOf(t)))
                        plain++;
                }
        }

        hasHabit = points >= Least && points > plain;
    }

    /// <summary>The doubt of a number, or null.</summary>
    public ReadingDoubt? Of(LineSyntax syntax, int token, int radix)
    {
        string word = syntax.TextOf(token);
        if (!hasHabit || radix == 10 || !IsPlain(word))
            return null;
        string text = string.Concat(
            syntax.Text.AsSpan(0, syntax.Tokens[token].Start),
            ".",
            syntax.Text.AsSpan(syntax.Tokens[token].Start)
        );
        return new(
            new Doubt($"is it {word} or .{word}?") { Alternatives = [DoubtReading.Of(text)] },
            $"Other numbers of this program are written with a point. Is it {word} or .{word}? Compare it with the page."
        );
    }

    // Of one digit, both mean the same.
    private static bool IsPlain(string word) =>
        word.AsSpan().TrimStart('0').Length > 1 && word.AsSpan().IndexOfAnyExceptInRange('0', '9') < 0;
}
