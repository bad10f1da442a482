using AsmLsp.Core.Doubts;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Reads the shape of lines; kept with each line, so that a keystroke costs one line.</summary>
internal sealed class LineShape
{
    private LineShape(LineTraits traits, int column, int commentColumn) =>
        (Traits, Column, CommentColumn) = (traits, column, commentColumn);

    public LineTraits Traits { get; }

    /// <summary>Column of the first visible character.</summary>
    public int Column { get; }

    /// <summary>Column of the first letter of the comment, or -1.</summary>
    public int CommentColumn { get; }

    public bool Has(LineTraits any) => (Traits & any) != 0;

    public static LineShape Of(TextLine line)
    {
        LineSyntax syntax = LineSyntax.Of(line);
        if (syntax.Memo is LineShape known)
            return known;
        LineShape made = Make(syntax);
        syntax.Memo = made;
        return made;
    }

    /// <summary>Whether a comment breaks off in the middle of its sentence.</summary>
    public static bool IsUnfinished(string line)
    {
        ReadOnlySpan<char> text = line.AsSpan().TrimEnd();
        if (text.IsEmpty)
            return false;
        if (text[^1] is ',' or '(' && text.Length > 1 && text[^2] != text[^1] && text[^2] != ';')
            return true;
        // A hyphen parts a word; an arrow or a dash does not.
        if (text[^1] is '-' or '\u00AD' && text.Length > 1 && char.IsLetter(text[^2]))
            return true;
        if (!char.IsLetter(text[^1]))
            return false;
        int start = text.Length;
        // The whole of it: 'T0IF' does not end in 'if'.
        while (start > 0 && (char.IsLetterOrDigit(text[start - 1]) || text[start - 1] is '\'' or '_'))
            start--;
        ReadOnlySpan<char> word = text[start..];
        // Single letters end comments as names of things ('bit a'); 'if' and 'a' end none as words of a sentence.
        return word.Length > 1 && (FunctionWords.Contains(word) || OperationWords.KeywordOf(word) == Keyword.If);
    }

    private static LineShape Make(LineSyntax syntax)
    {
        string text = syntax.Text;
        SyntaxToken[] tokens = syntax.Tokens;
        LineTraits traits = LineTraits.None;
        int column = 0;
        while (column < text.Length && Lexer.IsBlank(text[column]))
            column++;
        if (text.Length > 0 && text[0] == '\f')
            traits |= LineTraits.FormFeed;
        if (TypographicCharacters.Occur(text) || GarbledCharacters.Occur(text))
            traits |= LineTraits.Unusual;
        int commentColumn = -1;
        if (syntax.CommentToken >= 0)
        {
            traits |= LineTraits.HasComment;
            int at = tokens[syntax.CommentToken].Start;
            while (at < text.Length && text[at] is ';' or ' ' or '\t')
                at++;
            commentColumn = at;
            if (text.Contains(DoubtMark.Sign, StringComparison.Ordinal) && DoubtMark.Find(text) is not null)
                traits |= LineTraits.Doubt;
        }

        if (column == text.Length)
            return new LineShape(traits | LineTraits.Blank, column, -1);
        if (syntax.IsBlank)
            return new LineShape(traits | LineTraits.CommentOnly, column, commentColumn);

        int first = 0,
            last = syntax.EndOfCode - 1;
        while (first <= last && tokens[first].Kind == TokenKind.Blank)
            first++;
        while (last > first && tokens[last].Kind == TokenKind.Blank)
            last--;
        if (StartsInside(syntax, first))
            traits |= LineTraits.StartsInside;
        if (EndsOpen(syntax, first, last))
            traits |= LineTraits.EndsOpen;
        if (first == last && tokens[first].Kind == TokenKind.Name)
            traits |= LineTraits.LoneName;
        if (CodeShape.IsCode(syntax))
            traits |= LineTraits.CodeLike;
        if (syntax.Keyword == Keyword.End)
            traits |= LineTraits.End;
        traits |= Words(syntax, first, last);
        if (syntax.Has(WordTraits.Natural))
            traits |= IsWordy(syntax, first, last)
                ? LineTraits.NaturalOperation | LineTraits.Wordy
                : LineTraits.NaturalOperation;
        if (TwoLinesInOne.SecondOperation(syntax) >= 0)
            traits |= LineTraits.SecondOperation;
        return new LineShape(traits, column, commentColumn);
    }

