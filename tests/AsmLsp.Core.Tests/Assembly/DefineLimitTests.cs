using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Defines that ask for themselves, for too much or for nothing: an error at the line, never a word.</summary>
public class DefineLimitTests
{
    [Theory]
    [InlineData("#define x x+1\n movlw x\n end", "2 bad-expression")]
    [InlineData("#define x x\n movlw x\n end", "2 bad-expression")]
    [InlineData("#define a b\n#define b a\n movlw a\n end", "3 bad-expression")]
    [InlineData("#define a b\n#define b c\n#define c a\n movlw b\n end", "4 bad-expression")]
    [InlineData("#define d d+d\n movlw d\n end", "2 bad-expression")]
    [InlineData("#define d d+d\n movlw #v(d)\n end", "2 bad-expression")]
    [InlineData("#define d d+d\n dw d\n end", "2 bad-expression")]
    [InlineData("#define d d\n dt d\n end", "2 bad-expression")]
    [InlineData("#define d d\n org 2100\n de d\n end", "3 bad-expression")]
    [InlineData("#define d d\n org d\n nop\n end", "2 bad-expression")]
    [InlineData("#define d d\n if d\n nop\n endif\n nop\n end", "2 bad-expression")]
    [InlineData("#define d d\n while d\n nop\n endw\n end", "2 bad-expression")]
    [InlineData("#define d d\n cblock d\n a\n endc\n clrf a\n end", "2 bad-expression")]
    [InlineData("#define d d\n cblock 20\n a:d\n b\n endc\n clrf b\n end", "3 bad-expression")]
    [InlineData("#define d d\n__config d\n nop\n end", "2 operation-not-indented", "2 bad-expression")]
    [InlineData("#define d d\nm macro a\n dt a\n endm\n m d\n end", "3 bad-expression")]
    public void A_define_that_leads_back_to_itself_is_an_error_where_it_is_used(
        string source,
        params string[] problems
    ) => Assert.Equal(problems, Check.Problems(source));

    [Theory]
    [InlineData("#define LED 6,LED\n bsf LED\n end", "2 bad-expression")]
    [InlineData("#define q =\n movlw #v(q)\n end", "2 bad-expression")]
    [InlineData("#define q\n movlw #v(q)\n end", "2 bad-expression")]
    [InlineData("#define q 1,2\n movlw #v(q)\n end", "2 bad-expression")]
    [InlineData("#define q 1 2\n movlw #v(q)\n end", "2 bad-expression")]
    [InlineData("#define q equ 5\n movlw #v(q)\n end", "2 bad-expression")]
    [InlineData("#define q 1 2\n cblock 20\n a:q\n b\n endc\n clrf b\n end", "3 bad-expression")]
    [InlineData(" movlw #v()\n end", "1 bad-expression")]
    [InlineData(" movlw #v(1,2)\n end", "1 bad-expression")]
    [InlineData(" movlw #v(1 2)\n end", "1 bad-expression")]
    [InlineData("a#v(-1) nop\n end", "1 bad-expression", "1 not-an-operation")]
    [InlineData("a equ 5\n movlw a#v(-1)\n end", "2 bad-expression")]
    public void Text_that_is_not_one_value_is_an_error_where_a_value_is_wanted(
        string source,
        params string[] problems
    ) => Assert.Equal(problems, Check.Problems(source));

    [Fact]
    public void A_define_in_the_arguments_of_another_one_is_put_in() =>
        Check.Gives(
            "0:3006 1405 3008",
            "#define k 5\n#define pin 5,0\n#define one(a) a+1\n#define set_(p) bsf p\n#define two(b) one(b)+one(b)\n"
                + " movlw one(k)\n set_(pin)\n movlw two(3)\n end"
        );

    [Fact]
    public void The_parameter_of_a_define_is_not_taken_for_that_of_the_define_it_calls() =>
        // 'a' is the parameter of both: the inner one gets 'a+1' of the outer one's value.
        Check.Gives("0:300A", "#define twice(a) ((a)*2)\n#define next(a) twice(a+1)\n movlw next(4)\n end");

