using AsmLsp.Core.Text;

namespace AsmLsp.Core.Syntax;

/// <summary>
/// Reads an expression from the tokens of one operand. Never fails: a faulty place becomes a
/// <see cref="FaultyExpression"/>, and what is left over after the expression is reported by its token index.
/// </summary>
internal struct ExpressionParser
{
    private const int DeepestNesting = 256;
    private const int MostOperators = 1_000;

    private readonly string line;
    private readonly SyntaxToken[] tokens;
    private readonly int first;
    private readonly int end;
    private int at;
    private int depth;
    private int operators;

    private ExpressionParser(string line, SyntaxToken[] tokens, int first, int end)
    {
        this.line = line;
        this.tokens = tokens;
        this.first = first;
        this.end = end;
        at = first;
    }

    /// <summary>Parses the tokens; <paramref name="rest"/> is the first token that was not used (or the end).</summary>
    public static Expression Parse(string line, SyntaxToken[] tokens, int first, int end, out int rest)
    {
        var parser = new ExpressionParser(line, tokens, first, end);
        Expression expression = parser.Binary(0);
        parser.SkipBlanks();
        rest = parser.at;
        return expression;
    }

    private Expression Binary(int weakest)
    {
        if (++depth > DeepestNesting)
        {
            TextSpan span = Remaining();
            at = end;
            depth--;
            return new FaultyExpression(span, ExpressionFault.TooDeep);
        }

        Expression left = Unary();
        while (left is not FaultyExpression)
        {
            SkipBlanks();
            if (
                at >= end
                || tokens[at].Kind != TokenKind.Operator
                || !TryBinary(Word(at), out Operator op, out int strength)
                || strength < weakest
            )
                break;
            if (++operators > MostOperators)
            {
                TextSpan span = Remaining();
                at = end;
                depth--;
                return new FaultyExpression(span, ExpressionFault.TooDeep);
            }

            TextSpan sign = tokens[at].Span;
            at++;
            Expression right = Binary(strength + 1);
            left = new BinaryExpression(TextSpan.FromBounds(left.Span.Start, right.Span.End), op, left, right, sign);
        }

        depth--;
        return left;
    }

    private Expression Unary()
    {
        SkipBlanks();
        if (at >= end)
            return new FaultyExpression(new TextSpan(EndColumn(), 0), ExpressionFault.Missing);
        SyntaxToken token = tokens[at];
        switch (token.Kind)
        {
            case TokenKind.Operator when TryUnary(Word(at), out Operator op):
                at++;
                return Applied(token, op);
            case TokenKind.Operator when Word(at) is "++" or "--":
                // Written without a blank, as in 'a + +1' squeezed: two signs.
                at++;
                Operator sign = line[token.Start] == '+' ? Operator.Plus : Operator.Minus;
                Expression inner = Applied(token, sign);
                return new UnaryExpression(inner.Span, sign, inner);
            case TokenKind.Name:
                return Name(token);
            case TokenKind.Number or TokenKind.Character:
                at++;
                return new LiteralExpression(token.Span, line.Substring(token.Start, token.Length));
            case TokenKind.Text:
                at++;
                return new TextExpression(token.Span, line.Substring(token.Start, token.Length));
            case TokenKind.Here:
                at++;
                return new HereExpression(token.Span);
            case TokenKind.Open:
                return Parenthesized(token);
            default:
                return new FaultyExpression(token.Span, ExpressionFault.Unexpected);
        }
    }

    private Expression Applied(SyntaxToken token, Operator op)
    {
        if (++depth > DeepestNesting)
        {
            TextSpan span = Remaining();
            at = end;
            depth--;
            return new FaultyExpression(span, ExpressionFault.TooDeep);
        }

        Expression operand = Unary();
        depth--;
        return new UnaryExpression(TextSpan.FromBounds(token.Start, operand.Span.End), op, operand);
    }

