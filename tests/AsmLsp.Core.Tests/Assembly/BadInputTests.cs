using System.Diagnostics;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Input that would keep a careless program busy for ever or break it: one problem at the place that is the cause, in bounded time.</summary>
public class BadInputTests
{
    // Holds that the work ends at all, not how fast: wide enough for a busy machine.
    private static readonly TimeSpan Bound = TimeSpan.FromMinutes(3);

    private static string[] Problems(string source, params (string, string)[] files)
    {
        var watch = Stopwatch.StartNew();
        string[] found = Check.Problems(source, files);
        Assert.True(watch.Elapsed < Bound, $"It took {watch.Elapsed.TotalSeconds:F1} s.");
        return found;
    }

    private static string Repeat(string line, int times)
    {
        var text = new StringBuilder(line.Length * times);
        for (int i = 0; i < times; i++)
            text.Append(string.Format(CultureInfo.InvariantCulture, line, i));
        return text.ToString();
    }

    [Fact]
    public void A_macro_that_calls_itself_is_reported_at_the_call() =>
        Assert.Equal(["5 limit-reached"], Problems(" nop\nm macro\n m\n endm\n m\n end"));

    [Fact]
    public void Macros_that_call_each_other_are_reported_at_the_call() =>
        Assert.Equal(["7 limit-reached"], Problems("p macro\n q\n endm\nq macro\n p\n endm\n p\n end"));

    [Fact]
    public void A_macro_that_calls_itself_many_times_is_reported_once() =>
        Assert.Equal(["6 limit-reached"], Problems("m macro\n m\n m\n m\n endm\n m\n m\n end"));

    [Fact]
    public void Macros_that_double_stop_at_a_million_lines()
    {
        string source = " nop\n" + Repeat("m{0} macro\n x{0}\n x{0}\n endm\n", 40);
        for (int i = 0; i < 40; i++)
            source = source.Replace($" x{i}\n", i == 39 ? "n set 1\n" : $" m{i + 1}\n", StringComparison.Ordinal);
        Assert.Equal(["162 limit-reached"], Problems(source + " m0\n end"));
    }

    [Fact]
    public void Words_after_the_last_address_are_one_problem() =>
        Assert.Equal(
            ["1 address-outside-chip", "5 bad-address"],
            Problems(Repeat(" fill 3FFF,4000\n", 4) + " fill 3FFF,1\n nop\n end")
                .Where(p => !p.EndsWith("unclear-data", StringComparison.Ordinal))
        );

    [Theory]
    [InlineData(" while 1\n endw\n nop\n end", "1 limit-reached")]
    [InlineData(" while 1\n while 1\n endw\n endw\n nop\n end", "2 limit-reached")]
    [InlineData("i set 1\n while i\ni set i+1\n endw\n nop\n end", "2 limit-reached")]
    [InlineData("m macro\n while 1\n endw\n endm\n m\n nop\n end", "2 limit-reached")]
    public void An_endless_loop_is_reported_once_at_its_line(string source, string problem) =>
        Assert.Equal([problem], Problems(source));

    [Fact]
    public void A_loop_of_more_than_a_million_lines_is_stopped() =>
        Assert.Equal(
            ["2 limit-reached"],
            Problems("i set 0\n while i < 0x4000\n" + Repeat("x set {0}\n", 99) + "i set i+1\n endw\n nop\n end")
        );

    [Fact]
    public void Loops_inside_each_other_without_end_are_stopped() =>
        Assert.Equal(
            ["1 limit-reached"],
            Problems(Repeat(" while 1\n", 2000) + Repeat(" endw\n", 2000) + " nop\n end")
        );

    [Fact]
    public void Files_that_include_each_other_in_a_circle_are_reported_once() =>
        Assert.Equal(
            ["1 include-circular"],
            Problems(" include a\n nop\n end", ("a", " include b"), ("b", " include c"), ("c", " include a"))
        );

