using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using static AsmLsp.Core.Tests.Fixes.FixCheck;

namespace AsmLsp.Core.Tests.Fixes;

public class NameAndNumberFixTests
{
    private const string Chip = " list p=16f84a\n include <p16f84a.inc>\n";

    [Fact]
    public void Name_in_another_case_is_written_as_defined() =>
        Offers(
            Catalogue.NameDiffersByCase,
            Certainty.Certain,
            "Count equ 20\n movwf COUNT\n end",
            "Count equ 20\n movwf Count\n end"
        );

    [Fact]
    public void Name_in_another_case_is_left_alone_where_both_exist() =>
        OffersNothing(Catalogue.NameDiffersByCase, "Count equ 20\nCOUNT equ 21\n movwf COUNT\n end");

    [Fact]
    public void Number_that_its_comment_calls_decimal_can_be_written_as_either()
    {
        Offers(Catalogue.LooksDecimal, Certainty.Guess, " movlw 10 ; 10 times\n end", " movlw .10 ; 10 times\n end");
        Offers(
            Catalogue.LooksDecimal,
            Certainty.Guess,
            " movlw 10 ; 10 times\n end",
            " movlw 0x10 ; 10 times\n end",
            1
        );
    }

    [Theory]
    [InlineData(" movlw FF\n end", " movlw 0xFF\n end")]
    [InlineData(" dt FFh\n end", " dt 0xFF\n end")]
    [InlineData("a equ B0\n movlw a\n end", "a equ 0xB0\n movlw a\n end")]
    [InlineData(" movlw B1\n end", " movlw 0xB1\n end")]
    [InlineData(" call FACE\n end", " call 0xFACE\n end")]
    [InlineData(" radix dec\n movlw FF\n end", " radix dec\n movlw 0xFF\n end")]
    public void Bare_hexadecimal_digits_that_may_be_a_name_are_a_guess(string source, string after) =>
        Offers(Catalogue.UndefinedName, Certainty.Guess, source, after);

    [Fact]
    public void Digits_that_are_a_name_stay() => OffersNothing(Catalogue.UndefinedName, "FF equ 3\n movlw FF\n end");

    [Fact]
    public void Ambiguous_number_is_written_as_it_is_read() =>
        Offers(Catalogue.AmbiguousNumber, Certainty.Certain, " movlw 0b00011111\n end", " movlw b'00011111'\n end");

    [Fact]
    public void Number_too_large_in_hexadecimal_may_be_decimal() =>
        Offers(Catalogue.LiteralOutOfRange, Certainty.Guess, " movlw 255\n end", " movlw .255\n end");

    [Fact]
    public void Number_too_large_in_decimal_stays() => OffersNothing(Catalogue.LiteralOutOfRange, " movlw 999\n end");

    [Fact]
    public void Destination_left_out_is_offered_as_it_is_read_first() =>
        Offers(Catalogue.DestinationLeftOut, Certainty.Guess, " movf 20 ; keep\n end", " movf 20,f ; keep\n end");

    [Fact]
    public void Missing_comma_is_a_guess() =>
        Offers(
            Catalogue.MissingOperand,
            Certainty.Guess,
            Chip + " bsf STATUS RP0\n end",
            Chip + " bsf STATUS,RP0\n end"
        );

    [Fact]
    public void Comma_is_not_offered_where_one_operand_is_enough() =>
        OffersNothing(Catalogue.MissingOperand, " call\n end");

    [Theory]
    [InlineData(" mvlw 5\n end", " movlw 5\n end")]
    [InlineData(" MVLW 5\n end", " MOVLW 5\n end")]
    public void Unknown_operation_becomes_the_nearest(string source, string after) =>
        Offers(Catalogue.UnknownOperation, Certainty.Guess, source, after);

    [Fact]
    public void Operation_that_nothing_is_near_to_stays() =>
        OffersNothing(Catalogue.UnknownOperation, " lcdclear 5\n end");

    [Fact]
    public void Unknown_name_becomes_the_nearest() =>
        Offers(Catalogue.UndefinedName, Certainty.Guess, Chip + " movwf PRTB\n end", Chip + " movwf PORTB\n end");

    [Fact]
    public void Chip_that_only_the_comments_name_is_a_guess() =>
        Offers(
            Catalogue.ChipNotNamed,
            Certainty.Guess,
            "; dice with a PIC16F84A\n movwf PORTB\n end",
            "; dice with a PIC16F84A\n        list p=16f84a\n        include <p16f84a.inc>\n movwf PORTB\n end"
        );

    [Fact]
    public void Chip_is_a_guess_where_the_comments_name_two() =>
        Offers(
            Catalogue.ChipNotNamed,
            Certainty.Guess,
            "; for 16F84A or 16F628A\n movwf PORTB\n end",
            "; for 16F84A or 16F628A\n        list p=16f628a\n        include <p16f628a.inc>\n movwf PORTB\n end",
            1
        );

    [Fact]
    public void Names_of_the_chip_are_included_after_its_line() =>
        Offers(
            Catalogue.ChipNamesNotIncluded,
            Certainty.Certain,
            " list p=16f84a\n movwf PORTB\n end",
            " list p=16f84a\n        include <p16f84a.inc>\n movwf PORTB\n end"
        );

    [Fact]
    public void Configuration_is_inserted_with_its_meaning()
    {
        string source = Chip + " nop\n end";
        Offers(
            Catalogue.NoConfiguration,
            Certainty.Guess,
            source,
            Chip + $"        __config 0x3FFF        ; {Meaning(source)}\n nop\n end"
        );
    }

    [Fact]
    public void Missing_end_is_appended() =>
        Offers(Catalogue.EndMissing, Certainty.Guess, " nop\n", " nop\n        end\n");

    [Fact]
    public void Text_after_the_operands_may_be_a_comment() =>
        Offers(Catalogue.TextAfterOperands, Certainty.Guess, " movlw 5 here\n end", " movlw 5 ; here\n end");

    [Fact]
    public void Second_instruction_may_go_on_a_line_of_its_own() =>
        Offers(Catalogue.TwoLinesInOne, Certainty.Guess, " nop $0nop\n end", " nop\n        nop\n end");

    [Fact]
    public void Quote_is_closed() =>
        Offers(Catalogue.UnclosedQuote, Certainty.Guess, " dt \"abc\n end", " dt \"abc\"\n end");

    [Fact]
    public void Settings_are_joined_by_their_sign() =>
        Offers(
            Catalogue.ConfigurationJoinedWrongly,
            Certainty.Guess,
            Chip + " __config _CP_OFF | _XT_OSC\n end",
            Chip + " __config _CP_OFF & _XT_OSC\n end"
        );

    private static string Meaning(string source) =>
        Assemble(source).Problems.Single(p => p.Kind == Catalogue.NoConfiguration).Arguments[1];
}
