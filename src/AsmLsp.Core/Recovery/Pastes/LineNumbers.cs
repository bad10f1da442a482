using System.Globalization;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>
/// Numbers that count the lines in forms that no printed page has: with a word or sign in front (<c>main.asm:12:</c>, <c>#12</c>, <c>[12]</c>), glued
/// to the text, at the ends of the lines, or on lines of their own. Each line having the number after that of the line above is the proof.
/// They are written as plain numbers in front of the lines, where the gutter is looked for.
/// </summary>
internal static class LineNumbers
{
    // So many lines in a row do not count by chance.
    private const int LeastNumbers = 8;
    private const int LongestPrefix = 40;
    private const int MostPrefixes = 8;

    // Fewer numbers at even distances may be chance.
    private const int LeastSparse = 4;

    /// <summary>Numbers on lines of their own above the lines that they count.</summary>
    public static string? BesideLines(string[] lines)
    {
        var at = new List<(int Line, int Number)>();
        for (int i = 0; i < lines.Length; i++)
            if (WholeNumber(lines[i]) is { } number)
                at.Add((i, number));
        // One line each, and none between: their sum says whether all lines are counted.
        int good = 0;
        for (int k = 1; k < at.Count; k++)
            if (at[k].Number == at[k - 1].Number + 1 && at[k].Line - at[k - 1].Line <= 2)
                good++;
        if (good < LeastNumbers || good * 20 < (at.Count - 1) * 19)
            return null;
        // A column of numbers without their lines is another matter.
        if (at.Count(a => a.Line + 1 < lines.Length && WholeNumber(lines[a.Line + 1]) is null) * 2 < at.Count)
            return null;
        int width = Digits(at[^1].Number);
        foreach ((int line, int number) in at)
        {
            lines[line] = "";
            int text = line + 1;
            if (text < lines.Length && WholeNumber(lines[text]) is null)
                lines[text] = Numbered(number, width, lines[text]);
        }

        return "Line numbers on lines of their own were taken to the lines below them.";
    }

