using System.Globalization;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>What stood in front of the lines of a listing.</summary>
/// <param name="HasLineNumbers">Line numbers.</param>
/// <param name="HasAddresses">The address of each word.</param>
/// <param name="HasWords">The words.</param>
internal readonly record struct GutterContent(bool HasLineNumbers, bool HasAddresses, bool HasWords)
{
    public bool IsNothing => !HasLineNumbers && !HasAddresses && !HasWords;
}

/// <summary>
/// Columns in front of the program: line numbers, addresses, words in hexadecimal. They are known by what they hold:
/// line numbers rise, addresses rise from word to word, words have four digits in a column of their own. No label
/// begins with a digit, and where letters could be hexadecimal ones, the column decides. Rows that show the lines of a
/// macro's call, or go on with the words of the line above, are no lines of the source: only their words are kept.
/// </summary>
internal static class LeftGutter
{
    private const int LeastLines = 4;

    /// <summary>Whether a word could stand in a gutter: a number in decimal or hexadecimal digits, with a point or colon behind it.</summary>
    public static bool IsNumber(ReadOnlySpan<char> word, out int value, out bool isDecimal)
    {
        value = 0;
        if (word.Length > 1 && word[^1] is ':' or '.' or ')')
            word = word[..^1];
        isDecimal = word.IndexOfAnyExceptInRange('0', '9') < 0;
        if (word.Length is 0 or > 8)
            return false;
        if (isDecimal)
            return int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out value);
        // 'add', 'face' and 'dec1:' are names: no address and no word of 14 bits begins with a letter (0x3FFF is the highest), only a value of eight digits may.
        if (!char.IsAsciiDigit(word[0]) && (word.Length != 8 || !word.ContainsAnyInRange('0', '9')))
            return false;
        return int.TryParse(word, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out value);
    }

    /// <summary>The lines without their gutter, each with its address and word; the same lines where there is none.</summary>
    public static (List<ListingLine> Lines, GutterContent Content) Strip(List<ListingLine> lines)
    {
        var rows = new List<GutterRow>();
        for (int i = 0; i < lines.Count; i++)
            if (lines[i] is { Printed: not null, IsProse: false })
                rows.Add(new GutterRow(i, lines[i].Text));
        GutterRow[] full = [.. rows.Where(static r => !r.IsEmpty)];
        if (full.Length < LeastLines)
            return (lines, default);
        foreach (GutterForm form in GutterForm.All)
        {
            if (form.Read(full) is not { } readings)
                continue;
            (List<ListingLine> Lines, GutterContent Content) found = Strip(lines, full, readings, form);
            // Where the columns are lost, the numbers of all lines hide that some of them have an address and a word behind.
            return form is { HasNumber: true, HasWords: false } ? StripMore(found.Lines, found.Content) : found;
        }

        return (lines, default);
    }

    private static (List<ListingLine> Lines, GutterContent Content) StripMore(
        List<ListingLine> lines,
        GutterContent content
    )
    {
        (List<ListingLine> more, GutterContent behind) = Strip(lines);
        if (!behind.HasAddresses || !behind.HasWords)
            return (lines, content);
        var numbers = lines
            .Where(static l => l.Printed is not null)
            .ToDictionary(static l => l.Origin.Places[0], static l => l.Number);
        return (
            [
                .. more.Select(l =>
                    l.Printed is not null && numbers.TryGetValue(l.Origin.Places[0], out int number)
                        ? l with
                        {
                            Number = number,
                        }
                        : l
                ),
            ],
            behind with
            {
                HasLineNumbers = true,
            }
        );
    }

    private static (List<ListingLine> Lines, GutterContent Content) Strip(
        List<ListingLine> lines,
        GutterRow[] rows,
        GutterReading[] readings,
        GutterForm form
    )
    {
        int marker = form.HasWords ? MarkerColumn(rows, readings) : -1;
        int source = SourceColumn(rows, readings, marker, out bool moves);
        var result = new List<ListingLine>(lines.Count);
        int next = 0;
        for (int i = 0; i < lines.Count; i++)
        {
            if (next == rows.Length || rows[next].Line != i)
            {
                result.Add(lines[i]);
                continue;
            }

            GutterRow row = rows[next];
            GutterReading reading = readings[next++];
            var words = new List<(int Address, int Word)>();
            for (int w = 0; w < reading.Words.Count; w++)
                words.Add((reading.Address + w, reading.Words[w]));
            bool shows =
                IsMarked(row, reading, marker)
                || (
                    words.Count > 0
                    && row.TextStart < 0
                    && reading.Taken == row.Cells.Count
                    && (reading.Number < 0 || !form.HasNumber)
                );
            if (shows && result.Count > 0)
            {
                result[^1] = result[^1] with { MoreWords = [.. result[^1].MoreWords, .. words] };
                continue;
            }

            string text = lines[i].Text;
            int taken = reading.Taken == 0 ? 0 : row.Cells[reading.Taken - 1].End;
            text =
                taken == 0 ? (Blank(text, Math.Min(source, text.Length)) ? text[Math.Min(source, text.Length)..] : text)
                : moves ? After(text, taken)
                : Cut(text, taken, source);
            bool has = words.Count > 0;
            result.Add(
                lines[i] with
                {
                    Text = text,
                    Number = reading.Number,
                    Address = has ? reading.Address : -1,
                    Word = has ? words[0].Word : -1,
                    MoreWords = [.. words.Skip(1)],
                }
            );
        }

        return (result, new GutterContent(form.HasNumber, form.HasAddress, form.HasWords));
    }

    // A letter or sign between gutter and source marks the lines that a macro's call has made: 'M', '+'. It stands in a column
    // left of all that is source.
    private static int MarkerColumn(GutterRow[] rows, GutterReading[] readings)
    {
        int column = -1,
            others = int.MaxValue;
        for (int i = 0; i < rows.Length; i++)
        {
            if (rows[i].TextStart < 0 || readings[i].Taken == 0 || readings[i].Taken < rows[i].Cells.Count)
                continue;
            if (IsMark(rows[i]))
                column = column < 0 ? rows[i].TextStart : Math.Min(column, rows[i].TextStart);
            else
                others = Math.Min(others, rows[i].TextStart);
        }

        return column >= 0 && column + 1 < others ? column : -1;
    }

    private static bool IsMark(GutterRow row) =>
        row.Text[row.TextStart] is 'M' or 'm' or '+' or '='
        && row.TextStart + 2 < row.Text.Length
        && GutterRow.IsBlank(row.Text[row.TextStart + 1])
        && GutterRow.IsBlank(row.Text[row.TextStart + 2]);

    private static bool IsMarked(GutterRow row, GutterReading reading, int marker) =>
        marker >= 0 && row.TextStart == marker && reading.Taken == row.Cells.Count && IsMark(row);

    // The column where the program's first column lies: what stands furthest left behind the gutter. A gutter whose end moves
    // from line to line with what follows it, as ragged line numbers do, has no such column.
    private static int SourceColumn(GutterRow[] rows, GutterReading[] readings, int marker, out bool moves)
    {
        int furthest = int.MaxValue,
            gutterEnd = 0;
        for (int i = 0; i < rows.Length; i++)
        {
            GutterRow row = rows[i];
            int end = readings[i].Taken == 0 ? 0 : row.Cells[readings[i].Taken - 1].End;
            gutterEnd = Math.Max(gutterEnd, end);
            if (IsMarked(row, readings[i], marker))
                continue;
            int start = end;
            while (start < row.Text.Length && GutterRow.IsBlank(row.Text[start]))
                start++;
            if (start < row.Text.Length && end > 0)
                furthest = Math.Min(furthest, start);
        }

        moves = furthest < gutterEnd + 1;
        return furthest == int.MaxValue ? gutterEnd + 1 : furthest;
    }

    private static bool Blank(string text, int count)
    {
        for (int i = 0; i < count; i++)
            if (!GutterRow.IsBlank(text[i]))
                return false;
        return true;
    }

    private static string After(string text, int taken) =>
        taken >= text.Length ? "" : text[Math.Min(text.Length, taken + 1)..];

    private static string Cut(string text, int taken, int source) =>
        source >= text.Length ? text[taken..].Trim()
        : source >= taken ? text[source..]
        : text[taken..];
}
