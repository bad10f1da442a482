namespace AsmLsp.Core.Syntax;

/// <summary>Cuts one line into tokens that add up to it exactly, whatever is on it.</summary>
internal static class Lexer
{
    private static readonly string[] LongOperators =
    [
        "<<=",
        ">>=",
        "<<",
        ">>",
        "<=",
        ">=",
        "==",
        "!=",
        "&&",
        "||",
        "+=",
        "-=",
        "*=",
        "/=",
        "%=",
        "&=",
        "|=",
        "^=",
        "++",
        "--",
    ];

    public static SyntaxToken[] Lex(string line)
    {
        var tokens = new List<SyntaxToken>(12);
        int at = 0;
        while (at < line.Length)
        {
            (TokenKind kind, int end) = Next(line, at);
            tokens.Add(new SyntaxToken(kind, at, end - at));
            at = end;
        }

        return [.. tokens];
    }

    /// <summary>Whether a character may be inside a name.</summary>
    public static bool IsNamePart(char c) =>
        char.IsAsciiLetterOrDigit(c)
        || c is '_' or '?' or '.' or '#' or '@' or '·'
        || (c > 127 && char.IsLetterOrDigit(c));

    /// <summary>Whether a name may start with a character.</summary>
    public static bool IsNameStart(char c) =>
        char.IsAsciiLetter(c) || c is '_' or '?' or '@' or '#' || (c > 127 && char.IsLetter(c));

    /// <summary>Whether a character is white space inside a line.</summary>
    public static bool IsBlank(char c) =>
        c is ' ' or '\t' or '\f' or '\v' or '\u00A0' or '\u001A' || (c > 127 && char.IsWhiteSpace(c));

    /// <summary>
    /// Whether a column is the first one of a printed line: a form feed, which throws a page, takes no column.
    /// </summary>
    public static bool IsColumnOne(string line, int column)
    {
        for (int i = 0; i < column; i++)
            if (line[i] != '\f')
                return false;
        return true;
    }

    private static (TokenKind Kind, int End) Next(string line, int at)
    {
        char c = line[at];
        if (IsBlank(c))
            return (TokenKind.Blank, SkipWhile(line, at, IsBlank));
        if (c == ';')
            return (TokenKind.Comment, line.Length);
        if (IsNameStart(c))
            return NameOrQuotedNumber(line, at);
        if (char.IsAsciiDigit(c))
            return (TokenKind.Number, SkipWhile(line, at, IsNumberPart));
        char next = at + 1 < line.Length ? line[at + 1] : '\0';
        if (c == '.' && char.IsAsciiDigit(next))
            return (TokenKind.Number, SkipWhile(line, at + 1, IsNumberPart));
        if (c == '.' && IsNameStart(next))
            return (TokenKind.Name, SkipWhile(line, at, IsNamePart));
        switch (c)
        {
            case '\'':
                return (TokenKind.Character, CharacterEnd(line, at));
            case '"':
                return (TokenKind.Text, TextEnd(line, at));
            case '(':
                return (TokenKind.Open, at + 1);
            case ')':
                return (TokenKind.Close, at + 1);
            case ',':
                return (TokenKind.Comma, at + 1);
            case ':':
                return (TokenKind.Colon, at + 1);
            case '$':
                return (TokenKind.Here, at + 1);
        }

        foreach (string op in LongOperators)
            if (line.AsSpan(at).StartsWith(op, StringComparison.Ordinal))
                return (TokenKind.Operator, at + op.Length);
        return c is '+' or '-' or '*' or '/' or '%' or '<' or '>' or '=' or '!' or '~' or '&' or '^' or '|'
            ? (TokenKind.Operator, at + 1)
            : (TokenKind.Stray, at + (char.IsHighSurrogate(c) && char.IsLowSurrogate(next) ? 2 : 1));
    }

    private static (TokenKind Kind, int End) NameOrQuotedNumber(string line, int at)
    {
        if (
            at + 1 < line.Length
            && line[at + 1] is '\''
            && line[at]
                is 'h'
                    or 'H'
                    or 'x'
                    or 'X'
                    or 'd'
                    or 'D'
                    or 'b'
                    or 'B'
                    or 'o'
                    or 'O'
                    or 'q'
                    or 'Q'
                    or 'a'
                    or 'A'
        )
        {
            if (line[at] is 'a' or 'A')
                return (TokenKind.Number, CharacterEnd(line, at + 1));
            int end = SkipWhile(line, at + 2, static c => char.IsAsciiLetterOrDigit(c) || c == '-' || c == '+');
            return (TokenKind.Number, end < line.Length && line[end] == '\'' ? end + 1 : end);
        }

        return (TokenKind.Name, SkipWhile(line, at, IsNamePart));
    }

    // A character literal closes at its second quote; without one it holds one character, so that a lost quote does not eat a comment.
    private static int CharacterEnd(string line, int quote)
    {
        int first = quote + 1;
        if (first >= line.Length)
            return line.Length;
        if (line[first] == '\\' && EscapeEnd(line, first) is int close && close < line.Length && line[close] == '\'')
            return close + 1;
        if (first + 1 < line.Length && line[first + 1] == '\'')
            return first + 2;
        int end = line.IndexOf('\'', first);
        int comment = line.IndexOf(';', first);
        if (end >= 0 && (comment < 0 || end < comment))
            return end + 1;
        return Math.Min(line.Length, first + 1);
    }

    // The column after an escape such as '\n' or '\x1F', whose backslash is at a column.
    private static int EscapeEnd(string line, int backslash)
    {
        int at = backslash + 1;
        if (at >= line.Length)
            return at;
        if (line[at] is 'x' or 'X')
            return SkipWhile(line, at + 1, char.IsAsciiHexDigit);
        return char.IsBetween(line[at], '0', '7')
            ? SkipWhile(line, at, static c => char.IsBetween(c, '0', '7'))
            : at + 1;
    }

    private static int TextEnd(string line, int quote)
    {
        for (int i = quote + 1; i < line.Length; i++)
        {
            if (line[i] == '\\' && i + 1 < line.Length)
                i++;
            else if (line[i] == '"')
                return i + 1;
        }

        // Never closed: up to a comment, where there is one, so that the comment survives. Blanks after it are none of
        // its characters: a layout that moves the comment must not change the text.
        int comment = line.IndexOf(';', quote);
        int end = comment < 0 ? line.Length : comment;
        while (end > quote + 1 && IsBlank(line[end - 1]))
            end--;
        return end;
    }

    private static bool IsNumberPart(char c) => char.IsAsciiLetterOrDigit(c) || c == '_';

    private static int SkipWhile(string line, int at, Func<char, bool> part)
    {
        while (at < line.Length && part(line[at]))
            at++;
        return at;
    }
}
