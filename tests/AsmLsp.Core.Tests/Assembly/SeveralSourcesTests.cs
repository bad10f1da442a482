using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Programs of several sources: names of their own, names that are shared, one image. Words from data sheet DS35007B, table 7-2.</summary>
public class SeveralSourcesTests
{
    private const string Main = """
         list p=16f628a
         #include <p16f628a.inc>
         __config _CP_OFF & _WDT_OFF & _HS_OSC & _LVP_OFF
         extern blink, speed
        reset code 0
         goto start
        main_part code
        start
         movlw 3
         movwf speed
        loop
         call blink
         goto loop
         end
        """;

    private const string Lamp = """
         list p=16f628a
         #include <p16f628a.inc>
         global blink, speed
         udata
        speed res 1
        rest res 1
         code
        blink
         movf speed,w
         movwf rest
        loop
         decfsz rest,f
         goto loop
         return
         end
        """;

    [Fact]
    public void Sources_share_names_by_global_and_extern_and_make_one_image()
    {
        ProgramAnalysis program = Assemble(Main, Lamp);
        Assert.Equal([], Messages(program));
        Assert.Equal("0:2801 3003 00A0 2005 2803 0820 00A1 0BA1 2807 0008; 2007:3F6A", Check.Words(program));
    }

    [Fact]
    public void The_order_of_the_sources_does_not_matter_to_what_they_share()
    {
        ProgramAnalysis program = Assemble(Lamp, Main);
        Assert.Equal([], Messages(program));
        Assert.Equal(10, program.Image.ProgramWords);
    }

    [Fact]
    public void A_name_of_one_source_is_not_known_in_another()
    {
        ProgramAnalysis program = Assemble(Main, Lamp + "\n");
        ProgramAnalysis lamp = program.SeenFrom(program.Roots[1]);
        ProgramAnalysis main = program.SeenFrom(program.Roots[0]);
        Assert.NotNull(lamp.FindSymbol("rest"));
        Assert.Null(main.FindSymbol("rest"));
        // 'loop' is a name of both; 'blink' is one name for both.
        Assert.NotEqual(main.FindSymbol("loop")!.Value, lamp.FindSymbol("loop")!.Value);
        Assert.Same(main.FindSymbol("blink"), lamp.FindSymbol("blink"));
        Assert.Equal(2, main.References.Of("loop").Count);
        Assert.Equal(2, lamp.References.Of("loop").Count);
        Assert.Equal(
            ["lamp.asm 3", "lamp.asm 8", "main.asm 12"],
            main.References.Of("blink").Select(r => $"{r.Place.File.ShortName} {r.Place.Line + 1}").Order()
        );
    }

    [Fact]
    public void A_problem_is_at_its_own_source()
    {
        ProgramAnalysis program = Assemble(Main, Lamp.Replace("movwf rest", "movwf rset", StringComparison.Ordinal));
        Problem problem = Assert.Single(program.Problems, p => p.Severity == Severity.Error);
        Assert.Equal(("lamp.asm", 9), (problem.Place.File.ShortName, problem.Place.Line));
    }

    [Fact]
    public void A_name_that_no_source_shares_is_an_error_that_says_where_it_is()
    {
        ProgramAnalysis program = Assemble(
            Main,
            Lamp.Replace("global blink, speed", "global speed", StringComparison.Ordinal)
        );
        Problem problem = Assert.Single(program.Problems, p => p.Kind == Catalogue.ExternalName);
        Assert.Equal("main.asm", problem.Place.File.ShortName);
        Assert.Contains("write 'global blink' there", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_sources_that_share_the_same_name_are_an_error() =>
        Assert.Contains(Assemble(Main, Lamp, Lamp).Problems, p => p.Kind == Catalogue.NameDefinedTwice);

    [Fact]
    public void Two_sources_for_two_chips_are_an_error() =>
        Assert.Contains(
            Assemble(Main, Lamp.Replace("16f628a", "16f877", StringComparison.Ordinal)).Problems,
            p => p.Kind == Catalogue.ChipsDisagree
        );

    [Fact]
    public void A_define_from_outside_is_known_before_the_first_line_of_every_source()
    {
        const string Source = " ifdef LCD\n movlw LCD\n else\n error \"no display\"\n endif\n goto $\n end\n";
        ProgramAnalysis without = Check.Assemble(Source);
        Problem stopped = Assert.Single(without.Problems, p => p.Kind == Catalogue.AuthorError);
        Assert.EndsWith("Define one, for example with '--define LCD'.", stopped.Message, StringComparison.Ordinal);
        ProgramAnalysis with = Check.Assemble(
            Source,
            new AssemblyOptions { Defines = OutsideDefines.Join(["LCD=0x12"]) }
        );
        Assert.Equal("0:3012 2801", Check.Words(with));
        Assert.False(with.HasErrors);
    }

    [Fact]
    public void A_text_in_quotes_where_no_choice_fits_names_the_defines_that_decide()
    {
        const string Source =
            " ifdef KIT_A\n movlw 1\n else\n ifdef KIT_B\n movlw 2\n else\n \"which kit?\"\n endif\n endif\n goto $\n end\n";
        Problem stopped = Assert.Single(Check.Assemble(Source).Problems, p => p.Severity == Severity.Error);
        Assert.Contains("depends on KIT_A, KIT_B.", stopped.Message, StringComparison.Ordinal);
        Assert.False(Check.Assemble(Source, new AssemblyOptions { Defines = "KIT_B" }).HasErrors);
    }

    [Fact]
    public void Lines_that_a_choice_leaves_out_are_known_with_the_name_that_decides()
    {
        const string Source = """
             ifdef LCD
             movlw 1
             movlw 2
             else
             movlw 3
             endif
            KIT equ 2
             if KIT == 1
             movlw 4
             endif
             goto $
             end
            """;
        Assert.Equal(
            ["2-3 LCD is not defined", "9-9 the condition with KIT is false"],
            Check.Assemble(Source).LeftOut.Select(p => $"{p.FirstLine + 1}-{p.LastLine + 1} {p.Reason}")
        );
        Assert.Equal(
            ["5-5 a condition above is true (line 1)", "9-9 the condition with KIT is false"],
            Check
                .Assemble(Source, new AssemblyOptions { Defines = "LCD" })
                .LeftOut.Select(p => $"{p.FirstLine + 1}-{p.LastLine + 1} {p.Reason}")
        );
    }

    private static IEnumerable<string> Messages(ProgramAnalysis program) =>
        program.Problems.Select(p => $"{p.Place.File.ShortName} {p.Place.Line + 1} {p.Message}");

    private static ProgramAnalysis Assemble(params string[] sources) =>
        Assembler.Assemble([
            .. sources.Select(
                (text, i) =>
                    new SourceFile(
                        text.Contains("blink\n", StringComparison.Ordinal)
                        && !text.Contains("extern", StringComparison.Ordinal)
                            ? "lamp.asm"
                            : "main.asm",
                        SourceText.From(text)
                    )
            ),
        ]);
}