    [Fact]
    public void A_file_that_includes_itself_is_reported_once() =>
        Assert.Equal(["1 include-circular"], Problems(" include a\n nop\n end", ("a", " include a")));

    [Fact]
    public void Files_that_include_the_next_one_twice_are_stopped()
    {
        (string, string)[] files =
        [
            .. Enumerable
                .Range(0, 40)
                .Select(i => ($"f{i}", i == 39 ? "\n" : $" include f{i + 1}\n include f{i + 1}\n")),
        ];
        string problem = Assert.Single(Problems(" nop\n include f0\n end", files));
        Assert.EndsWith("limit-reached", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Files_deeper_than_the_limit_are_reported_once()
    {
        (string, string)[] files =
        [
            .. Enumerable.Range(0, 100).Select(i => ($"f{i}", $" include f{i + 1}\n")),
            ("f100", " nop\n"),
        ];
        Assert.Equal(["1 limit-reached"], Problems(" include f0\n nop\n end", files));
    }

    [Fact]
    public void A_macro_body_of_two_megabytes_is_read()
    {
        string body = Repeat(" movlw 1 ; a line of a long macro\n", 61_000);
        Assert.True(body.Length > 2_000_000);
        Assert.Equal([], Problems("m macro\n" + body + " endm\n nop\n end"));
    }

    [Fact]
    public void A_macro_body_that_is_never_closed_is_one_problem() =>
        Assert.Equal(["1 block-not-closed"], Problems("m macro\n" + Repeat(" movlw 1\n", 1000) + " end"));

    [Theory]
    [InlineData(" if 1\n nop\n end", "1 block-not-closed")]
    [InlineData(" if 0\n nop\n", "1 block-not-closed")]
    [InlineData(" if 1\n nop\n endif\n endif\n end", "4 block-not-opened")]
    [InlineData(" if 1\n nop\n else\n nop\n else\n nop\n endif\n end", "5 block-not-opened")]
    [InlineData(" if 1\n nop\n else\n elseif 1\n endif\n end", "4 block-not-opened")]
    [InlineData(" nop\n else\n end", "2 block-not-opened")]
    [InlineData(" nop\n endm\n end", "2 block-not-opened")]
    [InlineData(" nop\n endw\n end", "2 block-not-opened")]
    [InlineData(" nop\n endc\n end", "2 block-not-opened")]
    [InlineData(" nop\n exitm\n end", "2 block-not-opened")]
    [InlineData(" nop\n while 1\n nop\n end", "2 block-not-closed")]
    [InlineData(" cblock 20\n a\n", "1 block-not-closed")]
    [InlineData(" cblock 20\n a\n org 0\nstart nop\n goto start\n clrf a\n end", "1 block-not-closed")]
    [InlineData(" cblock 20\n a\n org 0\n clrf a\n endc\n end", "1 block-not-closed", "5 block-not-opened")]
    [InlineData("m macro\n if 1\n endm\n m\n nop\n end", "2 block-not-closed")]
    [InlineData("m macro\n endif\n endm\n if 1\n m\n endif\n nop\n end", "2 block-not-opened")]
    public void Blocks_that_do_not_match_are_reported_where_they_start_or_end(
        string source,
        params string[] problems
    ) => Assert.Equal(problems, Problems(source));

    [Theory]
    [InlineData(" movlw (1+2", "bad-expression")]
    [InlineData(" movlw ((((1", "bad-expression")]
    [InlineData(" movlw 1+2)", "text-after-operands")]
    [InlineData(" movlw ()", "bad-expression")]
    [InlineData(" movlw (", "bad-expression")]
    [InlineData(" movlw )", "bad-expression")]
    [InlineData(" movlw 1+", "bad-expression")]
    [InlineData(" movlw *", "bad-expression")]
    [InlineData(" movlw 1,", "too-many-operands")]
    [InlineData(" movlw ,1", "missing-operand", "too-many-operands")]
    public void A_broken_expression_is_one_problem(string line, params string[] codes) =>
        Assert.Equal(codes.Select(c => "1 " + c), Problems(line + "\n end"));

    [Fact]
    public void An_expression_of_many_parentheses_or_operators_is_one_problem()
    {
        Assert.Equal(["1 bad-expression"], Problems(" movlw " + new string('(', 100_000) + "1\n end"));
        Assert.Equal(["1 bad-expression"], Problems(" movlw " + Repeat("- ", 100_000) + "1\n end"));
        Assert.Equal(["1 bad-expression"], Problems(" movlw 0" + Repeat("+0", 100_000) + "\n end"));
        Assert.Equal([], Problems(" movlw 0" + Repeat("+0", 900) + "\n end"));
    }

    [Theory]
    [InlineData("9")]
    [InlineData("F")]
    public void A_number_of_400_digits_is_too_large(string digit) =>
        Assert.Equal(["1 number-too-large"], Problems(" movlw 0" + Repeat(digit, 400) + "\n end"));

    [Fact]
    public void A_label_defined_in_two_includes_is_reported_in_the_second()
    {
        ProgramAnalysis program = Check.Assemble(
            " include a\n include b\n goto there\n end",
            ("a", "there nop\n"),
            ("b", "\nthere clrw\n")
        );
        Problem problem = Assert.Single(program.Problems, p => p.Severity == Severity.Error);
        Assert.Equal(("name-defined-twice", "b", 1), (problem.Code, problem.Place.File.Name, problem.Place.Line));
        Assert.Contains("line 1 of a", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Line_ends_of_every_kind_are_read_alike()
    {
        foreach (string ending in (string[])["\n", "\r\n", "\r"])
            Check.Gives("0:3001 2800", $"start movlw 1{ending} goto start{ending} end{ending}");
    }

    [Theory]
    [InlineData("start nop\n\f\n goto start\n end\n")]
    [InlineData("start nop\n\f goto start\n end\n")]
    [InlineData("\fstart nop\n goto start\n end\n")]
    [InlineData("start nop\n goto start\n end\n\u001a")]
    [InlineData("start nop\n goto start\n end\u001a")]
    [InlineData("start nop\n goto start\n end")]
    [InlineData("start nop\n goto start\n end\n\0\0\0\0")]
    [InlineData("start nop\n goto start\n end\nGreetings from the author (1999), good luck\n")]
    [InlineData("start\tnop\n\tgoto\tstart\n\tend\n")]
    public void Form_feeds_control_Z_and_text_after_the_end_are_normal(string source)
    {
        Check.Gives("0:0000 2800", source);
        Assert.Equal([], Problems(source));
    }

    [Fact]
    public void A_zero_byte_in_a_line_is_reported_on_that_line() =>
        Assert.Equal(["2 bad-expression"], Problems(" nop\n movlw \0\n nop\n end"));

    [Fact]
    public void Names_may_have_letters_of_any_alphabet()
    {
        Check.Gives("0:3005 2801", "größe equ 5\n movlw größe\nдалее goto далее\n end");
        Check.Gives("0:3005 2801", "sınır equ 5\n movlw sınır\ndöngü goto döngü\n end");
    }

    [Fact]
    public void A_label_named_like_a_register_beats_the_register() =>
        Check.Gives("0:2800 0085", " list p=16f84a\n include <p16f84a.inc>\nPORTB goto PORTB\n movwf PORTA\n end");

    [Fact]
    public void An_empty_text_is_one_problem() =>
        Assert.Equal("no-program", Assert.Single(Check.Assemble("").Problems).Code);

    [Fact]
    public void A_text_that_is_no_program_is_read_in_bounded_time_and_numbers()
    {
        var watch = Stopwatch.StartNew();
        ProgramAnalysis program = Check.Assemble(
            Repeat("Once upon a time, {0} letters were (quite) lost; in a \"book\n", 30_000)
        );
        Assert.True(watch.Elapsed < Bound);
        Assert.InRange(program.Problems.Length, 1, 20_001);
    }
}
