using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>One thing that happens to a program's text on its way through print, scan and copy.</summary>
/// <param name="Name">Its name in the table.</param>
/// <param name="Do">What it does to the lines; the number is the program's, so that each program is hit elsewhere.</param>
/// <param name="IsPrinted">Whether the lines are pages of a document rather than a pasted text.</param>
internal sealed record Damage(string Name, Func<string[], int, string[]> Do, bool IsPrinted = false)
{
    /// <summary>Prints the words of the program in front of its lines, or null.</summary>
    public Func<string[], ProgramAnalysis, string[]>? Print { get; init; }

    // Sentences as they are after instructions: long, and with words that are operations too.
    private static readonly string[] Remarks =
    [
        "the lamp stays on until somebody pushes the button a second time and then it goes out",
        "wait here for the other side to return its answer, or go on without it",
        "this part was changed in spring, because the relay used to call out at night",
        "after that the motor may sleep, and the board takes no more than a watch does",
        "set the pin, and clear it again as soon as the far end has seen the pulse",
        "counts the turns of the wheel since the last magnet came by",
        "the resistor is needed here, otherwise the data line floats and nothing will work",
        "begin once more from the left and stop at the end of the row",
        "all eight of them are read, one after the other, the lowest first",
        "if the battery is low, skip the rest",
    ];

    public static IReadOnlyList<Damage> All { get; } =
    [
        new("nothing at all", (lines, _) => lines),
        new("leading blanks lost", (lines, _) => [.. lines.Select(l => l.TrimStart())]),
        new(
            "everything indented",
            (lines, seed) => [.. lines.Select(l => l.Length == 0 ? l : new string(' ', 2 + seed % 9) + l)]
        ),
        new(
            "page numbers between the lines",
            (lines, seed) => Paged(lines, 14 + seed % 9, page => ["", page.ToString(CultureInfo.InvariantCulture), ""])
        ),
        new(
            "page head and numbered foot",
            (lines, seed) =>
                Paged(lines, 14 + seed % 9, page => [$"Page {page} of 9", "The workshop book, second part"])
        ),
        new(
            "page head with the number in it",
            (lines, seed) => Paged(lines, 12 + seed % 7, page => [$"Circuits for the club   {page}"])
        ),
        new(
            "pages, leading blanks lost",
            (lines, seed) =>
                [.. Paged(lines, 14 + seed % 9, page => [$"- {page} -", "Listing"]).Select(l => l.TrimStart())]
        ),
        new("form feeds", (lines, seed) => FormFeeds(lines, 10 + seed % 7)),
        new("comments wrapped at 72", (lines, seed) => Wrapped(Commented(lines, seed), 72)),
        new("comments wrapped at 60", (lines, seed) => Wrapped(Commented(lines, seed), 60)),
        new("comments wrapped at 50", (lines, seed) => Wrapped(Commented(lines, seed), 50)),
        new(
            "comments wrapped at 60, leading blanks lost",
            (lines, seed) => [.. Wrapped(Commented(lines, seed), 60).Select(l => l.TrimStart())]
        ),
        new(
            "comments wrapped at 50, gaps lost too",
            (lines, seed) => [.. Wrapped(Commented(lines, seed), 50).Select(l => Squeezed(l.TrimStart()))]
        ),
        new(
            "comments wrapped at 60, everything indented",
            (lines, seed) => [.. Wrapped(Commented(lines, seed), 60).Select(l => l.Length == 0 ? l : "    " + l)]
        ),
        new(
            "comments wrapped at 60, with pages",
            (lines, seed) =>
                Paged(Wrapped(Commented(lines, seed), 60), 17 + seed % 9, page => [$"Page {page}", "The workshop book"])
        ),
        new("long lines wrapped", (lines, _) => LongLines(lines, 28)),
        new(
            "long lines wrapped, leading blanks lost",
            (lines, _) => [.. LongLines(lines, 28).Select(l => l.TrimStart())]
        ),
        new(
            "quotes, dashes and blanks of typesetting",
            (lines, seed) => [.. lines.Select((l, i) => Typeset(l, i + seed))]
        ),
        new("line numbers in front", (lines, _) => [.. lines.Select((l, i) => $"{i + 1, 4} {l}")], true),
        new("addresses and words in front", (lines, _) => lines, true) { Print = Listed },
        new("printed pages, comments wrapped at 60", (lines, seed) => Wrapped(Commented(lines, seed), 60), true),
        new(
            "printed pages, leading blanks lost",
            (lines, seed) => [.. Wrapped(Commented(lines, seed), 60).Select(l => l.TrimStart())],
            true
        ),
        new("capital letters at the start of lines", (lines, _) => [.. lines.Select(l => Capital(l))]),
        new("capital letters, leading blanks lost", (lines, _) => [.. lines.Select(l => Capital(l.TrimStart()))]),
        new("prose before and after", (lines, _) => Between(lines)),
        new("prose, leading blanks lost", (lines, _) => [.. Between(lines).Select(l => l.TrimStart())]),
        new("gaps shrunk to one blank", (lines, _) => [.. lines.Select(Squeezed)]),
        new("hyphens at line ends of comments", (lines, seed) => Hyphenated(Commented(lines, seed), 56)),
        new("letters and digits mixed up in numbers", (lines, seed) => Misread(lines, seed, numbers: true)),
        new("letters and digits mixed up in operations", (lines, seed) => Misread(lines, seed, numbers: false)),
    ];

