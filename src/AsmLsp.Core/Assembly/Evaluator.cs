using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Works out what an expression is worth, with 32-bit signed numbers, and reports what is wrong with it.</summary>
internal sealed class Evaluator(AssemblyPass pass)
{
    public Value Evaluate(Expression expression, in EffectiveLine line) =>
        expression switch
        {
            LiteralExpression literal => Literal(literal, line),
            NameExpression name => pass.ValueOf(name.Name, line.Place(name.Span), line.Via),
            HereExpression => pass.Placer.Location,
            ParenthesizedExpression inner => Evaluate(inner.Inner, line),
            BinaryExpression binary => Binary(binary, line),
            UnaryExpression unary => Unary(unary, line),
            TextExpression text => Text(text, line),
            DefinedExpression defined => pass.IsDefined(defined.Name.Name) ? 1 : 0,
            FaultyExpression faulty => Fault(faulty, line),
            _ => Value.Unknown,
        };

    private Value Literal(LiteralExpression literal, in EffectiveLine line)
    {
        LiteralReading reading = Literals.Read(literal.Text, pass.Radix);
        switch (reading.Fault)
        {
            case LiteralFault.None:
                if (reading.IsAmbiguous)
                {
                    string binary =
                        literal.Text[^1] is 'b' or 'B' && literal.Text[1] is not ('b' or 'B')
                            ? literal.Text[..^1]
                            : literal.Text[2..];
                    string sure = reading.Radix == 2 ? $"b'{binary}'" : $"b'{binary}' or 0x{literal.Text}";
                    pass.Report(
                        Catalogue.AmbiguousNumber,
                        line.Place(literal.Span),
                        line.Via,
                        literal.Text,
                        Literals.NameOf(reading.Radix),
                        sure
                    );
                }

                return reading.Notation == LiteralNotation.Character
                    ? Character((char)reading.Value, literal.Span, line)
                    : reading.Value;
            case LiteralFault.BadDigit:
                pass.Report(
                    Catalogue.BadNumber,
                    line.Place(literal.Span),
                    line.Via,
                    literal.Text,
                    Literals.NameOf(reading.Radix),
                    reading.FaultyDigit.ToString()
                );
                return Value.Unknown;
            case LiteralFault.TooLarge:
                string shown = literal.Text.Length > 24 ? literal.Text[..20] + "..." : literal.Text;
                pass.Report(Catalogue.NumberTooLarge, line.Place(literal.Span), line.Via, shown);
                return Value.Unknown;
            case LiteralFault.Unclosed:
                pass.Report(Catalogue.UnclosedQuote, line.Place(literal.Span), line.Via, literal.Text);
                return reading.Notation == LiteralNotation.Character
                    ? Character((char)reading.Value, literal.Span, line)
                    : reading.Value;
            case LiteralFault.TooLong:
                pass.Report(
                    Catalogue.TextWhereValue,
                    line.Place(literal.Span),
                    line.Via,
                    literal.Text,
                    (literal.Text.Length - 2).ToString(System.Globalization.CultureInfo.InvariantCulture)
                );
                return Value.Unknown;
            default:
                pass.Report(
                    Catalogue.BadExpression,
                    line.Place(literal.Span),
                    line.Via,
                    reading.Notation == LiteralNotation.Character
                        ? "A character is missing between these quotes."
                        : $"{literal.Text} holds no digit."
                );
                return Value.Unknown;
        }
    }

    /// <summary>The byte that means a character, reported where it has none.</summary>
    public int Character(char c, TextSpan span, in EffectiveLine line)
    {
        if (TextEncoding.ToByte(c) is { } known)
            return known;
        pass.Report(Catalogue.CharacterWithoutByte, line.Place(span), line.Via, c.ToString(), Show.Hex(c & 0xFF, 2));
        return c & 0xFF;
    }

    private Value Text(TextExpression text, in EffectiveLine line)
    {
        List<char> inside = Inside(text, line);
        if (inside.Count == 1)
            return Character(inside[0], text.Span, line);
        pass.Report(
            Catalogue.TextWhereValue,
            line.Place(text.Span),
            line.Via,
            text.Text,
            inside.Count.ToString(System.Globalization.CultureInfo.InvariantCulture)
        );
        return Value.Unknown;
    }

    /// <summary>The characters of a text in double quotes; a text that is never closed is reported.</summary>
    public List<char> Inside(TextExpression text, in EffectiveLine line)
    {
        bool closed = text.Text.Length > 1 && text.Text[^1] == '"';
        if (!closed)
            pass.Report(Catalogue.UnclosedQuote, line.Place(text.Span), line.Via, text.Text);
        return Literals.Unescape(text.Text.AsSpan(1, text.Text.Length - (closed ? 2 : 1)));
    }