    private Expression Name(SyntaxToken token)
    {
        string name = line.Substring(token.Start, token.Length);
        at++;
        if (TryWordOperator(name, out Operator op) && StartsValue())
            return Applied(token, op);
        if (name.Equals("defined", StringComparison.OrdinalIgnoreCase))
        {
            int back = at;
            SkipBlanks();
            if (at + 1 < end && tokens[at].Kind == TokenKind.Open)
            {
                at++;
                SkipBlanks();
                if (at < end && tokens[at].Kind == TokenKind.Name)
                {
                    var wanted = new NameExpression(tokens[at].Span, Word(at).ToString());
                    at++;
                    SkipBlanks();
                    if (at < end && tokens[at].Kind == TokenKind.Close)
                        return new DefinedExpression(TextSpan.FromBounds(token.Start, tokens[at++].End), wanted);
                }
            }

            at = back;
        }

        return new NameExpression(token.Span, name);
    }

    private Expression Parenthesized(SyntaxToken open)
    {
        at++;
        Expression inner = Binary(0);
        SkipBlanks();
        if (at < end && tokens[at].Kind == TokenKind.Close)
            return new ParenthesizedExpression(TextSpan.FromBounds(open.Start, tokens[at++].End), inner);
        return inner is FaultyExpression
            ? inner
            : new FaultyExpression(TextSpan.FromBounds(open.Start, inner.Span.End), ExpressionFault.Unclosed);
    }

    // 'low', 'high' and 'upper' are operators only before a value: a program may use them as names of its own.
    private readonly bool StartsValue()
    {
        int next = at;
        while (next < end && tokens[next].Kind == TokenKind.Blank)
            next++;
        return next < end
            && tokens[next].Kind
                is TokenKind.Name
                    or TokenKind.Number
                    or TokenKind.Character
                    or TokenKind.Here
                    or TokenKind.Open
                    or TokenKind.Text;
    }

    private readonly ReadOnlySpan<char> Word(int token) => line.AsSpan(tokens[token].Start, tokens[token].Length);

    private void SkipBlanks()
    {
        while (at < end && tokens[at].Kind == TokenKind.Blank)
            at++;
    }

    private readonly int EndColumn() =>
        end > first ? tokens[end - 1].End
        : end < tokens.Length ? tokens[end].Start
        : line.Length;

    private readonly TextSpan Remaining() =>
        at < end ? TextSpan.FromBounds(tokens[at].Start, tokens[end - 1].End) : new TextSpan(EndColumn(), 0);

    private static bool TryUnary(ReadOnlySpan<char> word, out Operator op)
    {
        op = word switch
        {
            "+" => Operator.Plus,
            "-" => Operator.Minus,
            "!" => Operator.Not,
            _ => Operator.Complement,
        };
        return word is "+" or "-" or "!" or "~";
    }

    private static bool TryWordOperator(string word, out Operator op)
    {
        op = Operator.Upper;
        if (word.Equals("low", StringComparison.OrdinalIgnoreCase))
            op = Operator.Low;
        else if (word.Equals("high", StringComparison.OrdinalIgnoreCase))
            op = Operator.High;
        else if (!word.Equals("upper", StringComparison.OrdinalIgnoreCase))
            return false;
        return true;
    }

    private static bool TryBinary(ReadOnlySpan<char> word, out Operator op, out int strength)
    {
        (op, strength) = word switch
        {
            "*" => (Operator.Multiply, 10),
            "/" => (Operator.Divide, 10),
            "%" => (Operator.Remainder, 10),
            "+" => (Operator.Add, 9),
            "-" => (Operator.Subtract, 9),
            "<<" => (Operator.ShiftLeft, 8),
            ">>" => (Operator.ShiftRight, 8),
            "<" => (Operator.Less, 7),
            "<=" => (Operator.LessOrEqual, 7),
            ">" => (Operator.Greater, 7),
            ">=" => (Operator.GreaterOrEqual, 7),
            "==" => (Operator.Equal, 6),
            "!=" => (Operator.NotEqual, 6),
            "&" => (Operator.And, 5),
            "^" => (Operator.ExclusiveOr, 4),
            "|" => (Operator.Or, 3),
            "&&" => (Operator.LogicalAnd, 2),
            "||" => (Operator.LogicalOr, 1),
            _ => (Operator.Add, 0),
        };
        return strength > 0;
    }
}
