namespace AsmLsp.Core.Tests.Assembly;

public class ProblemTests
{
    [Theory]
    [InlineData(" movlw 255", "1 literal-out-of-range")]
    [InlineData(" movlw lost", "1 undefined-name")]
    [InlineData(" movlw FF", "1 undefined-name")]
    [InlineData("movlw 5", "1 operation-not-indented")]
    [InlineData(" loop movlw 5\n goto loop", "1 label-indented")]
    [InlineData(" loop\n goto loop", "1 label-indented")]
    [InlineData(" nop nop nop", "1 text-after-operands")]
    [InlineData(" return 0", "1 text-after-operands")]
    [InlineData(" movlw 1/0", "1 division-by-zero")]
    [InlineData(" movlw (1+2", "1 bad-expression")]
    [InlineData(" bsf 3", "1 missing-operand")]
    [InlineData(" bsf 3,9", "1 bit-out-of-range")]
    [InlineData(" movf 20", "1 destination-left-out")]
    [InlineData(" mvlw 5", "1 unknown-operation")]
    [InlineData("aa nop\nAA equ 1\nbb nop\n movlw BB", "4 name-differs-by-case")]
    [InlineData("a nop\na nop", "2 name-defined-twice")]
    [InlineData("a equ 1\na equ 1\n movlw a")]
    [InlineData("a equ 1\na equ 2", "2 name-defined-twice")]
    [InlineData(" org 0\n nop\n org 0\n clrw", "4 word-placed-twice")]
    [InlineData(" list p=16f84\n org 400\n nop", "3 address-outside-chip")]
    [InlineData(" list p=99x1\n nop", "1 unknown-chip")]
    [InlineData(" list p=99x1\n bsf STATUS,RP0\n clrf PORTB\n nop", "1 unknown-chip")]
    [InlineData(" list p=16f999\n include <p16f999.inc>\n bsf STATUS,RP0\n clrf CCPRXL", "1 unknown-chip")]
    [InlineData(" list p=99x1\n movlw strat\nstart nop", "1 unknown-chip", "2 undefined-name")]
    [InlineData(" bsf STATUS,RP0", "1 chip-not-named", "1 chip-not-named")]
    [InlineData(" list p=16f84a\n banksel 0x186", "2 bank-missing")]
    [InlineData(" list p=16f877\n banksel 0x200", "2 bank-missing")]
    [InlineData(" list p=16f877\n banksel 0x186")]
    [InlineData(" list p=16f84a\n banksel 0x86")]
    [InlineData(" if 1\n nop", "1 block-not-closed")]
    [InlineData(" endif", "1 block-not-opened")]
    [InlineData(" endm", "1 block-not-opened")]
    [InlineData("m macro\n nop", "1 block-not-closed")]
    [InlineData("m macro\n m\n endm\n m", "4 limit-reached")]
    [InlineData(" while 1\n endw\n nop", "1 limit-reached")]
    [InlineData("m macro\n movlw lost\n endm\n m\n m", "2 undefined-name")]
    [InlineData(" movlw 0b101", "1 ambiguous-number", "1 literal-out-of-range")]
    [InlineData(" radix dec\n movlw 0FFh\n movlw 1F", "3 bad-number")]
    [InlineData(" movlw 99999999999", "1 number-too-large")]
    [InlineData(
        " include \"lost.asm\"\n movlw a\n movlw b\n call c",
        "1 include-missing",
        "2 name-of-missing-file",
        "3 name-of-missing-file",
        "4 name-of-missing-file"
    )]
    // What the missing file defines may be a register with its bit.
    [InlineData(
        " list p=16f84a\n include \"lost.asm\"\n bsf LAMP\n btfss LAMP\n bsf 6",
        "2 include-missing",
        "3 name-of-missing-file",
        "4 name-of-missing-file",
        "5 missing-operand"
    )]
    [InlineData(" list p=16f18399\n include <p16f18399.inc>\n bsf STATUS,RP0", "1 unknown-chip")]
    [InlineData(" cblock 20\n a\n movlw 5\n", "1 block-not-closed")]
    public void A_mistake_is_reported_once_at_its_place(string source, params string[] problems) =>
        Assert.Equal(problems, Check.Problems(source + "\n end"));

    // The word stays hexadecimal: the comment is evidence, not proof.
    [Theory]
    [InlineData(" movlw 10 ; 10 times", "1 looks-decimal")]
    [InlineData("PAUSE equ 100 ; 100 ms", "1 looks-decimal")]
    [InlineData(" movlw 10 ; 0x10 is sixteen")]
    [InlineData(" movlw 10 ; 10h")]
    [InlineData(" movlw 10 ; sixteen")]
    [InlineData(" movlw 0x10 ; 10 times")]
    [InlineData(" movlw .10 ; 10 times")]
    [InlineData(" movlw 5 ; 5 times")]
    [InlineData(" radix dec\n movlw 10 ; 10 times")]
    public void A_number_that_its_comment_calls_decimal_is_reported(string source, params string[] problems) =>
        Assert.Equal(problems, Check.Problems(source + "\n end"));

    [Fact]
    public void Without_a_configuration_a_comment_that_speaks_of_it_is_pointed_out()
    {
        var problem = Assert.Single(
            Check.Assemble(" list p=16f84a\n nop\n; fuses: watchdog disabled, XT\n end").Problems,
            p => p.Code == "no-configuration"
        );
        Assert.Contains("The comment in line 3 may say", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Who_asks_for_a_chip_gets_it_although_the_program_names_one_that_is_not_known()
    {
        var program = Check.Assemble(
            " list p=16f999\n include <p16f999.inc>\n bsf STATUS,RP0\n end",
            new Core.Assembly.AssemblyOptions { Chip = "16F84A" }
        );
        Assert.False(program.HasErrors);
        Assert.Single(program.Problems, p => p.Code == "chip-forced");
        Assert.Equal("PIC16F84A", program.Device?.Name);
    }

    [Fact]
    public void Circular_includes_end_in_one_problem() =>
        Assert.Equal(
            ["1 include-circular"],
            Check.Problems(
                " include a\n end",
                ("a", " include b\n nop\n"),
                ("b", " include c\n"),
                ("c", " include a\n")
            )
        );

    [Fact]
    public void A_fault_in_a_macro_argument_is_reported_at_the_call()
    {
        var problem = Assert.Single(
            Check.Assemble("m macro x\n movlw x\n endm\n m lost\n end").Problems,
            p => p.Code == "undefined-name"
        );
        Assert.Equal((3, 3, 4), (problem.Place.Line, problem.Place.Columns.Start, problem.Place.Columns.Length));
    }
}
