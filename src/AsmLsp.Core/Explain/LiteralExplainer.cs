using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A number or a character: what it is worth, and why it is read so.</summary>
internal static class LiteralExplainer
{
    public static Explanation? Explain(ExplainContext context, int token)
    {
        string written = context.Syntax.TextOf(token);
        TextSpan span = context.Syntax.Tokens[token].Span;
        LiteralReading reading = Literals.Read(written, context.Facts.Radix);
        var text = new MarkdownText();
        if (reading.Fault is LiteralFault.BadDigit)
            return new Explanation(
                $"{MarkdownText.Code(written)} is not a {Literals.NameOf(reading.Radix)} number: {MarkdownText.Code(reading.FaultyDigit.ToString())} is not one of its digits.",
                span
            );
        if (reading.Fault is not (LiteralFault.None or LiteralFault.Unclosed))
            return null;
        int value =
            reading.Notation == LiteralNotation.Character
                ? TextEncoding.ToByte((char)reading.Value) ?? reading.Value & 0xFF
                : reading.Value;

        OperandSyntax? operand = context.OperandAt(token, out int index);
        bool alone = operand is not null && operand.Span == span;
        OperandRole role = alone ? context.RoleOf(index) : OperandRole.Value;
        if (role == OperandRole.Destination && value is 0 or 1)
            return DestinationExplainer.Of(context, value, span);
        if (role == OperandRole.Bit)
            BitExplainer.Numbered(context, value, text);
        if (role == OperandRole.Register)
            text.Paragraph(MarkdownText.Capital(RegisterExplainer.NameOf(context.Device, value, value & 0x7F)));
        text.Paragraph($"{MarkdownText.Code(written)} is {AllBases(value)}");
        text.Bullet(Rule(reading, written, context));
        if (role == OperandRole.Literal && value is < -128 or > 255)
            text.Bullet(
                $"It does not fit into 8 bits: {MarkdownText.Code(Show.Hex(value & 0xFF, 2))} goes into the instruction"
            );
        if (role == OperandRole.Register && context.Device?.DataMemory.RegisterAt(value) is { } register)
            Details(register, text);
        return new Explanation(text.ToString(), span);
    }

    /// <summary>A value in hexadecimal, decimal, binary, and as a character where it is a printable one.</summary>
    public static string AllBases(int value)
    {
        string hex = Show.Hex(
            value,
            value is >= 0 and <= 0xFF ? 2
                : value is >= 0 and <= 0xFFF ? 3
                : 4
        );
        string text = $"{MarkdownText.Code(hex)}, decimal {value.ToString(CultureInfo.InvariantCulture)}";
        if (value is >= 0 and <= 0xFF)
            text += $", binary {Binary(value, 8)}";
        else if (value is > 0xFF and <= 0xFFFF)
            text += $", binary {Binary(value, 16)}";
        if (value is > 0x20 and < 0x7F)
            text += $", character {MarkdownText.Code(((char)value).ToString())}";
        return text;
    }

    private static string Binary(int value, int digits)
    {
        string bits = Convert.ToString(value, 2).PadLeft(digits, '0');
        return string.Join(' ', Enumerable.Range(0, digits / 4).Select(i => bits.Substring(i * 4, 4)));
    }

    private static void Details(Register register, MarkdownText text)
    {
        if (register.Description.Length > 0)
            text.Bullet($"{MarkdownText.Code(register.Name)}: {MarkdownText.Escape(register.Description)}");
    }

    private static string Rule(in LiteralReading reading, string written, ExplainContext context)
    {
        switch (reading.Notation)
        {
            case LiteralNotation.Character:
                return "A character, by its quotes";
            case LiteralNotation.Bare when reading.IsAmbiguous:
                return "Read as hexadecimal digits, though it looks like binary notation; write it with quotes to be sure";
            case LiteralNotation.Bare:
                bool isUsual = context.Facts.Radix == context.Program.Options.Radix && !IsRadixSet(context);
                string name = Literals.NameOf(reading.Radix);
                string same =
                    reading.Value is >= 0 and <= 9 && written.Length <= 1 ? "; this one is the same in every base" : "";
                return isUsual
                    ? $"Bare digits are {name} here because no radix is set{same}"
                    : $"Bare digits are {name} here because the radix is set so{same}";
            default:
                return $"{MarkdownText.Capital(Literals.NameOf(reading.Radix))}, by its notation";
        }
    }

    // Whether a line above sets the radix, be it to what is usual anyway.
    private static bool IsRadixSet(ExplainContext context)
    {
        SourceFile root = context.Program.Root;
        int last = context.File == root ? context.Line : root.Text.LineCount;
        return context.Program.Derive(static program => new FirstRadix(program.Root)).Line < last;
    }

    // The first line that sets the radix; it is asked for at each number.
    private sealed class FirstRadix
    {
        public FirstRadix(SourceFile root)
        {
            Line = 0;
            foreach (TextLine line in root.Text.Lines)
            {
                if (Sets(LineSyntax.Of(line)))
                    return;
                Line++;
            }

            Line = int.MaxValue;
        }

        public int Line { get; }

        private static bool Sets(LineSyntax line)
        {
            if (line.Keyword == Keyword.Radix)
                return true;
            if (line.Keyword != Keyword.List)
                return false;
            foreach (OperandSyntax operand in line.Operands)
                if (
                    operand.Text.StartsWith("r=", StringComparison.OrdinalIgnoreCase)
                    || operand.Text.StartsWith("r =", StringComparison.OrdinalIgnoreCase)
                )
                    return true;
            return false;
        }
    }
}
