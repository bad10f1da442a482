using AsmLsp.Ide.Structure;

namespace AsmLsp.Ide.Tests;

/// <summary>The shape of a source: outline, folds, selections, routines and who goes where.</summary>
public sealed class StructureTests
{
    private const string Calls =
        " org 0\nmain call wait\n call wait\n goto main\nwait movlw 5\nwait1 addlw 0xff\n btfss STATUS,Z\n goto wait1\n return\n end\n";

    [Fact]
    public void The_outline_has_sections_routines_blocks_macros_and_values() =>
        Check
            .In(
                "led equ 3\n cblock 0x0c\n count, big:2\n endc\nflash macro\n nop\n endm\n org 0\n goto main\n org 4\n"
                    + "isr retfie\nmain call wait\nloop goto loop\nwait return\n end\n"
            )
            .Outline(
                "led(Constant 0x03) Variables at 0x0c(VariableBlock)[count(Member 0x0C) big(Member 0x0D, 2 bytes)] flash(Macro) "
                    + "org 0(Section) org 4(Section)[isr(Routine 0x0004)[main(Label 0x0005) loop(Label 0x0006)] wait(Routine 0x0007)]"
            );

    [Fact]
    public void A_routine_goes_to_the_next_one() =>
        Assert.Equal(
            [(1, 3), (4, 8)],
            Outline.Of(Check.In(Calls).File)[0].Children.Select(entry => (entry.FirstLine, entry.LastLine))
        );

    [Fact]
    public void Blocks_choices_comments_and_routines_fold() =>
        Check
            .In(
                "; one\n; two\n include <p16f84a.inc>\n include <p16f84a.inc>\n cblock 0x0c\n a\n b\n endc\nm macro\n nop\n endm\n"
                    + " if 1\n nop\n else\n nop\n endif\nstart nop\n goto start\n\n; about wait\nwait nop\n call wait\n end\n"
            )
            .Folds("1-2(Comment) 3-4(Includes) 5-8 9-11 12-13 14-16 17-18 21-22");

    [Fact]
    public void A_selection_grows_from_the_word_to_the_file() =>
        Check
            .In(" org 0\nstart nop\n btfsc PORTB,high {|}5 ; c\n end\n")
            .Selects(
                "5",
                "high 5",
                "PORTB,high 5",
                "btfsc PORTB,high 5",
                " btfsc PORTB,high 5 ; c",
                "start nop\n btfsc PORTB,high 5 ; c",
                " org 0\nstart nop\n btfsc PORTB,high 5 ; c",
                " org 0\nstart nop\n btfsc PORTB,high 5 ; c\n end\n"
            );

    [Theory]
    [InlineData("wait", "wait wait1")]
    [InlineData("WAIT1", "wait1")]
    [InlineData("it", "wait wait1")]
    [InlineData("w1", "wait1")]
    [InlineData("wz", "")]
    public void A_name_is_found_by_a_part_of_it_the_best_fit_first(string query, string names) =>
        Check.In(Calls).Finds(query, names);

    // Counted by hand from table 7-2 (data sheet DS35007B): MOVLW 1; five turns of ADDLW 1, BTFSS 1 (2 when it skips), GOTO 2: 4 * 4 + 3; RETURN 2.
    [Fact]
    public void A_lens_says_where_a_routine_is_used_and_what_it_takes() =>
        Check
            .In(Calls)
            .Lenses(
                new(Callers: true, Size: true),
                "main: 3 words",
                "wait: called by main",
                "wait: 5 words, 22 cycles"
            );

    [Fact]
    public void A_lens_of_a_delay_says_its_time_where_the_clock_is_known() =>
        Check
            .In("; clock 4 MHz\n" + Calls)
            .Lenses(new(Callers: false, Size: true), "main: 3 words", "wait: 5 words, 22 cycles (22 µs at 4 MHz)");

    [Fact]
    public void Lenses_are_chosen() => Check.In(Calls).Lenses(new(Callers: true, Size: false), "wait: called by main");

    [Fact]
    public void Calls_lead_both_ways()
    {
        Check.In(Calls.Replace("main call", "ma{|}in call", StringComparison.Ordinal)).Calls("", "wait(2:11 3:7)");
        Check.In(Calls.Replace("wait movlw", "wa{|}it movlw", StringComparison.Ordinal)).Calls("main(2:11 3:7)", "");
    }

    [Fact]
    public void An_instruction_names_no_routine() =>
        Check.In(Calls.Replace(" btfss", " bt{|}fss", StringComparison.Ordinal)).NamesNoRoutine();
}