    /// <summary>Numbers at the ends of the lines.</summary>
    public static string? AtEnds(string[] lines)
    {
        var found = new List<(int Line, int Number, int Start)>();
        int written = 0;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].TrimEnd();
            if (line.Length == 0)
                continue;
            written++;
            int start = line.Length;
            while (start > 0 && char.IsAsciiDigit(line[start - 1]))
                start--;
            bool isNumber =
                start < line.Length
                && line.Length - start < 6
                && (start == 0 || line[start - 1] is ' ' or '\t')
                && line[start] != '0';
            // A value is there, and no number of a line, where what is before it asks for one.
            if (isNumber && AsksForValue(line.AsSpan(0, start).TrimEnd()))
                return null;
            if (isNumber)
                found.Add((i, int.Parse(line.AsSpan(start), CultureInfo.InvariantCulture), start));
        }

        if (!Counts([.. found.Select(static f => f.Number)], written))
            return null;
        int width = Digits(found[^1].Number);
        foreach ((int line, int number, int start) in found)
            lines[line] = Numbered(number, width, lines[line][..start].TrimEnd());
        return "Line numbers at the ends of the lines were taken to the fronts.";
    }

    /// <summary>Numbers with a word or sign before them, or glued to the text.</summary>
    public static string? Decorated(string[] lines)
    {
        int[] written = [.. Enumerable.Range(0, lines.Length).Where(i => !string.IsNullOrWhiteSpace(lines[i]))];
        if (written.Length < LeastNumbers)
            return null;
        var tried = new HashSet<string>(StringComparer.Ordinal);
        // A line or two may be from elsewhere: of several pairs of lines one has the form of nearly all.
        for (int k = 0; k < MostPrefixes; k++)
        {
            string prefix = Prefix(
                lines[written[written.Length * k / MostPrefixes]],
                lines[written[(written.Length * (k + 1) / MostPrefixes) - 1]]
            );
            if (tried.Add(prefix) && Decorated(lines, written, prefix) is { } note)
                return note;
        }

        return null;
    }

    private static string? Decorated(string[] lines, int[] written, string prefix)
    {
        var found = new List<(int Line, int Number, int End)>();
        int? before = null;
        foreach (int i in written)
        {
            if (NumberAt(lines[i], prefix, before) is not { } number)
                continue;
            found.Add((i, number.Number, number.End));
            before = number.Number;
        }

        if (!Counts([.. found.Select(static f => f.Number)], written.Length))
            return null;
        char? sign = SignAfter(lines, found);
        bool isGlued = found.Exists(f => Rest(lines[f.Line], f.End, sign) is [not ' ' and not '\t', ..]);
        // Plain numbers with room after them are found with the gutter of a page.
        if ((prefix.Length == 0 && !isGlued) || MayBeLabels(prefix, lines, found, sign))
            return null;
        int width = Digits(found[^1].Number);
        foreach ((int line, int number, int end) in found)
            lines[line] = Numbered(number, width, Rest(lines[line], end, sign));
        return "Line numbers in front of the lines were parted from their signs and from the text.";
    }

    /// <summary>Numbers in front of each fifth or tenth line, where each is at its distance from the one before: the lines without one have lost their room.</summary>
    public static string? OnSomeLines(string[] lines)
    {
        var found = new List<(int Line, int Number, int End)>();
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i];
            int end = 0;
            while (end < line.Length && char.IsAsciiDigit(line[end]))
                end++;
            if (end is > 0 and < 6 && line[0] != '0' && (end == line.Length || line[end] is ' ' or '\t'))
                found.Add((i, int.Parse(line.AsSpan(0, end), CultureInfo.InvariantCulture), end));
        }

        if (found.Count < LeastSparse)
            return null;
        int step = found[1].Number - found[0].Number;
        if (step is not (5 or 10 or 2 or 4) || found[0].Line >= step || found[^1].Line + step < lines.Length - 1)
            return null;
        for (int k = 1; k < found.Count; k++)
            if (found[k].Number - found[k - 1].Number != step || found[k].Line - found[k - 1].Line != step)
                return null;
        foreach ((int line, _, int end) in found)
            lines[line] = end + 1 < lines[line].Length ? lines[line][(end + 1)..] : "";
        return $"Line numbers in front of each line number {step}, {2 * step} and so on were taken off.";
    }

    private static bool AsksForValue(ReadOnlySpan<char> before)
    {
        if (before.IsEmpty || before.Contains(';'))
            return false;
        if (before[^1] is ',' or '=' or '+' or '-' or '*' or '/' or '&' or '|' or '(' or '<' or '^' or '~')
            return true;
        int start = before.LastIndexOfAny(' ', '\t') + 1;
        return OperationWords.Find(before[start..].ToString()) is { } word && word.Has(WordTraits.NeedsOperand);
    }

    // Labels are numbered, too, and those of a table are on each of its lines. No label is on a blank line, and few on lines of comment.
    private static bool MayBeLabels(
        string prefix,
        string[] lines,
        List<(int Line, int Number, int End)> found,
        char? sign
    ) =>
        prefix.Length > 0
        && prefix.All(static c => char.IsAsciiLetterOrDigit(c) || c is '_' or '.' or '@' or '?')
        && found.Count(f => Rest(lines[f.Line], f.End, sign).AsSpan().Trim() is [] or [';', ..]) is var bare
        && (bare < 2 || bare * 20 < found.Count);

    private static string Rest(string line, int end, char? sign) =>
        sign is not null && end < line.Length && line[end] == sign ? line[(end + 1)..] : line[end..];

    // What two lines have in front of their numbers; whether nearly all have it is checked afterwards.
    private static string Prefix(string one, string two)
    {
        string first = one.TrimStart(),
            other = two.TrimStart();
        int length = 0;
        while (
            length < first.Length
            && length < other.Length
            && first[length] == other[length]
            && first[length] is not ' ' and not '\t' and not ';'
        )
            length++;
        while (length > 0 && char.IsAsciiDigit(first[length - 1]))
            length--;
        return length > LongestPrefix ? "" : first[..length];
    }

    private static (int Number, int End)? NumberAt(string line, string prefix, int? before)
    {
        int at = line.Length - line.TrimStart().Length;
        if (!line.AsSpan(at).StartsWith(prefix, StringComparison.Ordinal))
            return null;
        at += prefix.Length;
        while (at < line.Length && line[at] == ' ')
            at++;
        int start = at;
        while (at < line.Length && char.IsAsciiDigit(line[at]))
            at++;
        int length = at - start;
        if (length is 0 or > 9)
            return null;
        int number = int.Parse(line.AsSpan(start, length), CultureInfo.InvariantCulture);
        // A digit of the text may be glued to the number: what is to come is known.
        if (before is { } last && number - last is not (> 0 and <= 10))
        {
            string zeros = line.AsSpan(start, length).TrimStart('0').Length < length ? line[start..at] : "";
            string next = (last + 1).ToString(CultureInfo.InvariantCulture);
            int padding = zeros.Length - zeros.TrimStart('0').Length;
            if (line.AsSpan(start + padding).StartsWith(next, StringComparison.Ordinal))
                return (last + 1, start + padding + next.Length);
        }

        return (number, at);
    }

    // The sign that is after nearly all of the numbers.
    private static char? SignAfter(string[] lines, List<(int Line, int Number, int End)> found)
    {
        var after = found
            .Where(f => f.End < lines[f.Line].Length)
            .GroupBy(f => lines[f.Line][f.End])
            .MaxBy(static g => g.Count());
        return
            after is not null
            && after.Key is ':' or '.' or ')' or ']' or '}' or '|' or '>' or '-' or '\u2502' or '/'
            && PasteCleaner.IsNearlyAll(after.Count(), found.Count)
            ? after.Key
            : null;
    }

    // Nearly all lines have a number, each greater by the same step; lines may be missing.
    private static bool Counts(int[] numbers, int written)
    {
        if (numbers.Length < LeastNumbers || numbers.Length * 10 < written * 8)
            return false;
        int good = 0;
        for (int i = 1; i < numbers.Length; i++)
            if (numbers[i] - numbers[i - 1] is > 0 and <= 10)
                good++;
        return good * 20 >= (numbers.Length - 1) * 19;
    }

    private static int? WholeNumber(string line)
    {
        ReadOnlySpan<char> text = line.AsSpan().Trim();
        if (text.Length is 0 or > 5 || text[0] == '0' || text.ContainsAnyExceptInRange('0', '9'))
            return null;
        return int.Parse(text, CultureInfo.InvariantCulture);
    }

    private static int Digits(int number) => number.ToString(CultureInfo.InvariantCulture).Length;

    private static string Numbered(int number, int width, string rest) =>
        number.ToString(CultureInfo.InvariantCulture).PadLeft(width) + ": " + rest;
}
