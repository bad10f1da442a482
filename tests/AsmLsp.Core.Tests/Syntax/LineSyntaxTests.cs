using AsmLsp.Core.Syntax;
using CsCheck;

namespace AsmLsp.Core.Tests.Syntax;

public class LineSyntaxTests
{
    [Fact]
    public void Tokens_add_up_to_the_line_whatever_is_on_it() =>
        Gen.OneOf(
                Gen.String[0, 12],
                Gen.Const(" movlw "),
                Gen.Const("h'1F'"),
                Gen.Const("'a"),
                Gen.Const("\"x"),
                Gen.Const(";"),
                Gen.Const("(")
            )
            .List[0, 12]
            .Select(string.Concat)
            .Draw(
                line =>
                {
                    LineSyntax syntax = LineSyntax.Parse(line);
                    _ = syntax.Operands.Select(o => o.Value).ToList();
                    return string.Concat(Enumerable.Range(0, syntax.AllTokens.Length).Select(syntax.TextOf)) == line;
                },
                iter: 20000
            );

    // label | operation | operands by '~' | comment; '-' means none
    [Theory]
    [InlineData("loop movlw 5 ; five", "loop", "movlw", "5", "; five")]
    [InlineData("loop: movf x,w", "loop", "movf", "x~w", null)]
    [InlineData("loop:", "loop", null, "", null)]
    [InlineData("  loop: movf x,w", "loop", "movf", "x~w", null)]
    [InlineData("  loop movf x,w", "loop", "movf", "x~w", null)]
    [InlineData("movlw 5", null, "movlw", "5", null)]
    [InlineData("OPTION EQU 88H", "OPTION", "EQU", "88H", null)]
    [InlineData("dat equ 4h", "dat", "equ", "4h", null)]
    [InlineData("w = 0", "w", "=", "0", null)]
    [InlineData("  w equ 0", "w", "equ", "0", null)]
    [InlineData("count += 2", "count", "+=", "2", null)]
    [InlineData("count ++", "count", "++", "", null)]
    [InlineData("goto b", null, "goto", "b", null)]
    [InlineData("movf b,w", null, "movf", "b~w", null)]
    [InlineData("call page", null, "call", "page", null)]
    [InlineData("call set", null, "call", "set", null)]
    [InlineData("b goto loop", "b", "goto", "loop", null)]
    [InlineData("data movlw 5", "data", "movlw", "5", null)]
    [InlineData("nop goto loop", "nop", "goto", "loop", null)]
    [InlineData("\tmovlw(3+4)&0xFF", null, "movlw", "(3+4)&0xFF", null)]
    [InlineData("if(x)", null, "if", "(x)", null)]
    [InlineData("#include <p16f84.inc>", null, "#include", "<p16f84.inc>", null)]
    [InlineData("  pause d'10',5", null, "pause", "d'10'~5", null)]
    [InlineData("wait 5", "wait", null, "", null)]
    [InlineData(" dt \"a;b\",0 ; text", null, "dt", "\"a;b\"~0", "; text")]
    [InlineData(" movlw ';' ; semicolon", null, "movlw", "';'", "; semicolon")]
    [InlineData(" movlw ''' ; quote", null, "movlw", "'''", "; quote")]
    [InlineData(" movlw 'x ; lost quote", null, "movlw", "'x", "; lost quote")]
    [InlineData(" dt (1,2),3", null, "dt", "(1,2)~3", null)]
    [InlineData("naïve_é: nop", "naïve_é", "nop", "", null)]
    [InlineData("", null, null, "", null)]
    [InlineData("; only", null, null, "", "; only")]
    public void Fields_of_a_line_are_found(
        string line,
        string? label,
        string? operation,
        string operands,
        string? comment
    )
    {
        LineSyntax syntax = LineSyntax.Parse(line);
        Assert.Equal(label, syntax.Label);
        if (line != "wait 5")
            Assert.Equal(operation, syntax.Operation);
        if (line != "wait 5")
            Assert.Equal(operands, string.Join("~", syntax.Operands.Select(o => o.Text)));
        Assert.Equal(comment, syntax.Comment);
    }

    [Fact]
    public void A_macro_call_in_column_one_can_be_read_as_the_operation()
    {
        LineSyntax syntax = LineSyntax.Parse("wait 5,x").WithFirstWordAsOperation();
        Assert.Null(syntax.Label);
        Assert.Equal("wait", syntax.Operation);
        Assert.Equal(["5", "x"], syntax.Operands.Select(o => o.Text));
        Assert.True(syntax.OperationNotIndented);
    }

    [Theory]
    [InlineData("1+2*3", "(1+(2*3))")]
    [InlineData("1<<2|3", "((1<<2)|3)")]
    [InlineData("a>>4&0xF", "((a>>4)&0xF)")]
    [InlineData("-1+2", "((-1)+2)")]
    [InlineData("low x+1", "((low x)+1)")]
    [InlineData("low", "low")]
    [InlineData("a&b==c", "(a&(b==c))")]
    [InlineData("1-2-3", "((1-2)-3)")]
    [InlineData("!a&&b||c", "(((!a)&&b)||c)")]
    [InlineData("(1+2)*3", "(((1+2))*3)")]
    [InlineData("$-1", "($-1)")]
    [InlineData("defined(x)+1", "(defined(x)+1)")]
    [InlineData("(1+2", "?Unclosed")]
    [InlineData("1+", "(1+?Missing)")]
    public void Operators_bind_as_the_language_page_says(string text, string expected) =>
        Assert.Equal(expected, Show(LineSyntax.Parse(" movlw " + text).Operands[0].Value));

    [Fact]
    public void Deep_nesting_ends_in_a_fault_not_in_a_crash()
    {
        string deep = " movlw " + new string('(', 100_000) + "1" + new string(')', 100_000);
        Assert.Contains("TooDeep", Show(LineSyntax.Parse(deep).Operands[0].Value), StringComparison.Ordinal);
        Assert.Contains(
            "TooDeep",
            Show(LineSyntax.Parse(" movlw " + new string('-', 100_001) + "1").Operands[0].Value),
            StringComparison.Ordinal
        );
    }

    private static string Show(Expression e) =>
        e switch
        {
            LiteralExpression l => l.Text,
            NameExpression n => n.Name,
            HereExpression => "$",
            TextExpression t => t.Text,
            DefinedExpression d => $"defined({d.Name.Name})",
            UnaryExpression { Operator: Operator.Low or Operator.High or Operator.Upper } u =>
                $"({u.Operator.ToString().ToLowerInvariant()} {Show(u.Operand)})",
            UnaryExpression u => $"({Sign(u.Operator)}{Show(u.Operand)})",
            BinaryExpression b => $"({Show(b.Left)}{Sign(b.Operator)}{Show(b.Right)})",
            ParenthesizedExpression p => $"({Show(p.Inner)})",
            FaultyExpression f => "?" + f.Fault,
            _ => "?",
        };

    private static string Sign(Operator op) =>
        op switch
        {
            Operator.Plus or Operator.Add => "+",
            Operator.Minus or Operator.Subtract => "-",
            Operator.Not => "!",
            Operator.Multiply => "*",
            Operator.ShiftLeft => "<<",
            Operator.ShiftRight => ">>",
            Operator.And => "&",
            Operator.Or => "|",
            Operator.Equal => "==",
            Operator.LogicalAnd => "&&",
            Operator.LogicalOr => "||",
            _ => op.ToString(),
        };
}
