using System.Collections.Immutable;
using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>Changes characters of a row that OCR read, together with what is known about each of them.</summary>
internal static class OcrEdit
{
    // What can be nothing else is as certain as what was read clearly.
    private const float Certain = 0.99f;

    /// <summary>The row with another character at a place.</summary>
    /// <param name="line">The row.</param>
    /// <param name="at">The place.</param>
    /// <param name="now">The character.</param>
    /// <param name="isCertain">Whether no other one can be there, however clearly it was read.</param>
    public static PrintedLine Replace(PrintedLine line, int at, char now, bool isCertain = false) =>
        line with
        {
            CharacterConfidences =
                isCertain && !line.CharacterConfidences.IsDefaultOrEmpty
                    ? line.CharacterConfidences.SetItem(at, Math.Max(Certain, line.CharacterConfidences[at]))
                    : line.CharacterConfidences,
            Text = string.Concat(line.Text.AsSpan(0, at), now.ToString(), line.Text.AsSpan(at + 1)),
            AsRead = line.AsRead ?? line.Text,
        };

    /// <summary>The row without a character; what follows the word keeps its column.</summary>
    public static PrintedLine Remove(PrintedLine line, int at)
    {
        int end = at;
        while (end < line.Text.Length && line.Text[end] != ' ')
            end++;
        return line with
        {
            Text = string.Concat(
                    line.Text.AsSpan(0, at),
                    line.Text.AsSpan(at + 1, end - at - 1),
                    " ",
                    line.Text.AsSpan(end)
                )
                .TrimEnd(),
            AsRead = line.AsRead ?? line.Text,
            CharacterStarts = Moved(line.CharacterStarts, at, end),
            CharacterConfidences = Moved(line.CharacterConfidences, at, end),
        };
    }

    /// <summary>The row without the blanks between two places.</summary>
    public static PrintedLine Close(PrintedLine line, int from, int to) =>
        line with
        {
            Text = line.Text.Remove(from, to - from),
            AsRead = line.AsRead ?? line.Text,
            CharacterStarts = line.CharacterStarts.IsDefaultOrEmpty
                ? line.CharacterStarts
                : line.CharacterStarts.RemoveRange(from, to - from),
            CharacterConfidences = line.CharacterConfidences.IsDefaultOrEmpty
                ? line.CharacterConfidences
                : line.CharacterConfidences.RemoveRange(from, to - from),
        };

    /// <summary>The row with another word at the place of one; what follows keeps its column where there is room.</summary>
    public static PrintedLine Write(PrintedLine line, int from, int to, string word)
    {
        int common = Math.Min(to - from, word.Length);
        for (int i = 0; i < common; i++)
            if (line.Text[from + i] != word[i])
                line = Replace(line, from + i, word[i], isCertain: true);
        for (int i = from + word.Length; i < to; i++)
            line = Remove(line, from + word.Length);
        for (int at = to; at < from + word.Length; at++)
        {
            bool hasRoom = at + 1 < line.Text.Length && line.Text[at] == ' ' && line.Text[at + 1] == ' ';
            line = hasRoom ? Replace(line, at, word[at - from], isCertain: true) : Insert(line, at, word[at - from]);
        }

        return line;
    }

    private static PrintedLine Insert(PrintedLine line, int at, char c) =>
        line with
        {
            Text = line.Text.Insert(at, c.ToString()),
            AsRead = line.AsRead ?? line.Text,
            CharacterStarts = line.CharacterStarts.IsDefaultOrEmpty
                ? line.CharacterStarts
                : line.CharacterStarts.Insert(at, line.CharacterStarts[Math.Min(at, line.CharacterStarts.Length - 1)]),
            CharacterConfidences = line.CharacterConfidences.IsDefaultOrEmpty
                ? line.CharacterConfidences
                : line.CharacterConfidences.Insert(at, Certain),
        };

    // One value less at the place, and one more at the end of the word; a text that became shorter needs one less.
    private static ImmutableArray<float> Moved(ImmutableArray<float> values, int at, int end)
    {
        if (values.IsDefaultOrEmpty)
            return values;
        float gone = values[at];
        return end >= values.Length ? values.RemoveAt(at) : values.RemoveAt(at).Insert(end - 1, gone);
    }
}
