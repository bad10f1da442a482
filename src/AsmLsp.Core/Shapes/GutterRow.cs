namespace AsmLsp.Core.Shapes;

/// <summary>
/// The numbers that a printed line begins with, and the sign that parts them from the text: <c>12|</c>, <c>0005:3021</c>, <c>7 0005 3021 |</c>.
/// Whether the sign belongs to the gutter or to the text is reported by the other lines.
/// </summary>
internal sealed class GutterRow
{
    private const int MostCells = 12;

    // A sign that opens a number is so far in front of it at most.
    private const int MostPadding = 5;

    // Signs with which listings part numbers from each other and from the text; none begins a line of a program.
    private const string Signs = "|:.)]}>-=/,\u00A6\u2502\u2551\u2013";

    // Signs that may open what one of the others closes.
    private const string Openers = "[({<|";

    public GutterRow(int line, string text)
    {
        (Line, Text) = (line, text);
        int at = 0,
            placeholders = 0;
        TextStart = -1;
        while (Cells.Count < MostCells)
        {
            at = Skip(text, at);
            if (at == text.Length)
                return;
            int start = at;
            if (Openers.Contains(text[at]))
                start = Opened(text, at);
            int end = start;
            while (end < text.Length && (char.IsAsciiHexDigit(text[end]) || text[end] == '?'))
                end++;
            if (end > start && GutterCell.TryRead(text.AsSpan(start, end - start), out int value, out int hex))
            {
                int digits = end - start;
                if (end == text.Length || IsBlank(text[end]))
                {
                    Add(new GutterCell(at, end, digits, value, hex));
                    at = end;
                    continue;
                }

                if (Signs.Contains(text[end]))
                {
                    int after = end + 1;
                    bool ends = after == text.Length || IsBlank(text[after]);
                    if (!ends && IsNumberAt(text, after))
                    {
                        Add(new GutterCell(at, end, digits, value, hex));
                        at = after;
                        continue;
                    }

                    Add(new GutterCell(at, after, digits, value, hex));
                    (Sign, SignStart, IsGlued) = (text[end], end, !ends);
                    at = after;
                    if (ends)
                        continue;
                    TextStart = at;
                    return;
                }
            }
            else if (Signs.Contains(text[at]) && (at + 1 == text.Length || IsBlank(text[at + 1])))
            {
                int after = Skip(text, at + 1);
                if (Sign == '\0' || !IsSignAlone)
                    (Sign, SignStart, IsSignAlone) = (text[at], at, true);
                // A sign between two numbers is a gutter's; the first one in front of text has to be one by the other lines.
                if (after < text.Length && IsNumberAt(text, after))
                {
                    at = after;
                    continue;
                }

                TextStart = at;
                return;
            }
            else if (at + 4 <= text.Length && text.AsSpan(at, 4).SequenceEqual("----") && EndsAt(text, at + 4))
            {
                // Where others have an address or a word.
                if (++placeholders <= 2)
                {
                    at += 4;
                    continue;
                }
            }

            TextStart = at;
            return;
        }

        at = Skip(text, at);
        TextStart = at < text.Length ? at : -1;
    }

    /// <summary>The place among the lines looked at.</summary>
    public int Line { get; }

    public string Text { get; }

    /// <summary>Whether a machine has read it from a picture, and its numbers may be misread.</summary>
    public bool IsOcr { get; init; }

    /// <summary>The numbers, from the left.</summary>
    public List<GutterCell> Cells { get; } = [];

    /// <summary>The column of the first character that is no number's, or -1 where there is none.</summary>
    public int TextStart { get; private set; }

    /// <summary>The sign after the numbers, or the null character.</summary>
    public char Sign { get; private set; }

    /// <summary>The column of the sign.</summary>
    public int SignStart { get; private set; } = -1;

    /// <summary>Whether the text is close to the sign: <c>12|start</c>.</summary>
    public bool IsGlued { get; private set; }

    /// <summary>Whether the sign is with blanks around it.</summary>
    public bool IsSignAlone { get; private set; }