    [Fact]
    public void Defines_that_double_again_and_again_stop_at_a_limit()
    {
        string doubling = string.Concat(Enumerable.Range(1, 60).Select(i => $"#define a{i} a{i - 1}+a{i - 1}\n"));
        foreach (string use in (string[])[" movlw a60", " movlw #v(a60)", "l#v(a60) nop", " cblock 20\n x:a60\n endc"])
        {
            ProgramAnalysis program = Check.Assemble("#define a0 1\n" + doubling + use + "\n nop\n end");
            Assert.Contains(
                program.Problems,
                p =>
                    p.Severity == Severity.Error
                    && p.Place.Line is 61 or 62
                    && p.Message.Contains("10,000", StringComparison.Ordinal)
            );
        }
    }

    [Fact]
    public void A_line_that_substitution_makes_too_long_is_an_error_and_makes_no_word()
    {
        string source =
            "#define big " + string.Concat(Enumerable.Repeat("1+", 8000)) + "1\n dw big,big,big\n nop\n end";
        ProgramAnalysis program = Check.Assemble(source);
        Assert.Contains(program.Problems, p => p is { Code: "limit-reached", Place.Line: 1 });
        Assert.Equal(1, program.Image.Count);
    }

    [Fact]
    public void A_macro_that_doubles_its_argument_at_each_call_is_stopped()
    {
        ProgramAnalysis program = Check.Assemble("m macro a\n m a+a\n endm\n m 1\n nop\n end");
        Assert.Contains(program.Problems, p => p.Code == "limit-reached");
    }

    [Fact]
    public void Text_that_substitution_makes_in_loops_is_bounded_for_the_whole_program()
    {
        string big = string.Concat(Enumerable.Repeat("1+", 400)) + "1";
        string source = $"#define big {big}\ni set 0\n while i < 60000\nn set big\ni set i+1\n endw\n nop\n end";
        var work = new AssemblyWork(CancellationToken.None);
        ProgramAnalysis program = Assembler.Assemble(
            [new SourceFile("test.asm", SourceText.From(source))],
            NoIncludes.Instance,
            AssemblyOptions.Default,
            null,
            work
        );
        Assert.Contains(program.Problems, p => p is { Code: "limit-reached", Place.Line: 2 });
        Assert.InRange(work.Steps, 0, 3L * AssemblyWork.MostCharacters);
    }

    [Fact]
    public void Errors_are_kept_however_many_warnings_come_before_them()
    {
        string warnings = string.Concat(Enumerable.Repeat("nop\n", 25_000));
        Assert.True(Check.Assemble("#define x x\n org 0\n" + warnings[..80_000] + " movlw x\n end").HasErrors);
        Assert.True(Check.Assemble("#define x x\n org 0\n" + warnings + " movlw x\n end").HasErrors);
    }

    [Fact]
    public void An_assembly_that_is_not_wanted_any_more_ends()
    {
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.Throws<OperationCanceledException>(() =>
            Assembler.Assemble(new SourceFile("test.asm", SourceText.From(" nop\n end")), cancellation: stop.Token)
        );
    }

    [Fact]
    public void Macros_and_includes_inside_each_other_do_not_exhaust_the_stack()
    {
        // Each file calls macros as deep as they may go, and the deepest one includes the next file.
        (string, string)[] files =
        [
            .. Enumerable
                .Range(0, 60)
                .Select(i =>
                    (
                        $"f{i}",
                        $"m{i} macro n\n if n > 0\n m{i} n-1\n else\n include f{i + 1}\n endif\n endm\n m{i} .120\n"
                    )
                ),
            ("f60", " nop\n"),
        ];
        ProgramAnalysis? program = null;
        // The size of the stack of a thread that answers a request.
        var thread = new Thread(() => program = Check.Assemble(" include f0\n end", files), 1_500_000);
        thread.Start();
        thread.Join();
        Assert.Contains(program!.Problems, p => p.Code == "limit-reached");
    }

    [Fact]
    public void A_message_shows_the_beginning_and_the_end_of_a_long_text_only()
    {
        ProgramAnalysis program = Check.Assemble(" movlw 1 " + new string('x', 5000) + "end\n end");
        Problem problem = Assert.Single(program.Problems, p => p.Code == "text-after-operands");
        Assert.InRange(problem.Message.Length, 100, 600);
        Assert.Contains("xend", problem.Message, StringComparison.Ordinal);
    }
}
