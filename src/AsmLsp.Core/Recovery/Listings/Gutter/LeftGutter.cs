using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>What was in front of the lines of a listing.</summary>
/// <param name="HasLineNumbers">Line numbers.</param>
/// <param name="HasAddresses">The address of each word.</param>
/// <param name="HasWords">The words.</param>
internal readonly record struct GutterContent(bool HasLineNumbers, bool HasAddresses, bool HasWords)
{
    public bool IsNothing => !HasLineNumbers && !HasAddresses && !HasWords;
}

/// <summary>
/// Takes the numbers in front of the program off: line numbers, addresses, words in hexadecimal. Rows that show the lines of a
/// macro's call, or continue with the words of the line above, are no lines of the source: only their words are kept.
/// </summary>
internal static class LeftGutter
{
    // What most rows without a number begin at is the source's column; a head or the rest of a comment may begin anywhere.
    private const int LeastAlike = 2;

    /// <summary>The lines without their gutter, each with its address and word; the same lines where there is none.</summary>
    /// <param name="lines">The lines of the listing.</param>
    /// <param name="found">What was found in front of the rows of the whole document.</param>
    public static (List<ListingLine> Lines, GutterContent Content) Strip(
        List<ListingLine> lines,
        DocumentGutter? found = null
    )
    {
        PrintedLine[] printed =
        [
            .. lines.Where(static l => l is { Printed: not null, IsProse: false }).Select(static l => l.Printed!),
        ];
        // The document may hold other text with numbers in front of it than this listing.
        DocumentGutter gutter =
            found?.Form is not null && printed.Any(l => found.Of(l) is { Reading.Taken: > 0 })
                ? found
                : DocumentGutter.Of(printed);
        if (gutter.Form is not { } form)
            return (lines, default);
        return (Strip(lines, gutter, form), new GutterContent(form.HasNumber, form.HasAddress, form.HasWords));
    }

    private static List<ListingLine> Strip(List<ListingLine> lines, DocumentGutter gutter, GutterForm form)
    {
        (GutterRow Row, GutterMatch Reading)?[] rows =
        [
            .. lines.Select(l => l is { Printed: { } printed, IsProse: false } ? gutter.Of(printed) : null),
        ];
        int marker = form.HasWords ? MarkerColumn(rows) : -1;
        int source = SourceColumn(rows, marker, out bool moves);
        var result = new List<ListingLine>(lines.Count);
        int number = -1;
        for (int i = 0; i < lines.Count; i++)
        {
            if (rows[i] is not var (row, reading))
            {
                result.Add(lines[i]);
                continue;
            }

            var words = new List<(int Address, int Word)>();
            for (int w = 0; w < reading.Words.Count; w++)
                words.Add((reading.Address < 0 ? -1 : reading.Address + w, reading.Words[w]));
            bool shows =
                IsMarked(row, reading, marker)
                || (
                    words.Count > 0
                    && row.TextStart < 0
                    && reading.Taken == row.Cells.Count
                    && (reading.Number < 0 || !form.HasNumber || reading.Number == number)
                );
            number = reading.Number >= 0 ? reading.Number : number;
            if (shows && result.Count > 0)
            {
                int at = result.Count - 1;
                while (at > 0 && result[at].Printed is null)
                    at--;
                result[at] =
                    result[at].Word == ListingLine.NoWord
                    && words.Count > 0
                    && result[at].MoreWords.IsEmpty
                    && !IsMarked(row, reading, marker)
                        ? result[at] with
                        {
                            Address = words[0].Address,
                            Word = words[0].Word,
                            MoreWords = [.. words.Skip(1)],
                        }
                        : result[at] with
                        {
                            MoreWords = [.. result[at].MoreWords, .. words],
                        };
                continue;
            }

            string text = lines[i].Text;
            int taken = row.EndOf(reading.Taken);
            text =
                taken == 0 ? (Blank(text, Math.Min(source, text.Length)) ? text[Math.Min(source, text.Length)..] : text)
                : moves ? After(text, taken)
                : Cut(text, taken, source);
            bool has = words.Count > 0;
            GutterRowKind kind = gutter.KindOf(lines[i].Printed!);
            result.Add(
                lines[i] with
                {
                    Text = text,
                    Number = reading.Number,
                    Address = has ? words[0].Address : -1,
                    Word = has ? words[0].Word : ListingLine.NoWord,
                    MoreWords = [.. words.Skip(1)],
                    IsRow = kind == GutterRowKind.Listing,
                    IsRest = kind == GutterRowKind.Rest,
                }
            );
        }

        return result;
    }

