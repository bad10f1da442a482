using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>
/// One small damage to one line of a program, such as a slip of a copy or a reader makes. Gives null where it does nothing, or
/// where what it leaves is another good program that no evidence of the text speaks against: a digit lost from a number, an
/// instruction lost from between two others. Those are listed in docs/recovery.md.
/// </summary>
/// <param name="Name">What happens.</param>
/// <param name="Do">The lines after it; the second number chooses among several ways.</param>
internal sealed record SmallDamage(string Name, Func<string[], ProgramAnalysis, int, int, string[]?> Do)
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<SmallDamage> All { get; } =
    [
        new("the last character of a line lost", LastLost),
        new("two lines in one", (lines, program, at, _) => Joined(lines, program, at, " ")),
        new("two lines in one without a blank", (lines, program, at, _) => Joined(lines, program, at, "")),
        new("a line lost", Lost),
        new("a line twice", (lines, _, at, _) => Twice(lines, at)),
        new(
            "leading blanks of a line lost",
            (lines, _, at, _) => lines[at].TrimStart() is var text && text != lines[at] ? With(lines, at, text) : null
        ),
        new("a blank in a line lost", BlankLost),
        new("a character taken for another", Misread),
        new("a line broken in two", Broken),
        new("a word broken in two", WordBroken),
        new("a capital letter at the start", (lines, _, at, _) => Capital(lines, at)),
    ];

    private static string[] With(string[] lines, int at, params string[] now) =>
        [.. lines[..at], .. now, .. lines[(at + 1)..]];

    private static string[]? LastLost(string[] lines, ProgramAnalysis program, int at, int way)
    {
        string line = lines[at].TrimEnd();
        LineSyntax syntax = LineSyntax.Parse(line);
        // With its comment lost the line ends with its code; a character less of a comment changes nothing.
        if (syntax.CommentToken >= 0)
            return null;
        if (syntax.IsBlank)
            return null;
        string less = line[..^1].TrimEnd();
        // 'code 4' and 'code' are both good, as is another name that a macro keeps to itself.
        if (syntax.Operation?.ToLowerInvariant() is "code" or "local")
            return null;
        return IsOtherProgram(program, line, less) ? null : With(lines, at, less);
    }

    private static string[]? Joined(string[] lines, ProgramAnalysis program, int at, string between)
    {
        if (at + 1 >= lines.Length || lines[at].Trim().Length == 0 || lines[at + 1].Trim().Length == 0)
            return null;
        string below = lines[at + 1].TrimStart();
        // A macro that is not closed is reported at its head.
        if (
            between.Length == 0
            && (
                below.StartsWith("end", StringComparison.OrdinalIgnoreCase)
                || LineSyntax.Parse(lines[at]).Operation?.ToLowerInvariant() is "macro"
                || LineSyntax.Parse(below).Operation?.ToLowerInvariant() is "code"
            )
        )
            return null;
        if (LineSyntax.Parse(lines[at]).Operation?.ToLowerInvariant() is "local")
            return null;
        // Words after a comment belong to it as well as to the program, be they 'return' or 'goto sleep'.
        if (LineSyntax.Parse(lines[at]).CommentToken >= 0 && !below.StartsWith(';'))
            return null;
        return [.. lines[..at], lines[at].TrimEnd() + between + below, .. lines[(at + 2)..]];
    }

    // A line that makes words, or says where words go, is missed by nothing.
    private static string[]? Lost(string[] lines, ProgramAnalysis program, int at, int way)
    {
        LineSyntax syntax = LineSyntax.Parse(lines[at]);
        if (syntax.IsBlank || MakesWords(program, at))
            return null;
        // 'step#v(0) equ 1' is asked for as step0, 'n = n-1' by nobody.
        if (
            lines[at].Contains("#v", StringComparison.Ordinal)
            || (
                syntax.OperationKind == OperationKind.Assignment
                && !syntax.Operation!.Equals("equ", StringComparison.OrdinalIgnoreCase)
            )
        )
            return null;
        // An option that nobody takes is reported by nothing.
        if (syntax.Operation is "#define" && syntax.OperandText.Trim().IndexOf(' ', StringComparison.Ordinal) < 0)
            return null;
        if (
            syntax.OperationKind == OperationKind.Directive
            && syntax.Operation!.TrimStart('#').ToLowerInvariant()
                is "org"
                    or "radix"
                    or "list"
                    or "udata"
                    or "code"
                    or "idata"
                    or "if"
                    or "ifdef"
                    or "ifndef"
                    or "else"
                    or "endif"
                    or "while"
                    or "endw"
        )
            return null;
        return With(lines, at);
    }

    private static string[]? Twice(string[] lines, int at)
    {
        if (lines[at].Trim().Length == 0)
            return null;
        LineSyntax syntax = LineSyntax.Parse(lines[at]);
        // 'rlf x,f', a call or a row of a table may well are twice; what sets the same thing again says nothing new.
        bool saysNothing =
            syntax.CommentToken >= 0
            && syntax.Operation?.ToLowerInvariant()
                is "movlw"
                    or "movwf"
                    or "clrf"
                    or "clrw"
                    or "bsf"
                    or "bcf"
                    or "return"
                    or "andlw"
                    or "iorlw";
        if (syntax.LabelToken < 0 && !syntax.IsBlank && !saysNothing)
            return null;
        return syntax.OperationKind == OperationKind.Assignment ? null : With(lines, at, lines[at], lines[at]);
    }

    private static string[]? BlankLost(string[] lines, ProgramAnalysis program, int at, int way)
    {
        LineSyntax syntax = LineSyntax.Parse(lines[at]);
        SyntaxToken[] blanks =
        [
            .. Lexer.Lex(lines[at]).Where(t => t.Kind == TokenKind.Blank && t.Start > 0 && t.End < syntax.CodeSpan.End),
        ];
        if (blanks.Length == 0)
            return null;
        SyntaxToken blank = blanks[way % blanks.Length];
        return With(lines, at, lines[at].Remove(blank.Start, blank.Length));
    }

    private static string[]? Misread(string[] lines, ProgramAnalysis program, int at, int way)
    {
        LineSyntax syntax = LineSyntax.Parse(lines[at]);
        int[] places =
        [
            .. Enumerable
                .Range(0, syntax.CodeSpan.End)
                .Where(i => "0O1lI5S8B2Zos".Contains(lines[at][i], StringComparison.Ordinal)),
        ];
        if (places.Length == 0)
            return null;
        int place = places[way % places.Length];
        char other = lines[at][place] switch
        {
            '0' => way % 3 == 0 ? 'o' : 'O',
            'O' or 'o' => '0',
            '1' => way % 2 == 0 ? 'l' : 'I',
            'l' or 'I' => '1',
            '5' => 'S',
            'S' or 's' => '5',
            '8' => 'B',
            'B' => '8',
            '2' => 'Z',
            _ => '2',
        };
        string line = string.Concat(lines[at].AsSpan(0, place), other.ToString(), lines[at].AsSpan(place + 1));
        SyntaxToken token = Array.Find(Lexer.Lex(lines[at]), t => t.Start <= place && t.End > place);
        // In a text in quotes any character is as good as another.
        if (token.Kind is TokenKind.Text or TokenKind.Character)
            return null;
        return IsOtherProgram(program, lines[at], line) ? null : With(lines, at, line);
    }

    private static string[]? Broken(string[] lines, ProgramAnalysis program, int at, int way)
    {
        SyntaxToken[] blanks = [.. Lexer.Lex(lines[at]).Where(t => t.Kind == TokenKind.Blank && t.Start > 0)];
        string line = lines[at];
        int comment = LineSyntax.Parse(line).CommentToken is >= 0 and var c
            ? LineSyntax.Parse(line).Tokens[c].Start
            : line.Length;
        int[] places =
        [
            .. Enumerable
                .Range(1, Math.Max(0, line.Length - 2))
                .Where(i =>
                    line[i] == ' '
                    && line[..i].Trim().Length > 0
                    && (i > comment || blanks.Any(b => b.Start <= i && b.End > i))
                ),
        ];
        if (places.Length == 0)
            return null;
        int place = places[way % places.Length];
        string rest = line[place..].TrimStart();
        if (rest.Length == 0)
            return null;
        return With(lines, at, line[..place].TrimEnd(), way % 2 == 0 ? rest : new string(' ', 8) + rest);
    }

    private static string[]? WordBroken(string[] lines, ProgramAnalysis program, int at, int way)
    {
        LineSyntax syntax = LineSyntax.Parse(lines[at]);
        SyntaxToken[] words =
        [
            .. Lexer
                .Lex(lines[at])
                .Where(t =>
                    t.Kind is TokenKind.Name or TokenKind.Number && t.Length > 1 && t.End <= syntax.CodeSpan.End
                ),
        ];
        if (words.Length == 0)
            return null;
        SyntaxToken word = words[way % words.Length];
        int place = word.Start + 1 + way / words.Length % (word.Length - 1);
        string now = lines[at].Insert(place, " ");
        return IsOtherProgram(program, lines[at], now) ? null : With(lines, at, now);
    }

    private static string[]? Capital(string[] lines, int at)
    {
        int first = lines[at].Length - lines[at].TrimStart().Length;
        if (first == lines[at].Length || !char.IsLower(lines[at][first]))
            return null;
        return With(
            lines,
            at,
            string.Concat(
                lines[at].AsSpan(0, first),
                char.ToUpperInvariant(lines[at][first]).ToString(),
                lines[at].AsSpan(first + 1)
            )
        );
    }

    // Whether a line has become another good one: word for word the same but for a number that is still one, or a name that is
    // known as well.
    private static bool IsOtherProgram(ProgramAnalysis program, string before, string after)
    {
        string[] old = Words(before),
            now = Words(after);
        if (old.Length != now.Length)
            return false;
        for (int i = 0; i < old.Length; i++)
        {
            if (old[i] == now[i])
                continue;
            bool isNumber =
                char.IsAsciiDigit(now[i][0]) || now[i].Contains('\'', StringComparison.Ordinal) || now[i][0] == '.';
            if (isNumber && Literals.Read(now[i], 16).Fault == LiteralFault.None)
                return true;
            if (program.FindSymbol(now[i]) is not null || program.NamesDevice?.Symbols.Find(now[i]) is not null)
                return true;
        }

        return false;
    }

    private static bool MakesWords(ProgramAnalysis program, int line) =>
        program.FactsOf(program.Root, line) is var facts
        && (
            facts.Words > 0
            || (
                (facts.Role & LineRole.Body) != 0
                && LineSyntax
                    .Of(program.Root.Text[line])
                    .Operation?.StartsWith("end", StringComparison.OrdinalIgnoreCase) == false
            )
        );

    private static string[] Words(string line) =>
        [
            .. Lexer
                .Lex(line)
                .Where(t => t.Kind is TokenKind.Name or TokenKind.Number or TokenKind.Character)
                .Select(t => line.Substring(t.Start, t.Length)),
        ];
}
