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
/// line numbers rise, addresses rise by one from word to word, words have four digits in a column of their own. No label
/// begins with a digit, and where letters could be hexadecimal ones, the column decides.
/// </summary>
internal static class LeftGutter
{
    private const int LeastLines = 4;

    /// <summary>Whether a word could stand in a gutter: a number in decimal or hexadecimal digits, with a point or colon behind it.</summary>
    public static bool IsNumber(ReadOnlySpan<char> word, out int value, out bool isDecimal)
    {
        value = 0;
        if (word.Length > 1 && word[^1] is ':' or '.' or ')') word = word[..^1];
        isDecimal = word.IndexOfAnyExceptInRange('0', '9') < 0;
        if (word.Length is 0 or > 8) return false;
        // 'add', 'dec' and 'face' are names: a word of letters is a number only with four or eight digits, one of them a figure.
        if (!isDecimal && (word.Length is not (4 or 8) || !word.ContainsAnyInRange('0', '9'))) return IsFourLetters(word, out value);
        return isDecimal ? int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out value) : int.TryParse(word, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out value);
    }

    /// <summary>The lines without their gutter, each with its address and word; the same lines where there is none.</summary>
    public static (List<ListingLine> Lines, GutterContent Content) Strip(List<ListingLine> lines)
    {
        var rows = new List<Row>();
        for (int i = 0; i < lines.Count; i++)
            if (lines[i] is { Printed: not null, IsProse: false }) rows.Add(new Row(i, lines[i].Text));
        Row[] full = [.. rows.Where(static r => !r.IsEmpty)];
        if (full.Length < LeastLines) return (lines, default);
        int columns = CountColumns(full, out Kind[] kinds);
        if (columns == 0) return (lines, default);

        int source = SourceColumn(full, kinds, columns, out bool moves);
        var result = new List<ListingLine>(lines);
        foreach (Row row in full)
        {
            ListingLine line = lines[row.Line];
            int address = -1, word = -1, taken = 0;
            for (int k = 0, at = 0; k < columns && at < row.Cells.Count; k++)
            {
                if (!Fits(row, at, kinds[k], kinds.AsSpan(0, columns))) continue;
                Cell cell = row.Cells[at++];
                if (kinds[k] == Kind.Address) address = cell.Hex;
                if (kinds[k] == Kind.Word) word = cell.Hex;
                taken = cell.End;
            }

            string text = taken == 0 ? (Blank(line.Text, Math.Min(source, line.Text.Length)) ? line.Text[Math.Min(source, line.Text.Length)..] : line.Text)
                : moves ? After(line.Text, taken) : Cut(line.Text, taken, source);
            result[row.Line] = line with { Text = text, Address = word >= 0 ? address : -1, Word = word };
        }

        var content = new GutterContent(kinds.AsSpan(0, columns).Contains(Kind.LineNumber), kinds.AsSpan(0, columns).Contains(Kind.Address), kinds.AsSpan(0, columns).Contains(Kind.Word));
        return (result, content);
    }

    private enum Kind { LineNumber, Address, Word }

    private readonly record struct Cell(int Start, int End, int Value, int Hex, bool IsDecimal)
    {
        public int Digits => End - Start;
    }

    /// <summary>The numbers that a line begins with.</summary>
    private sealed class Row
    {
        public Row(int line, string text)
        {
            (Line, Text) = (line, text);
            for (int at = 0; ;)
            {
                while (at < text.Length && text[at] is ' ' or '\t' or '\u00A0') at++;
                int end = at;
                while (end < text.Length && text[end] is not (' ' or '\t' or '\u00A0')) end++;
                if (at == text.Length)
                {
                    IsEmpty = Cells.Count == 0;
                    return;
                }

                if (Cells.Count == 4 || !IsNumber(text.AsSpan(at, end - at), out int value, out bool isDecimal)) return;
                int digits = end - at - (char.IsAsciiHexDigit(text[end - 1]) ? 0 : 1);
                int hex = int.TryParse(text.AsSpan(at, digits), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out int h) ? h : -1;
                Cells.Add(new Cell(at, end, value, hex, isDecimal));
                at = end;
            }
        }

        public int Line { get; }

        public string Text { get; }

        public List<Cell> Cells { get; } = [];

        public bool IsEmpty { get; }
    }

    private static bool IsFourLetters(ReadOnlySpan<char> word, out int value)
    {
        // Words of the chip such as 'FADE' are rare; the column they stand in decides elsewhere.
        value = 0;
        return word.Length == 4 && word.IndexOfAnyExceptInRange('A', 'F') < 0 && int.TryParse(word, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out value);
    }

    // Line numbers first or last, addresses before words: the orders in which listings print them.
    private static int CountColumns(Row[] rows, out Kind[] kinds)
    {
        foreach (Kind[] order in new Kind[][]
        {
            [Kind.LineNumber, Kind.Address, Kind.Word],
            [Kind.Address, Kind.Word, Kind.LineNumber],
            [Kind.Address, Kind.Word],
            [Kind.LineNumber],
            [Kind.Address],
        })
        {
            if (Agrees(rows, order))
            {
                kinds = order;
                return order.Length;
            }
        }

        kinds = [];
        return 0;
    }

    private static bool Agrees(Row[] rows, Kind[] order)
    {
        int withNumber = 0, numbers = 0, rising = 0, withWord = 0, words = 0, addresses = 0, steps = 0, stray = 0;
        int lastNumber = -1, lastAddress = -2;
        foreach (Row row in rows)
        {
            int at = 0, found = 0;
            bool word = false;
            foreach (Kind kind in order)
            {
                if (!Fits(row, at, kind, order)) continue;
                Cell cell = row.Cells[at++];
                found++;
                if (kind == Kind.LineNumber)
                {
                    numbers++;
                    if (cell.Value > lastNumber) rising++;
                    lastNumber = cell.Value;
                }
                else if (kind == Kind.Address)
                {
                    addresses++;
                    if (cell.Hex == lastAddress + 1) steps++;
                    lastAddress = cell.Hex;
                }
                else
                {
                    word = true;
                    words++;
                }
            }

            if (at < row.Cells.Count) stray++;
            if (found > 0) withNumber++;
            if (word) withWord++;
        }

        if (stray * 20 > rows.Length) return false;
        bool wantsNumbers = order.Contains(Kind.LineNumber), wantsAddresses = order.Contains(Kind.Address), wantsWords = order.Contains(Kind.Word);
        if (wantsNumbers && (numbers * 10 < rows.Length * 7 || rising * 20 < numbers * 19)) return false;
        if (wantsAddresses && (addresses < LeastLines || steps * 10 < (addresses - 1) * 6)) return false;
        if (wantsWords && (withWord < LeastLines || words * 10 < addresses * 8)) return false;
        return withNumber > 0;
    }

    // Whether the number at a place of a row is of a kind; where all kinds are wanted, the count of numbers tells which are missing.
    private static bool Fits(Row row, int at, Kind kind, ReadOnlySpan<Kind> order)
    {
        if (at >= row.Cells.Count) return false;
        Cell cell = row.Cells[at];
        int left = row.Cells.Count - at;
        return kind switch
        {
            Kind.LineNumber => cell.IsDecimal && (order[0] == Kind.LineNumber || left == 1),
            // A lone four-digit number in a gutter that ends with line numbers is the line's number.
            Kind.Address => cell.Digits is >= 3 and <= 6 && cell.Hex is >= 0 and <= 0x3FFF && (!order.Contains(Kind.Word) || left >= 2) && (order[^1] != Kind.LineNumber || left >= 3),
            _ => cell.Digits == 4 && cell.Hex is >= 0 and <= 0x3FFF,
        };
    }

    // The column where the program's first column lies: what stands furthest left behind the gutter. A gutter whose end moves
    // from line to line with what follows it, as ragged line numbers do, has no such column.
    private static int SourceColumn(Row[] rows, Kind[] kinds, int columns, out bool moves)
    {
        int furthest = int.MaxValue, gutterEnd = 0;
        foreach (Row row in rows)
        {
            int end = 0;
            for (int k = 0, at = 0; k < columns && at < row.Cells.Count; k++)
                if (Fits(row, at, kinds[k], kinds.AsSpan(0, columns))) end = row.Cells[at++].End;
            gutterEnd = Math.Max(gutterEnd, end);
            int start = end;
            while (start < row.Text.Length && row.Text[start] is ' ' or '\t' or '\u00A0') start++;
            if (start < row.Text.Length && end > 0) furthest = Math.Min(furthest, start);
        }

        moves = furthest < gutterEnd + 1;
        return furthest == int.MaxValue ? gutterEnd + 1 : furthest;
    }

    private static bool Blank(string text, int count)
    {
        for (int i = 0; i < count; i++) if (text[i] is not (' ' or '\t' or '\u00A0')) return false;
        return true;
    }

    private static string After(string text, int taken) => taken >= text.Length ? "" : text[Math.Min(text.Length, taken + 1)..];

    private static string Cut(string text, int taken, int source) => source >= text.Length ? text[taken..].Trim() : source >= taken ? text[source..] : text[taken..];
}
