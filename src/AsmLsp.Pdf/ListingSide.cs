using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>How much one side of a page reads as a listing of its own.</summary>
/// <param name="Operations">Lines whose first or second word is an instruction or a directive that is whole there: with its operand, if it takes one.</param>
/// <param name="Remarks">Lines of a comment that has words in it.</param>
/// <param name="LoneWords">Lines with one word that is no instruction: a side of labels alone consists of them.</param>
/// <param name="Mixed">Lines with an operation far behind a comment: they belong to two columns.</param>
internal readonly record struct ListingSide(int Operations, int Remarks, int LoneWords, int Mixed)
{
    /// <summary>Counts the lines of a side.</summary>
    public static ListingSide Of(List<GlyphRow> rows)
    {
        int operations = 0,
            remarks = 0,
            lone = 0,
            mixed = 0;
        var words = new List<string>();
        foreach (GlyphRow row in rows)
        {
            bool comment =
                FirstWords(row.Glyphs, 0, words) is var stop
                && stop < row.Glyphs.Count
                && row.Glyphs[stop].Text[0] == ';';
            if (comment && HasOperationBehind(row.Glyphs, stop))
                mixed++;
            if (comment && words.Count == 0)
                remarks += IsRemark(row) ? 1 : 0;
            else if (HasOperation(words))
                operations++;
            else if (words.Count == 1 && !comment)
                lone++;
        }

        return new ListingSide(operations, remarks, lone, mixed);
    }

    // Whether an operation stands behind a comment, with the room of several characters before it.
    private static bool HasOperationBehind(List<Glyph> glyphs, int comment)
    {
        var words = new List<string>();
        double end = glyphs[comment].EndX;
        for (int i = comment + 1; i < glyphs.Count; i++)
        {
            if (glyphs[i].IsBlank)
                continue;
            if (glyphs[i].X - end > 1.5 * glyphs[i].Size)
            {
                FirstWords(glyphs, i, words);
                if (HasOperation(words))
                    return true;
            }

            end = glyphs[i].EndX;
        }

        return false;
    }

    // The first three words in front of a comment, numbers that listings print in front left out; gives the place where it stopped.
    private static int FirstWords(List<Glyph> glyphs, int from, List<string> words)
    {
        words.Clear();
        Span<char> word = stackalloc char[16];
        int length = 0;
        double end = double.NaN;
        for (int i = from; i < glyphs.Count; i++)
        {
            Glyph glyph = glyphs[i];
            if (length > 0 && (glyph.IsBlank || glyph.X - end > 0.15 * glyph.Size))
            {
                if (!IsNumber(word[..length]) || words.Count > 0)
                    words.Add(word[..length].ToString());
                length = 0;
                if (words.Count == 3)
                    return i;
            }

            if (glyph.IsBlank)
                continue;
            if (glyph.Text[0] == ';')
            {
                if (length > 0)
                    words.Add(word[..length].ToString());
                return i;
            }

            end = glyph.EndX;
            if (length < word.Length)
                word[length++] = glyph.Text[0];
        }

        if (length > 0)
            words.Add(word[..length].ToString());
        return glyphs.Count;
    }

    private static bool HasOperation(List<string> words)
    {
        for (int i = 0; i < Math.Min(2, words.Count); i++)
        {
            if (words[i].Length < 2 || OperationWords.KindOf(words[i]) == OperationKind.Unknown)
                continue;
            return i + 1 < words.Count
                || OperationWords.TakesNoOperand(words[i])
                || OperationWords.KeywordOf(words[i]) == Keyword.EndMacro;
        }

        return false;
    }

    private static bool IsRemark(GlyphRow row)
    {
        int letters = 0;
        foreach (Glyph glyph in row.Glyphs)
            if (char.IsLetter(glyph.Text[0]) && ++letters == 6)
                return true;
        return false;
    }

    private static bool IsNumber(ReadOnlySpan<char> word)
    {
        foreach (char c in word.TrimEnd(".:"))
            if (!char.IsAsciiHexDigit(c))
                return false;
        return char.IsAsciiDigit(word[0]);
    }
}
