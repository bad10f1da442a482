using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Shapes;

/// <summary>Judges lines that a machine has read from a picture: <c>bef STATUS,5</c> is a line of a program, too.</summary>
internal static class OcrLook
{
    // More words in front of a comment are a sentence.
    private const int MostWords = 5;

    private static readonly Lazy<HashSet<string>> Operations = new(static () =>
        [
            .. OperationWords
                .Entries.Where(static w =>
                    (w.Text.Length > 2 && w.Kind == OperationKind.Instruction)
                    || w.Keyword is Keyword.Equ or Keyword.VariableBlock or Keyword.EndVariableBlock or Keyword.Org
                )
                .Select(static w => w.Text)
                .SelectMany(static o =>
                    (string[])[GlyphConfusion.Shapes(o), GlyphConfusion.Shapes(o.ToUpperInvariant())]
                ),
        ]
    );

    // A sentence has none: the names of settings have them.
    private const int LowLines = 3;

    /// <summary>Whether a line that does not read as code may be some all the same: few words, a comment after, or names of settings.</summary>
    public static bool MayBeCode(string text) =>
        text.Contains(';', StringComparison.Ordinal)
        || text.AsSpan().Count('_') >= LowLines
        || text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Length is > 0 and <= MostWords;

    /// <summary>Whether one of the first words of a line has the shape of an operation, numbers and misread numbers in front left out of account.</summary>
    public static bool HasOperation(string text) =>
        text.Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries)
            .Take(MostWords)
            .Any(static w => Operations.Value.Contains(GlyphConfusion.Shapes(w)));

    /// <summary>The look of a line by its first words, taken by their shapes.</summary>
    public static Look Of(string text)
    {
        int comment = text.IndexOf(';', StringComparison.Ordinal);
        string[] words = (comment < 0 ? text : text[..comment]).Split(
            (char[])[' ', '\t'],
            StringSplitOptions.RemoveEmptyEntries
        );
        int first = 0;
        while (first < words.Length && GutterRow.IsNumber(words[first]))
            first++;
        if (words.Length - first is 0 or > MostWords)
            return Look.Other;
        for (int i = first; i < Math.Min(words.Length, first + 2); i++)
            if (Operations.Value.Contains(GlyphConfusion.Shapes(words[i])))
                return Look.Code;
        return Look.Other;
    }
}