    // The operators that need a value on both sides.
    private static bool IsBetweenValues(ReadOnlySpan<char> operation) =>
        operation
            is "+"
                or "-"
                or "*"
                or "/"
                or "&"
                or "|"
                or "^"
                or "<<"
                or ">>"
                or "<"
                or ">"
                or "<="
                or ">="
                or "&&"
                or "||"
                or "=="
                or "!=";

    private static bool StartsInside(LineSyntax syntax, int first)
    {
        TokenKind kind = syntax.Tokens[first].Kind;
        if (kind is TokenKind.Comma or TokenKind.Close)
            return true;
        return kind == TokenKind.Operator && IsBetweenValues(syntax.SpanOf(first)) && syntax.OperationToken < 0;
    }

    private static bool EndsOpen(LineSyntax syntax, int first, int last)
    {
        if (first == last || syntax.Has(WordTraits.FreeOperands))
            return false;
        TokenKind kind = syntax.Tokens[last].Kind;
        if (kind == TokenKind.Comma)
            return true;
        if (kind == TokenKind.Operator)
            return last != syntax.OperationToken
                && (IsBetweenValues(syntax.SpanOf(last)) || syntax.SpanOf(last) is "~");
        int depth = 0;
        for (int i = first; i <= last; i++)
        {
            if (syntax.Tokens[i].Kind == TokenKind.Open)
                depth++;
            else if (syntax.Tokens[i].Kind == TokenKind.Close)
                depth--;
        }

        return depth > 0;
    }

    private static bool IsWordy(LineSyntax syntax, int first, int last)
    {
        for (int i = first; i <= last; i++)
        {
            if (syntax.Tokens[i].Kind == TokenKind.Blank)
                continue;
            if (syntax.Tokens[i].Kind != TokenKind.Name)
                return false;
            foreach (char c in syntax.SpanOf(i).TrimEnd('.'))
                if (!char.IsLetter(c))
                    return false;
        }

        return true;
    }

    private static LineTraits Words(LineSyntax syntax, int first, int last)
    {
        LineTraits traits = LineTraits.None;
        int side = 0,
            words = 0,
            digits = 0,
            letters = 0,
            commas = 0;
        bool afterWord = false,
            odd = false,
            oddDigits = false,
            function = false;
        for (int i = first; i <= last; i++)
        {
            TokenKind kind = syntax.Tokens[i].Kind;
            if (kind == TokenKind.Blank)
                continue;
            bool word = kind is TokenKind.Name or TokenKind.Number;
            if (word)
            {
                words++;
                if (afterWord && syntax.Tokens[i - 1].Kind == TokenKind.Blank)
                    side++;
                if (kind == TokenKind.Name)
                    letters++;
                else
                    digits++;
                if (i != syntax.LabelToken && LetterForDigit.IsSuspicious(syntax.SpanOf(i), kind))
                {
                    odd = true;
                    oddDigits |= kind == TokenKind.Number;
                }

                function |=
                    kind == TokenKind.Name
                    && (i != syntax.LabelToken || syntax.OperationKind == OperationKind.Unknown)
                    && FunctionWords.Contains(syntax.SpanOf(i));
            }
            else if (kind == TokenKind.Comma)
                commas++;

            afterWord = word || kind is TokenKind.Stray;
        }

        if (odd)
            traits |= oddDigits ? LineTraits.OddNumber | LineTraits.OddDigits : LineTraits.OddNumber;
        if (function)
            traits |= LineTraits.FunctionWord;
        bool known = syntax.OperationKind is OperationKind.Instruction or OperationKind.Directive;
        // 'label operation operand' is two pairs side by side; a known operation in front leaves room for one.
        int allowed = known && syntax.LabelToken < 0 ? 1 : 2;
        if (side > allowed || (side == allowed && function && words >= 3 && commas == 0))
            traits |= LineTraits.Prose;
        if (letters == 0 && digits > 0)
            traits |= LineTraits.NumberOnly;
        return traits;
    }
}