    // Each line after the address and the value of its first word.
    private static string[] Listed(string[] lines, ProgramAnalysis program)
    {
        var result = new List<string>();
        for (int i = 0; i < lines.Length; i++)
        {
            LineFacts facts = program.FactsOf(program.Root, i);
            bool has = program.Image.TryGet(facts.Address, out ushort word, out _) && facts.Words > 0;
            result.Add(has ? $"{facts.Address:X4} {word:X4}   {lines[i]}" : new string(' ', 12) + lines[i]);
        }

        return [.. result];
    }

    // Remarks on a third of the lines, in a column of their own, and a few lines of nothing else.
    private static string[] Commented(string[] lines, int seed)
    {
        var result = new List<string>();
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i];
            int dice = (i * 7 + seed * 5) % 12;
            string remark = Remarks[(i * 3 + seed) % Remarks.Length];
            bool room =
                line.Trim().Length > 0
                && !line.Contains(';', StringComparison.Ordinal)
                && !line.Contains('#', StringComparison.Ordinal);
            if (room && dice < 4)
                line = line.PadRight(32) + " ; " + remark;
            result.Add(line);
            // After 'end' nothing is the program's.
            if (dice == 7 && i > 0 && i + 1 < lines.Length)
                result.Add("; " + remark);
        }

        return [.. result];
    }

    private static string[] Wrapped(string[] lines, int width)
    {
        var result = new List<string>();
        foreach (string line in lines)
        {
            string rest = line;
            int comment = CommentOf(line);
            while (comment >= 0 && rest.Length > width)
            {
                int at = rest.LastIndexOf(' ', width);
                if (at <= (ReferenceEquals(rest, line) ? comment + 1 : 0))
                    break;
                result.Add(rest[..at]);
                rest = rest[(at + 1)..];
            }

            result.Add(rest);
        }

        return [.. result];
    }

    private static string[] Hyphenated(string[] lines, int width)
    {
        var result = new List<string>();
        foreach (string line in lines)
        {
            int comment = CommentOf(line);
            int at = width;
            // In the middle of a word.
            while (
                comment >= 0
                && at < line.Length - 2
                && !(
                    char.IsLetter(line[at - 2])
                    && char.IsLetter(line[at - 1])
                    && char.IsLetter(line[at])
                    && char.IsLetter(line[at + 1])
                )
            )
                at++;
            if (comment < 0 || comment + 2 >= at || at >= line.Length - 2)
            {
                result.Add(line);
                continue;
            }

            result.Add(line[..at] + "-");
            result.Add(line[at..]);
        }

        return [.. result];
    }

    // Breaks code after a comma or an operator, where the column is too narrow.
    private static string[] LongLines(string[] lines, int width)
    {
        var result = new List<string>();
        foreach (string line in lines)
        {
            string rest = line;
            while (
                CommentOf(rest) < 0
                && rest.Length > width
                && !rest.Contains("list", StringComparison.OrdinalIgnoreCase)
                && !rest.Contains('#', StringComparison.Ordinal)
            )
            {
                int at = BreakOf(rest, width);
                if (at < 0)
                    break;
                result.Add(rest[..at].TrimEnd());
                rest = new string(' ', 8) + rest[at..].TrimStart();
            }

            result.Add(rest);
        }

        return [.. result];
    }

    private static int BreakOf(string line, int width)
    {
        int found = -1;
        foreach (SyntaxToken token in Lexer.Lex(line))
            if (
                token.End <= width
                && token.End > 18
                && token.End < line.Length - 1
                && (
                    token.Kind == TokenKind.Comma
                    || (token.Kind == TokenKind.Operator && line[token.Start] is '&' or '+' or '|')
                )
            )
                found = token.End;
        return found;
    }

    private static string[] Paged(string[] lines, int height, Func<int, string[]> edge)
    {
        var result = new List<string>();
        int page = 3;
        for (int i = 0; i < lines.Length; i++)
        {
            if (i > 0 && i % height == 0)
                result.AddRange(edge(page++));
            result.Add(lines[i]);
        }

        result.AddRange(edge(page));
        return [.. result];
    }

    private static string[] FormFeeds(string[] lines, int height) =>
        [.. lines.Select((l, i) => i > 0 && i % height == 0 ? "\f" + l : l)];

    private static string[] Between(string[] lines) =>
        [
            "The program",
            "Here is the whole listing. Type it in with any editor, and",
            "mind the commas. The lines that start with a semicolon are remarks",
            "and can be left out.",
            "",
            .. lines,
            "",
            "When all is typed in, call it something short and return to the first chapter,",
            "which tells how to build the board.",
        ];

    private static string Typeset(string line, int seed)
    {
        var result = new StringBuilder();
        foreach (SyntaxToken token in Lexer.Lex(line))
        {
            string text = line.Substring(token.Start, token.Length);
            if (token.Kind == TokenKind.Blank && seed % 3 == 0)
                text = text.Replace(' ', '\u00A0');
            else if (token.Kind == TokenKind.Operator && seed % 2 == 0)
                text = text.Replace('-', '\u2013');
            else if (token.Kind == TokenKind.Comment)
                text = text.Replace('\'', '\u2019').Replace("fi", "\uFB01", StringComparison.Ordinal);
            else if (text.Length > 2 && text[^1] == '\'' && !text.Contains(';', StringComparison.Ordinal))
                text = text.Replace('\'', '\u2019');
            else if (text.Length > 2 && text[0] == '"' && text[^1] == '"')
                text = "\u201C" + text[1..^1] + "\u201D";
            result.Append(text);
        }

        return result.ToString();
    }

    private static string Capital(string line)
    {
        int at = 0;
        while (at < line.Length && line[at] is ' ' or '\t')
            at++;
        return at == line.Length
            ? line
            : string.Concat(line.AsSpan(0, at), char.ToUpperInvariant(line[at]).ToString(), line.AsSpan(at + 1));
    }

    private static string Squeezed(string line)
    {
        var result = new StringBuilder();
        foreach (SyntaxToken token in Lexer.Lex(line))
            result.Append(token.Kind == TokenKind.Blank ? " " : line.AsSpan(token.Start, token.Length));
        return result.ToString();
    }

    // One line in four has one of its characters taken for another.
    private static string[] Misread(string[] lines, int seed, bool numbers) =>
        [
            .. lines.Select(
                (line, i) =>
                {
                    if ((i + seed) % 4 != 0)
                        return line;
                    LineSyntax syntax = LineSyntax.Parse(line);
                    foreach (SyntaxToken token in Lexer.Lex(line))
                    {
                        bool isOperation =
                            syntax.OperationToken >= 0 && syntax.AllTokens[syntax.OperationToken].Start == token.Start;
                        if (numbers ? token.Kind != TokenKind.Number : !isOperation)
                            continue;
                        for (int at = token.End - 1; at >= token.Start; at--)
                        {
                            const string From = "0151OSlIosi",
                                To = "OlSI05l1051";
                            int which = From.IndexOf(line[at], StringComparison.Ordinal);
                            if (
                                which < 0
                                || (numbers != char.IsAsciiDigit(line[at]))
                                || (at + 1 < line.Length && line[at + 1] is 'x' or 'X')
                            )
                                continue;
                            return string.Concat(
                                line.AsSpan(0, at),
                                (which == 1 && seed % 2 == 0 ? 'I' : To[which]).ToString(),
                                line.AsSpan(at + 1)
                            );
                        }
                    }

                    return line;
                }
            ),
        ];

    private static int CommentOf(string line)
    {
        foreach (SyntaxToken token in Lexer.Lex(line))
            if (token.Kind == TokenKind.Comment)
                return token.Start;
        return -1;
    }
}
