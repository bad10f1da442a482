using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>What is asked about lines and words that were read from a picture.</summary>
internal static class OcrQuestions
{
    /// <summary>Blanks, commas and whole words get lost, and stay unseen, where no character has a cell of its own.</summary>
    public static ReadingDoubt OffGrid { get; } =
        new(
            new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral },
            "Read from a picture of a font with wide and narrow letters, where a lost character cannot be seen. Compare the line with the page."
        );

    /// <summary>Somebody's recognition lies below the picture.</summary>
    public static ReadingDoubt Layer { get; } =
        new(
            new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral },
            "Some text recognition read this line before it came here, and nobody knows how clearly, or what it passed over. Compare the line with the page."
        );

    /// <summary>Dirt hides what was not read.</summary>
    public static ReadingDoubt DirtyPage { get; } =
        new(
            new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral },
            "The page is too dirty: a comma, a point or a digit of this line may be missing. Compare the line with the page."
        );

    /// <summary>The doubt of a word that may be another one.</summary>
    public static ReadingDoubt Unclear(string word, string what = "") =>
        new(
            new Doubt($"check {word}"),
            $"Read from a picture, and {what}{word} is not beyond doubt. Compare it with the page."
        );

    /// <summary>The doubt of a word that may be one of several.</summary>
    public static ReadingDoubt Either(LineSyntax syntax, int token, List<string> others)
    {
        string words = string.Join(" or ", others.Prepend(syntax.TextOf(token)));
        var readings = others.Select(other =>
            DoubtReading.Of(
                string.Concat(
                    syntax.Text.AsSpan(0, syntax.Tokens[token].Start),
                    other,
                    syntax.Text.AsSpan(syntax.Tokens[token].End)
                )
            )
        );
        return new(
            new Doubt($"is it {words}?") { Alternatives = [.. readings] },
            $"Read from a picture: is it {words}? Compare it with the page."
        );
    }
}
