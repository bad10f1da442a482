using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Where the parts of a program go that say no address themselves, and what is said about them.</summary>
public class SectionPlaceTests
{
    private const string Head = " list p=16f628a\n #include <p16f628a.inc>\n";

    [Fact]
    public void A_named_section_of_nothing_but_EEPROM_bytes_is_placed_in_the_EEPROM()
    {
        const string Source =
            Head
            + """
                start code 0
                 goto main
                names code
                 de "AB",0
                rates code
                 de 5,6
                main_part code
                main movlw low rates
                 goto main
                 end
                """;
        Check.Gives("0:2801 3003 2801; 2100:0041 0042 0000 0005 0006", Source);
        Assert.Equal(["5 section-in-eeprom", "7 section-in-eeprom"], Check.Problems(Source));
    }

    [Fact]
    public void Sections_of_EEPROM_bytes_go_after_the_bytes_that_have_an_address() =>
        Check.Gives(
            "0:2800; 2100:0001 0002 0003",
            Head + " goto $\nlate code\n de 3\nearly code 0x2100\n de 1,2\n end\n"
        );

    [Theory]
    [InlineData("mixed code\n de 1\n movlw 2\n")]
    [InlineData(" code\n de 1\n")]
    [InlineData(" de 1\n")]
    [InlineData(" org 0x2000\n de 1\n")]
    public void EEPROM_bytes_outside_the_EEPROM_are_reported(string lines) =>
        Assert.Contains(
            Check.Assemble(Head + " org 0\n goto $\n" + lines + " end\n").Problems,
            p => p.Kind == Catalogue.EepromBytesOutside
        );

    [Theory]
    [InlineData("retlw 1")]
    [InlineData("dt 1,2")]
    [InlineData("movlw 3")]
    [InlineData("banksel TRISA")]
    public void An_instruction_in_the_EEPROM_is_reported(string line) =>
        Assert.Contains(
            "6 instruction-in-eeprom",
            Check.Problems(Head + " org 0\n goto $\n org 0x2100\n " + line + "\n end\n")
        );

    [Fact]
    public void A_word_in_the_EEPROM_that_is_no_byte_is_reported_and_placed_as_it_is()
    {
        const string Source = Head + " org 0\n goto $\n org 0x2100\n dw 0x41,0x141\n end\n";
        Check.Gives("0:2800; 2100:0041 0141", Source);
        Assert.Equal(["6 eeprom-word-too-large"], Check.Problems(Source));
    }

    [Fact]
    public void Instructions_after_registers_without_a_code_line_continue_the_program_and_are_reported()
    {
        const string Source = Head + " org 0\n goto main\n udata\ncount res 1\nmain\n incf count,f\n goto main\n end\n";
        Check.Gives("0:2801 0AA0 2801", Source);
        Assert.Equal(["8 code-in-data-section"], Check.Problems(Source));
    }

    [Fact]
    public void Instructions_after_an_org_in_a_section_for_registers_go_to_its_address()
    {
        const string Source = Head + " udata\ncount res 1\n org 4\nserve incf count,f\n goto serve\n end\n";
        Check.Gives("4:0AA0 2804", Source);
        Assert.Equal(["5 org-in-data-section", "6 code-in-data-section"], Check.Problems(Source));
    }

    [Fact]
    public void An_org_in_a_program_section_ends_what_the_tool_places() =>
        Check.Gives(
            "10:3001; 12:3002",
            Head
                + "one code\n movlw 1\n org 0x12\n movlw 2\n org 0x10\n end\n"
                    .Replace("org 0x10\n", "", StringComparison.Ordinal)
                    .Replace("one code", "one code 0x10", StringComparison.Ordinal)
        );

    [Fact]
    public void A_value_is_a_value_up_to_the_define_of_its_name_and_a_text_after_it()
    {
        const string Source =
            Head
            + """
                 org 0
                 bcf INTCON,FLAG
                FLAG=0
                 bcf INTCON,FLAG
                #define FLAG INTCON,1
                 bcf FLAG
                 goto $
                 end
                """;
        Check.Gives("0:100B 100B 108B 2803", Source);
        Assert.Equal(["7 define-replaces-value"], Check.Problems(Source));
    }

    [Fact]
    public void A_define_of_a_name_that_the_chip_has_is_ordinary()
    {
        const string Source = Head + "#define RB0 PORTB,0\n org 0\n bsf RB0\n goto $\n end\n";
        Check.Gives("0:1406 2801", Source);
        Assert.Equal([], Check.Problems(Source));
    }
}
