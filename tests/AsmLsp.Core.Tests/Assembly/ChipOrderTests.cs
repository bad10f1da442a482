using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>The chip may be named anywhere; two different chips are an error. Words from data sheet DS35007B, table 7-2.</summary>
public class ChipOrderTests
{
    private const string Body = """
         banksel TRISB
         clrf TRISB
         goto $

        """;

    public static TheoryData<string> Orders =>
        [
            " __config _CP_OFF & _WDT_OFF & _XT_OSC & _PWRTE_ON\n list p=16f84a\n #include <p16f84a.inc>\n" + Body,
            " #include <p16f84a.inc>\n list p=16f84a\n __config _CP_OFF & _WDT_OFF & _XT_OSC & _PWRTE_ON\n" + Body,
            " __config _CP_OFF & _WDT_OFF & _XT_OSC & _PWRTE_ON\n #include <p16f84a.inc>\n list p=16f84a\n" + Body,
            Body + " __config _CP_OFF & _WDT_OFF & _XT_OSC & _PWRTE_ON\n processor 16f84a\n #include <p16f84a.inc>\n",
            " list r=hex\n __config _CP_OFF & _WDT_OFF & _XT_OSC & _PWRTE_ON\n"
                + Body
                + " list p=PIC16F84A\n include p16f84a\n",
        ];

    [Theory]
    [MemberData(nameof(Orders))]
    public void Names_of_the_chip_are_known_wherever_it_is_named(string source)
    {
        ProgramAnalysis program = Check.Assemble(source + " end\n");
        Assert.Equal([], program.Problems.Select(p => p.Message));
        Assert.Equal("0:1683 0186 2802; 2007:3FF1", Check.Words(program));
        Assert.Equal("PIC16F84A", program.Device!.Name);
    }

    [Theory]
    [InlineData(" list p=16f628a\n #include <p16f84a.inc>\n")]
    [InlineData(" #include <p16f84a.inc>\n list p=16f628a\n")]
    [InlineData(" __config _CP_OFF\n processor 16f628a\n list p=16f84a\n")]
    public void Two_different_chips_are_an_error(string head) =>
        Assert.Contains(
            Check.Assemble(head + " __config _WDT_OFF & _XT_OSC\n org 0\n goto $\n end\n").Problems,
            p => p.Kind == Catalogue.ChipsDisagree && p.Severity == Severity.Error
        );

    [Fact]
    public void Two_chips_that_are_alike_in_all_that_the_program_uses_are_a_warning()
    {
        const string Source = """
             list p=16f84
             #include <p16f84a.inc>
             __config _CP_OFF & _WDT_OFF & _XT_OSC
             org 0
             bsf STATUS,RP0
             goto $
             end
            """;
        Assert.Equal(["2 chips-alike"], Check.Problems(Source));
        Check.Gives("0:1683 2801; 2007:3FF9", Source);
    }

    // On the PIC16C84 the power-up timer is on where the bit is 1, on the PIC16F84A where it is 0 (DS30445D, DS35007B).
    [Fact]
    public void The_same_configuration_word_for_two_chips_that_read_it_differently_is_an_error() =>
        Assert.Contains(
            "2 chips-disagree",
            Check.Problems(" list p=16c84\n #include <p16f84a.inc>\n __config 0x3FF1\n org 0\n goto $\n end\n")
        );

    [Fact]
    public void A_header_file_beside_the_program_for_another_chip_is_an_error() =>
        Assert.Contains(
            "2 chips-disagree",
            Check.Problems(
                " list p=16f628a\n #include <p16f84.inc>\n __config _XT_OSC\n org 0\n goto $\n end\n",
                ("p16f84.inc", "_XT_OSC equ 0x3FFD\n")
            )
        );

    [Fact]
    public void The_chip_asked_for_goes_before_the_one_that_the_program_names()
    {
        ProgramAnalysis program = Check.Assemble(
            " list p=16f84a\n #include <p16f84a.inc>\n __config _INTRC_OSC_NOCLKOUT\n org 0\n goto $\n end\n",
            new AssemblyOptions { Chip = "16F628A" }
        );
        Assert.Equal("0:2800; 2007:3FFC", Check.Words(program));
        Assert.Contains(program.Problems, p => p.Kind == Catalogue.ChipForced);
        Assert.False(program.HasErrors);
    }

    [Fact]
    public void A_choice_that_asks_for_the_chip_above_its_name_is_answered_by_that_chip() =>
        Check.Gives(
            "0:3001 2801",
            """
             ifdef __16F84A
             movlw 1
             else
             movlw 2
             endif
             goto $
             list p=16f84a
             end
            """
        );

    [Fact]
    public void A_choice_that_names_the_chip_only_where_it_is_not_named_comes_to_no_rest_and_is_an_error() =>
        Assert.True(Check.Assemble(" ifndef __16F84A\n list p=16f84a\n endif\n org 0\n goto $\n end\n").HasErrors);
}
