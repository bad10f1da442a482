using System.Text;

namespace AsmLsp.Tests;

/// <summary>The comments and the string literals of a C# source, which are what people read of it.</summary>
public sealed class SourceTexts
{
    private readonly string text;
    private readonly List<SourceWords> found = [];
    private int at;

    private SourceTexts(string text) => this.text = text;

    /// <summary>The comments and literals of a source, in order. A hole of an interpolation is the letter X.</summary>
    public static IReadOnlyList<SourceWords> Of(string text)
    {
        var source = new SourceTexts(text);
        source.Code(endsAtBrace: false);
        return source.found;
    }

    private char Peek(int ahead = 0) => at + ahead < text.Length ? text[at + ahead] : '\0';

    private void Code(bool endsAtBrace)
    {
        for (int depth = 0; at < text.Length; )
        {
            char c = text[at];
            if (c == '/' && Peek(1) == '/')
                LineComment();
            else if (c == '\'')
                Character();
            else if (c is '"' or '$' or '@' && StartOfString() is var quote and >= 0)
                String(quote);
            else
            {
                depth += c is '{' or '(' or '[' ? 1 : 0;
                if (c is '}' or ')' or ']' && --depth < 0 && endsAtBrace)
                    return;
                if (c == ':' && depth == 0 && endsAtBrace)
                    SkipFormat();
                else
                    at++;
            }
        }
    }

    // The format after a value, as in {address:X4}.
    private void SkipFormat()
    {
        while (at < text.Length && text[at] != '}')
            at++;
    }

    private int StartOfString()
    {
        int i = at;
        while (i < text.Length && text[i] is '$' or '@')
            i++;
        return i < text.Length && text[i] == '"' ? i : -1;
    }

    private void LineComment()
    {
        int start = at;
        while (at < text.Length && text[at] != '\n')
            at++;
        Add(isComment: true, start, text[start..at].TrimStart('/'));
    }

    private void Character()
    {
        at++;
        while (at < text.Length && text[at] != '\'')
            at += text[at] == '\\' ? 2 : 1;
        at++;
    }

    private void String(int quote)
    {
        int start = at;
        int holes = text[at..quote].Count(static c => c == '$');
        bool isVerbatim = text[at..quote].Contains('@', StringComparison.Ordinal);
        at = quote;
        int quotes = 0;
        while (Peek(quotes) == '"')
            quotes++;
        bool isRaw = quotes >= 3;
        if (!isRaw)
            quotes = 1;
        at += quotes;
        var words = new StringBuilder();
        while (at < text.Length && !IsAtQuotes(quotes))
        {
            if (isVerbatim && Peek() == '"' && Peek(1) == '"')
                at += 2;
            else if (!isRaw && !isVerbatim && Peek() == '\\')
            {
                words.Append(' ');
                at += 2;
            }
            else if (holes > 0 && !isRaw && Peek() is '{' or '}' && Peek() == Peek(1))
                at += 2;
            else if (holes > 0 && Enumerable.Range(0, holes).All(i => Peek(i) == '{'))
            {
                at += holes;
                Code(endsAtBrace: true);
                at += holes;
                words.Append('X');
            }
            else
                words.Append(text[at++]);
        }

        at += quotes;
        Add(isComment: false, start, words.ToString());

        bool IsAtQuotes(int count) =>
            isVerbatim
                ? Peek() == '"' && Peek(1) != '"'
                : Enumerable.Range(0, count).All(i => Peek(i) == '"') && (!isRaw || Peek(count) != '"');
    }

    private void Add(bool isComment, int start, string words) =>
        found.Add(new SourceWords(isComment, text.AsSpan(0, start).Count('\n') + 1, words));
}

/// <summary>A comment or a literal with its line.</summary>
public sealed record SourceWords(bool IsComment, int Line, string Text);