    // A letter or sign between gutter and source marks the lines that a macro's call has made: 'M', '+'. It is in a column
    // left of all that is source.
    private static int MarkerColumn((GutterRow Row, GutterMatch Reading)?[] rows)
    {
        int column = -1,
            others = int.MaxValue;
        foreach ((GutterRow Row, GutterMatch Reading)? both in rows)
        {
            if (both is not var (row, reading))
                continue;
            if (row.TextStart < 0 || reading.Taken == 0 || reading.Taken < row.Cells.Count)
                continue;
            if (IsMark(row))
                column = column < 0 ? row.TextStart : Math.Min(column, row.TextStart);
            else
                others = Math.Min(others, row.TextStart);
        }

        return column >= 0 && column + 1 < others ? column : -1;
    }

    private static bool IsMark(GutterRow row) =>
        row.Text[row.TextStart] is 'M' or 'm' or '+' or '='
        && row.TextStart + 2 < row.Text.Length
        && GutterRow.IsBlank(row.Text[row.TextStart + 1])
        && GutterRow.IsBlank(row.Text[row.TextStart + 2]);

    private static bool IsMarked(GutterRow row, GutterMatch reading, int marker) =>
        marker >= 0 && row.TextStart == marker && reading.Taken == row.Cells.Count && IsMark(row);

    // The column where the program's first column lies: what is furthest left after the gutter, over all rows, as comments, labels and
    // directives may have nothing in front of them. A gutter whose end moves from line to line with what follows it, as ragged line numbers
    // do, has no such column.
    private static int SourceColumn((GutterRow Row, GutterMatch Reading)?[] rows, int marker, out bool moves)
    {
        int furthest = int.MaxValue,
            gutterEnd = 0;
        var bare = new Dictionary<int, int>();
        bool isGlued = false;
        foreach ((GutterRow Row, GutterMatch Reading)? both in rows)
        {
            if (both is not var (row, reading))
                continue;
            int end = row.EndOf(reading.Taken);
            gutterEnd = Math.Max(gutterEnd, end);
            isGlued |= row is { IsGlued: true, HasOwnSign: true };
            if (IsMarked(row, reading, marker))
                continue;
            int start = end;
            while (start < row.Text.Length && GutterRow.IsBlank(row.Text[start]))
                start++;
            if (start == row.Text.Length)
                continue;
            if (end > 0)
                furthest = Math.Min(furthest, start);
            else
                bare[start] = bare.GetValueOrDefault(start) + 1;
        }

        moves = furthest < gutterEnd + (isGlued ? 0 : 1);
        if (moves || furthest == int.MaxValue)
            return furthest == int.MaxValue ? gutterEnd + 1 : furthest;
        foreach ((int start, int count) in bare)
            if (start > gutterEnd && start < furthest && count >= LeastAlike)
                furthest = start;
        return furthest;
    }

    private static bool Blank(string text, int count)
    {
        for (int i = 0; i < count; i++)
            if (!GutterRow.IsBlank(text[i]))
                return false;
        return true;
    }

    private static string After(string text, int taken) =>
        taken >= text.Length ? ""
        : GutterRow.IsBlank(text[taken]) ? text[(taken + 1)..]
        : text[taken..];

    private static string Cut(string text, int taken, int source) =>
        source >= text.Length ? text[taken..].Trim()
        : source >= taken ? text[source..]
        : text[taken..];
}