    private Value Fault(FaultyExpression faulty, in EffectiveLine line)
    {
        string what = faulty.Fault switch
        {
            ExpressionFault.Missing => "A value is missing here.",
            ExpressionFault.Unclosed => "This parenthesis is never closed.",
            ExpressionFault.TooDeep =>
                "This expression is nested deeper than 256 levels, or has more than 1,000 operators.",
            _ => faulty.Span.Length > 0 && faulty.Span.End <= line.Syntax.Text.Length
                ? $"'{line.Syntax.Text.Substring(faulty.Span.Start, faulty.Span.Length)}' is not a value. A value is expected here."
                : "A value is expected here.",
        };
        pass.Report(Catalogue.BadExpression, line.Place(faulty.Span), line.Via, what);
        return Value.Unknown;
    }

    private Value Unary(UnaryExpression unary, in EffectiveLine line)
    {
        Value operand = Evaluate(unary.Operand, line);
        if (!operand.IsKnown)
            return operand;
        return Arithmetic.Apply(unary.Operator, operand.Number);
    }

    // A long sum leans to the left: its operators are worked out one after the other, so that no stack can run out.
    private Value Binary(BinaryExpression outermost, in EffectiveLine line)
    {
        if (outermost.Left is not BinaryExpression)
            return Binary(outermost, Evaluate(outermost.Left, line), line);
        var waiting = new Stack<BinaryExpression>();
        Expression first = outermost;
        while (first is BinaryExpression inner)
        {
            waiting.Push(inner);
            first = inner.Left;
        }

        Value left = Evaluate(first, line);
        while (waiting.TryPop(out BinaryExpression? binary))
            left = Binary(binary, left, line);
        return left;
    }

    private Value Binary(BinaryExpression binary, Value left, in EffectiveLine line)
    {
        Value right = Evaluate(binary.Right, line);
        if (IsUnclear(binary, out BinaryExpression? inner))
        {
            string tight = Sign(inner, line),
                loose = Sign(binary, line);
            bool tightIsLeft = ReferenceEquals(binary.Left, inner);
            string read = tightIsLeft ? $"(a {tight} b) {loose} c" : $"a {loose} (b {tight} c)";
            pass.Report(Catalogue.UnclearPrecedence, line.Place(binary.Span), line.Via, tight, loose, read);
        }

        if (!left.IsKnown || !right.IsKnown)
            return Value.Unknown;
        long a = left.Number,
            b = right.Number;
        if (binary.Operator is Operator.Divide or Operator.Remainder)
        {
            if (b == 0)
            {
                pass.Report(Catalogue.DivisionByZero, line.Place(binary.Span), line.Via);
                return Value.Unknown;
            }

            if (a < 0 || b < 0)
                pass.Report(Catalogue.NegativeDivision, line.Place(binary.Span), line.Via);
        }

        long result = Arithmetic.Apply(binary.Operator, a, b);
        // From 16 bits on, what comes in at the top reaches the low 16 bits, all that a word can show.
        if (binary.Operator == Operator.ShiftRight && a < 0 && b is >= 16 and <= 31)
            pass.Report(Catalogue.NegativeShift, line.Place(binary.Span), line.Via, Show.Decimal((int)b));
        if (
            binary.Operator is Operator.ShiftLeft or Operator.ShiftRight && b is < 0 or > 31
            || result is > uint.MaxValue or < int.MinValue
        )
            pass.Report(Catalogue.ValueOverflows, line.Place(binary.Span), line.Via);
        return unchecked((int)result);
    }

    // 'a & b == c': people read it as '(a & b) == c', it is not.
    private static bool IsUnclear(BinaryExpression outer, out BinaryExpression inner)
    {
        inner = null!;
        if (outer.Operator is not (Operator.And or Operator.Or or Operator.ExclusiveOr))
            return false;
        foreach (Expression side in (ReadOnlySpan<Expression>)[outer.Left, outer.Right])
        {
            if (side is BinaryExpression { Operator: >= Operator.Less and <= Operator.NotEqual } compare)
            {
                inner = compare;
                return true;
            }
        }

        return false;
    }

    private static string Sign(BinaryExpression binary, in EffectiveLine line) =>
        line.Syntax.Text.Substring(binary.OperatorSpan.Start, binary.OperatorSpan.Length);
}