    /// <summary>Whether the sign was found to be the gutter's.</summary>
    public bool HasOwnSign { get; private set; }

    public bool IsEmpty => Cells.Count == 0 && TextStart < 0;

    /// <summary>The text after the numbers, the sign taken as the gutter's where that is asked for.</summary>
    public ReadOnlySpan<char> After(bool withoutSign)
    {
        if (withoutSign && IsSignAlone && TextStart == SignStart)
            return Text.AsSpan(SignStart + 1);
        return TextStart < 0 ? [] : Text.AsSpan(TextStart);
    }

    /// <summary>Decides what the sign is: the gutter's, or the text's.</summary>
    public void ResolveSign(char? gutterSign)
    {
        HasOwnSign = Sign != '\0' && Sign == gutterSign;
        if (HasOwnSign)
        {
            if (IsSignAlone && TextStart == SignStart)
            {
                int after = Skip(Text, SignStart + 1);
                TextStart = after < Text.Length ? after : -1;
            }

            return;
        }

        // '10-bit' is no number with a sign.
        if (IsGlued && Cells.Count > 0)
        {
            TextStart = Cells[^1].Start;
            Cells.RemoveAt(Cells.Count - 1);
        }
    }

    /// <summary>The column after the gutter, where so many numbers belong to it.</summary>
    public int EndOf(int taken)
    {
        int end = taken == 0 ? 0 : Cells[taken - 1].End;
        return HasOwnSign && taken == Cells.Count && SignStart + 1 > end ? SignStart + 1 : end;
    }

    public static bool IsBlank(char c) => c is ' ' or '\t' or '\u00A0';

    /// <summary>Whether a word could be in a gutter: digits, with a sign after them or none.</summary>
    public static bool IsNumber(ReadOnlySpan<char> word) =>
        GutterCell.TryRead(word.Length > 1 && Signs.Contains(word[^1]) ? word[..^1] : word, out _, out _);

    /// <summary>Where the text begins after numbers that could be a gutter's, and the signs between and after them.</summary>
    public static int AfterNumbers(string text)
    {
        int at = Skip(text, 0);
        if (
            at == text.Length
            || (!char.IsAsciiHexDigit(text[at]) && !Signs.Contains(text[at]) && !Openers.Contains(text[at]))
        )
            return at;
        var row = new GutterRow(0, text);
        if (row.Cells.Count == 0)
            return at;
        if (row.IsGlued && row.Sign != '|')
            return row.Cells[^1].Start;
        if (row.IsSignAlone && row.TextStart == row.SignStart)
            return Skip(text, row.SignStart + 1);
        return row.TextStart < 0 ? text.Length : row.TextStart;
    }

    private void Add(GutterCell cell) => Cells.Add(cell);

    private static int Skip(string text, int at)
    {
        while (at < text.Length && IsBlank(text[at]))
            at++;
        return at;
    }

    // Where the number begins that is opened by a sign: '(38)', and '( 38)' where numbers are below each other by their last digits.
    private static int Opened(string text, int at)
    {
        int digit = at + 1;
        while (digit < text.Length && digit - at < MostPadding && text[digit] == ' ')
            digit++;
        if (digit == text.Length || !char.IsAsciiDigit(text[digit]))
            return at;
        int end = digit;
        while (end < text.Length && char.IsAsciiDigit(text[end]))
            end++;
        return digit == at + 1 || (end < text.Length && text[end] is ')' or ']' or '}' or '>' or '|') ? digit : at;
    }

    private static bool EndsAt(string text, int at) => at == text.Length || IsBlank(text[at]);

    private static bool IsNumberAt(string text, int at)
    {
        int end = at;
        while (end < text.Length && (char.IsAsciiHexDigit(text[end]) || text[end] == '?'))
            end++;
        return end - at is >= 3 and <= 8
            && (EndsAt(text, end) || Signs.Contains(text[end]))
            && GutterCell.TryRead(text.AsSpan(at, end - at), out _, out _);
    }
}
