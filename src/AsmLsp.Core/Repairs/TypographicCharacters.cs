using System.Buffers;
using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Characters that typesetting puts in place of those on a keyboard: curled quotes, dashes, blanks of other widths,
/// joined letters. In comments only what hinders searching is replaced; inside plain quotes nothing is.
/// </summary>
internal sealed class TypographicCharacters : PrintCheck
{
    private const string SingleQuotes = "\u2018\u2019\u201A\u201B\u00B4\u2032`";
    private const string DoubleQuotes = "\u201C\u201D\u201E\u201F\u2033";
    private const string Dashes = "\u2010\u2011\u2012\u2013\u2014\u2015\u2212";

    // PostScript fonts have accents that are alone in the places of these two signs of the keyboard.
    private const string Tildes = "\u02DC\u223C";
    private const char Circumflex = '\u02C6';
    private const string Blanks =
        "\u00A0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200A\u202F\u205F\u3000";
    private const string Nothing = "\u00AD\u200B\u200C\u200D\u2060\uFEFF";
    private static readonly string[] Ligatures = ["ff", "fi", "fl", "ffi", "ffl", "st", "st"];

    private static readonly SearchValues<char> Known = SearchValues.Create(
        SingleQuotes
            + DoubleQuotes
            + Dashes
            + Tildes
            + Circumflex
            + Blanks
            + Nothing
            + string.Concat(Enumerable.Range(0xFB00, 7).Select(c => (char)c))
            + string.Concat(Enumerable.Range(0xFF01, 94).Select(c => (char)c))
    );

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.TypographicCharacter];

    /// <summary>Whether a line has any of these characters.</summary>
    public static bool Occur(string line) => line.AsSpan().ContainsAny(Known);

    public override void Find(CheckedFile view)
    {
        var found = new List<(int Column, string Replacement)>();
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (!shape.Has(LineTraits.Unusual) || (view.Role(line) & Assembly.LineRole.AfterEnd) != 0)
                continue;
            found.Clear();
            string text = view.TextOf(line);
            Collect(text, found);
            if (found.Count == 0)
                continue;
            (int column, string replacement) = found[0];
            string shown = replacement switch
            {
                "" => "nothing there",
                " " => "a plain blank",
                _ => replacement,
            };
            view.Report(
                Catalogue.TypographicCharacter,
                line,
                TextSpan.FromBounds(column, column + 1),
                line,
                Explains.Reading,
                NameOf(text[column]),
                shown
            );
        }
    }

    internal override void Offer(FixRequest request)
    {
        var found = new List<(int Column, string Replacement)>();
        Collect(request.LineText, found);
        if (found.Count == 0)
            return;
        request.Add(
            Certainty.Certain,
            "Write plain characters",
            "had characters of typesetting",
            [.. found.Select(f => request.Edit(f.Column, f.Column + 1, f.Replacement))]
        );
    }

    /// <summary>The plain form of a character of typesetting; null for any other.</summary>
    public static string? PlainFormOf(char c) =>
        SingleQuotes.Contains(c, StringComparison.Ordinal) ? "'"
        : DoubleQuotes.Contains(c, StringComparison.Ordinal) ? "\""
        : Plain(c);

    /// <summary>The columns of a line whose character has a plain form, with that form.</summary>
    public static void Collect(string line, List<(int Column, string Replacement)> found)
    {
        int at = 0;
        while (at < line.Length && line[at] != ';')
        {
            char c = line[at];
            if (c == '"' || DoubleQuotes.Contains(c, StringComparison.Ordinal))
                at = Quoted(line, at, '"', DoubleQuotes, found);
            else if (c == '\'' || SingleQuotes.Contains(c, StringComparison.Ordinal))
                at = Quoted(line, at, '\'', SingleQuotes, found);
            else
            {
                // After a letter of another alphabet it is a piece of what a wrong encoding made of one.
                bool isPiece =
                    at > 0
                    && line[at - 1] >= '\u0080'
                    && (c == Circumflex || Tildes.Contains(c, StringComparison.Ordinal));
                if (!isPiece && Plain(c) is { } plain)
                    found.Add((at, plain));
                at++;
            }
        }

        for (; at < line.Length; at++)
            if (Nothing.Contains(line[at], StringComparison.Ordinal) || line[at] is >= '\uFB00' and <= '\uFB06')
                found.Add((at, Plain(line[at])!));
    }

    // Goes over a quoted stretch; only its quotes are replaced. Returns the column after it.
    private static int Quoted(string line, int open, char plain, string curled, List<(int, string)> found)
    {
        if (line[open] != plain)
            found.Add((open, plain.ToString()));
        int close = CloseOf(line, open, plain, curled);
        if (close < 0)
            return open + 1;
        if (line[close] != plain)
            found.Add((close, plain.ToString()));
        return close + 1;
    }

    private static int CloseOf(string line, int open, char plain, string curled)
    {
        bool Closes(int at) =>
            at < line.Length && (line[at] == plain || curled.Contains(line[at], StringComparison.Ordinal));
        // One character in quotes may be anything, a quote or a semicolon too.
        if (plain == '\'' && Closes(open + 2))
            return open + 2;
        // A plain quote closes with a plain one where there is one: what is curled inside is text.
        if (line[open] == plain && line.IndexOf(plain, open + 1) is int same and >= 0)
            return same;
        for (int at = open + 1; at < line.Length; at++)
        {
            if (Closes(at))
                return at;
            if (plain == '\'' && line[at] == ';')
                return -1;
        }

        return -1;
    }

    private static string? Plain(char c)
    {
        if (c < '\u00A0')
            return null;
        if (Dashes.Contains(c, StringComparison.Ordinal))
            return "-";
        if (Tildes.Contains(c, StringComparison.Ordinal))
            return "~";
        if (c == Circumflex)
            return "^";
        if (Blanks.Contains(c, StringComparison.Ordinal))
            return " ";
        if (Nothing.Contains(c, StringComparison.Ordinal))
            return "";
        if (c is >= '\uFB00' and <= '\uFB06')
            return Ligatures[c - '\uFB00'];
        return c is >= '\uFF01' and <= '\uFF5E' ? ((char)(c - '\uFF01' + '!')).ToString() : null;
    }

    private static string NameOf(char c)
    {
        if (Blanks.Contains(c, StringComparison.Ordinal))
            return "A blank of another width";
        if (c == '\u00AD')
            return "A hyphen that does not show";
        return Nothing.Contains(c, StringComparison.Ordinal) ? "A character without width" : $"'{c}'";
    }
}
