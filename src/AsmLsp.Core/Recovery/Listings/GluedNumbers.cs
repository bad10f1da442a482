using System.Buffers;
using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Numbers of a numbered list that are close before their lines: a word processor leaves a gap after <c>9.</c> and none after
/// <c>10.</c>, which fills the room. They are parted from the line where the whole document counts on, line by line.
/// </summary>
internal static class GluedNumbers
{
    private const int LeastLines = 8;
    private static readonly SearchValues<char> HexDigits = SearchValues.Create("0123456789ABCDEFabcdef");

    /// <summary>The pages with a blank after such numbers; the same pages where there are none.</summary>
    public static PrintedPage[] Part(PrintedPage[] pages)
    {
        var numbered = new List<(int Page, int Line, int Number, int End)>();
        bool anyGlued = false;
        int steps = 0;
        for (int p = 0; p < pages.Length; p++)
        {
            for (int l = 0; l < pages[p].Lines.Length; l++)
            {
                PrintedLine line = pages[p].Lines[l];
                if (line.IsOcr || !TryNumber(line.Text, out int number, out int end))
                    continue;
                if (numbered.Count > 0 && number == numbered[^1].Number + 1)
                    steps++;
                anyGlued |= IsGlued(line.Text, end);
                numbered.Add((p, l, number, end));
            }
        }

        // Numbers with a point that are something else, as in a list of parts, do not count the lines.
        if (!anyGlued || numbered.Count < LeastLines || steps * 10 < (numbered.Count - 1) * 9)
            return pages;
        PrintedPage[] parted = [.. pages];
        for (int i = 0; i < numbered.Count; i++)
        {
            (int p, int l, int number, int end) = numbered[i];
            bool counts =
                (i > 0 && numbered[i - 1].Number == number - 1)
                || (i + 1 < numbered.Count && numbered[i + 1].Number == number + 1);
            if (!counts || !IsGlued(parted[p].Lines[l].Text, end))
                continue;
            PrintedLine line = parted[p].Lines[l];
            parted[p] = parted[p] with
            {
                Lines = parted[p]
                    .Lines.SetItem(
                        l,
                        line with
                        {
                            Text = line.Text.Insert(end, " "),
                            CharacterStarts = line.CharacterStarts.IsDefaultOrEmpty
                                ? []
                                : line.CharacterStarts.Insert(end, line.CharacterStarts[end]),
                        }
                    ),
            };
        }

        return parted;
    }

    private static bool IsGlued(string text, int end) => end < text.Length && !GutterRow.IsBlank(text[end]);

    private static bool TryNumber(string text, out int number, out int end)
    {
        int start = 0;
        while (start < text.Length && GutterRow.IsBlank(text[start]))
            start++;
        end = start;
        while (end < text.Length && char.IsAsciiDigit(text[end]))
            end++;
        number = 0;
        if (end == start || end - start > 5 || end == text.Length || text[end] is not ('.' or ')' or ':'))
            return false;
        number = int.Parse(text.AsSpan(start, end - start), CultureInfo.InvariantCulture);
        end++;
        // An address and its word: '0009:3021'.
        return end + 4 > text.Length || text.AsSpan(end, 4).ContainsAnyExcept(HexDigits);
    }
}
