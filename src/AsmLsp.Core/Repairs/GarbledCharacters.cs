using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Characters that were lost on the way because a program read the text in another encoding than it was written in: UTF-8 read as
/// Windows-1252 (two or three odd characters for one), and quotes that became question marks or boxes.
/// </summary>
internal sealed class GarbledCharacters : PrintCheck
{
    // What programs put where they have no character: '?' (common practice), U+FFFD (Unicode's replacement character), boxes.
    private const string Substitutes = "?\uFFFD\u25A0\u25A1";

    // The first of the bytes that make one character in UTF-8 (RFC 3629: C2 to F4), as Windows-1252 shows them, and the substitutes.
    private static readonly SearchValues<char> Suspects = SearchValues.Create(
        Substitutes + string.Concat(Enumerable.Range(0xC2, 0xF4 - 0xC2 + 1).Select(b => (char)b))
    );

    // The comments of the file are in an encoding that nobody knows: only the code is repaired.
    private const string CodeOnly = "code";

    private static readonly Encoding Utf8 = new UTF8Encoding(false, true);

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.GarbledCharacter];

    /// <summary>Whether a line may have any of them; to be followed by <see cref="Collect"/>.</summary>
    public static bool Occur(string line) => line.AsSpan().ContainsAny(Suspects);

    public override void Find(CheckedFile view)
    {
        var found = new List<(TextSpan Span, string Replacement)>();
        bool? isMisread = null;
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (!shape.Has(LineTraits.Unusual) || (view.Role(line) & LineRole.AfterEnd) != 0)
                continue;
            string text = view.TextOf(line);
            if (!Occur(text))
                continue;
            found.Clear();
            Collect(text, found);
            if (found.Count == 0)
                continue;
            bool comments = isMisread ??= IsMisread(view.File.Text);
            if (!comments)
                LeaveComment(text, found);
            if (found.Count == 0)
                continue;
            (TextSpan span, string replacement) = found[0];
            view.Report(
                Catalogue.GarbledCharacter,
                line,
                span,
                line,
                Explains.Reading,
                text.Substring(span.Start, span.Length),
                replacement,
                comments ? "" : CodeOnly
            );
        }
    }

    internal override void Offer(FixRequest request)
    {
        var found = new List<(TextSpan Span, string Replacement)>();
        Collect(request.LineText, found);
        if (request.Problem.Arguments[2] == CodeOnly)
            LeaveComment(request.LineText, found);
        if (found.Count == 0)
            return;
        request.Add(
            Certainty.Certain,
            "Write the characters that were meant",
            "had characters of a wrong encoding",
            [.. found.Select(f => request.Edit(f.Span.Start, f.Span.End, f.Replacement))]
        );
    }

    /// <summary>The places of a line that have one character too many or a wrong one, with what was meant.</summary>
    public static void Collect(string line, List<(TextSpan Span, string Replacement)> found)
    {
        CollectMisread(line, found);
        int code = line.IndexOf(';', StringComparison.Ordinal) is int at and >= 0 ? at : line.Length;
        if (line.AsSpan(0, code).IndexOfAny(Substitutes) >= 0)
            CollectQuotes(line, code, found);
    }

    // In a text of UTF-8 that was misread, nearly every character beyond ASCII is a part of such a sequence, and the sequences give the
    // letters of one script. In a text of another encoding, pairs of bytes are sequences by chance: its comments are not ours to change.
    private static bool IsMisread(SourceText text)
    {
        int all = 0,
            inside = 0;
        char script = '\0';
        var found = new List<(TextSpan Span, string Replacement)>();
        foreach (TextLine line in text.Lines)
        {
            foreach (char c in line.Text)
                if (c > '\u007F' && !IsSubstitute(c))
                    all++;
            if (!Occur(line.Text))
                continue;
            found.Clear();
            CollectMisread(line.Text, found);
            foreach ((TextSpan span, string meant) in found)
            {
                inside += span.Length;
                foreach (char c in meant)
                {
                    if (ScriptOf(c) is not { } here)
                        return false;
                    if (here != '\0' && script != '\0' && here != script)
                        return false;
                    if (here != '\0')
                        script = here;
                }
            }
        }

        return inside * 20 >= all * 19;
    }

    // A letter for each script that is written with letters beyond Latin, '\0' for Latin and signs of common use; null for what no comment is written with.
    private static char? ScriptOf(char c) =>
        c switch
        {
            < '\u0080' => '\0',
            >= '\u00A0' and <= '\u024F' => '\0',
            // Ohm and micro, as many keyboards write them.
            '\u03A9' or '\u03BC' => '\0',
            >= '\u0370' and <= '\u03FF' => 'g',
            >= '\u0400' and <= '\u04FF' => 'c',
            >= '\u1E00' and <= '\u1EFF' => '\0',
            >= '\u2010' and <= '\u206F' or >= '\u20A0' and <= '\u22FF' or >= '\u2500' and <= '\u25FF' => '\0',
            >= '\u3040' and <= '\u9FFF' or >= '\uFF00' and <= '\uFF60' => 'j',
            >= '\uAC00' and <= '\uD7A3' => 'k',
            '\uFEFF' => '\0',
            _ => null,
        };

    private static void LeaveComment(string line, List<(TextSpan Span, string Replacement)> found)
    {
        foreach (SyntaxToken token in Lexer.Lex(line))
            if (token.Kind == TokenKind.Comment)
                found.RemoveAll(f => f.Span.Start >= token.Start);
    }

    // Characters that, as bytes of Windows-1252, are one character in UTF-8.
    private static void CollectMisread(string line, List<(TextSpan, string)> found)
    {
        Span<byte> bytes = stackalloc byte[4];
        for (int at = 0; at < line.Length; at++)
        {
            int length = line[at] switch
            {
                >= '\u00C2' and <= '\u00DF' => 2,
                >= '\u00E0' and <= '\u00EF' => 3,
                >= '\u00F0' and <= '\u00F4' => 4,
                _ => 0,
            };
            if (length == 0 || at + length > line.Length)
                continue;
            bool all = true;
            for (int i = 0; all && i < length; i++)
                all = TextEncoding.ToByte(line[at + i]) is { } b && (bytes[i] = b) >= 0x80;
            if (!all || !TryDecode(bytes[..length], out string meant))
                continue;
            found.Add(
                (
                    TextSpan.FromBounds(at, at + length),
                    meant.Length == 1 && TypographicCharacters.PlainFormOf(meant[0]) is { } plain ? plain : meant
                )
            );
            at += length - 1;
        }
    }

    private static bool TryDecode(ReadOnlySpan<byte> bytes, out string meant)
    {
        try
        {
            meant = Utf8.GetString(bytes);
            return true;
        }
        catch (DecoderFallbackException)
        {
            meant = "";
            return false;
        }
    }

    // A quote is known by its partner and by what is between: a number with its radix, one character, the text of a directive.
    private static void CollectQuotes(string line, int code, List<(TextSpan, string)> found)
    {
        for (int at = 0; at < code; at++)
        {
            if (line[at] is '"' or '\'')
            {
                int close = line.IndexOf(line[at], at + 1);
                if (close < 0 || close >= code)
                    return;
                at = close;
                continue;
            }

            if (!IsSubstitute(line[at]))
                continue;
            int end = line.IndexOf(line[at], at + 1, code - at - 1);
            if (end < 0)
                return;
            if (Quote(line, at, end, code) is not { } quote)
                continue;
            found.Add((TextSpan.FromBounds(at, at + 1), quote));
            found.Add((TextSpan.FromBounds(end, end + 1), quote));
            at = end;
        }
    }

    private static string? Quote(string line, int open, int close, int code)
    {
        ReadOnlySpan<char> inside = line.AsSpan(open + 1, close - open - 1);
        if (inside.IsEmpty || (close + 1 < code && IsNamePart(line[close + 1])))
            return null;
        if (open > 0 && IsNamePart(line[open - 1]))
        {
            bool isRadix = (open == 1 || !IsNamePart(line[open - 2])) && IsNumberOf(line[open - 1], inside);
            return isRadix ? "'" : null;
        }

        if (inside.Length == 1)
            return "'";
        return TakesText(line, open) ? "\"" : null;
    }

    private static bool IsNumberOf(char radix, ReadOnlySpan<char> digits)
    {
        foreach (char c in digits)
        {
            bool fits = char.ToLowerInvariant(radix) switch
            {
                'b' => c is '0' or '1',
                'o' or 'q' => c is >= '0' and <= '7',
                'd' => char.IsAsciiDigit(c),
                'h' => char.IsAsciiHexDigit(c),
                'a' => digits.Length == 1,
                _ => false,
            };
            if (!fits)
                return false;
        }

        return true;
    }

    // Directives with a text or a file name after them; a list of data may have several.
    private static bool TakesText(string line, int open)
    {
        return LineSyntax.Parse(" " + line[..open].TrimStart()).Has(WordTraits.TakesText | WordTraits.PlacesData)
            || LineSyntax.Parse(line[..open]).Has(WordTraits.PlacesData);
    }

    private static bool IsSubstitute(char c) => Substitutes.Contains(c, StringComparison.Ordinal);

    private static bool IsNamePart(char c) => char.IsAsciiLetterOrDigit(c) || c is '_' or '.' || IsSubstitute(c);
}
