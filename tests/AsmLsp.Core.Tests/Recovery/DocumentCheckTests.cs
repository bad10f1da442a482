using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using static AsmLsp.Core.Tests.Fixes.FixCheck;

namespace AsmLsp.Core.Tests.Recovery;

public class DocumentCheckTests
{
    [Theory]
    [InlineData(" retlw \u2018A\u2019\n end", " retlw 'A'\n end")]
    [InlineData(" retlw \u00B4A\u00B4\n end", " retlw 'A'\n end")]
    [InlineData(" dt \u201CHi; there\u201D,0\n end", " dt \"Hi; there\",0\n end")]
    [InlineData("\u00A0\u00A0movlw\u20095\n end", "  movlw 5\n end")]
    [InlineData("#de\uFB01ne five 5\n movlw five\n end", "#define five 5\n movlw five\n end")]
    [InlineData(" mov\u00ADlw 5\n end", " movlw 5\n end")]
    [InlineData(" \uFF4D\uFF4F\uFF56\uFF4C\uFF57 \uFF15\n end", " movlw 5\n end")]
    [InlineData(" nop ; the \uFB01rst\n end", " nop ; the first\n end")]
    public void Characters_of_typesetting_become_plain(string source, string after) =>
        Assert.Equal(after, FixedAll(source));

    // Curled quotes and letters as UTF-8 bytes (RFC 3629) that were read after Windows-1252 (WHATWG Encoding Standard); question marks: common practice.
    [Theory]
    [InlineData(" movlw b\u00E2\u20AC\u02DC0101\u00E2\u20AC\u2122\n end", " movlw b'0101'\n end")]
    [InlineData(" include \u00E2\u20AC\u0153p16f84a.inc\u00E2\u20AC\u009D\n end", " include \"p16f84a.inc\"\n end")]
    [InlineData(
        " nop ; f\u00C3\u00BCr 5 k\u00CE\u00A9, \u00C2\u00B1 5 %\n end",
        " nop ; f\u00FCr 5 k\u03A9, \u00B1 5 %\n end"
    )]
    [InlineData(
        " movlw b?0101?\n movlw D?15?\n movlw h?1F? ; why?\n end",
        " movlw b'0101'\n movlw D'15'\n movlw h'1F' ; why?\n end"
    )]
    [InlineData(" movlw b\uFFFD0101\uFFFD\n end", " movlw b'0101'\n end")]
    [InlineData(" retlw ?A?\n movlw ?0?+1\n end", " retlw 'A'\n movlw '0'+1\n end")]
    [InlineData("text dt ?Pump ready?,d?13?,0\n end", "text dt \"Pump ready\",d'13',0\n end")]
    [InlineData(" #include ?p16f84a.inc?\n end", " #include \"p16f84a.inc\"\n end")]
    public void Characters_of_a_wrong_encoding_become_what_was_meant(string source, string after) =>
        Assert.Equal(after, FixedAll(source));

    [Theory]
    [InlineData(" dt \"What? Why?\"\n end")]
    [InlineData(" retlw '?'\n retlw '?'\n end")]
    [InlineData(" nop ; ?b?1?\n end")]
    [InlineData("ask? nop\n goto ask?\n end")]
    [InlineData("; \u00C4rger, \u00C3, caf\u00E9 \u00B0\n nop\n end")]
    public void Question_marks_and_letters_that_were_meant_stay(string source) =>
        OffersNothing(Catalogue.GarbledCharacter, source);

    // Two comments in a double-byte encoding (GB 2312: CE C2 B6 C8, C8 FD C2 B7), read after Windows-1252: some pairs are UTF-8 by chance.
    [Theory]
    [InlineData(" nop ; \u00CE\u00C2\u00B6\u00C8\n nop ; \u00C8\u00FD\u00C2\u00B7\n end")]
    [InlineData(" nop ; \u00C4\u00E3\u00C2\u00B6\n nop ; gr\u00FC\u00DFe\n end")]
    [InlineData(" nop ; \u00CC\u0081\n end")]
    public void Comments_in_an_unknown_encoding_stay_byte_for_byte(string source)
    {
        OffersNothing(Catalogue.GarbledCharacter, source);
        Assert.Equal(source, FixedAll(source));
    }

    [Fact]
    public void Code_is_repaired_where_the_comments_are_in_an_unknown_encoding() =>
        Assert.Equal(
            " movlw b'0101' ; \u00CE\u00C2\u00B6\u00C8\n end",
            FixedAll(" movlw b\u00E2\u20AC\u02DC0101\u00E2\u20AC\u2122 ; \u00CE\u00C2\u00B6\u00C8\n end")
        );

    [Fact]
    public void Dash_that_changes_a_word_is_left_to_a_person()
    {
        Offers(Catalogue.TypographicCharacter, Certainty.Certain, " movlw 5\u20132\n end", " movlw 5-2\n end");
        Assert.Equal(" movlw 5\u20132\n end", FixedAll(" movlw 5\u20132\n end"));
        Offers(Catalogue.TypographicCharacter, Certainty.Certain, " movlw 5 \u02C6 3\n end", " movlw 5 ^ 3\n end");
    }

    [Theory]
    [InlineData(" movlw \u02DC0x0F\n end", " movlw ~0x0F\n end")]
    [InlineData(" movlw 1|\u223C(3)\n end", " movlw 1|~(3)\n end")]
    public void Accents_of_printers_become_the_signs_of_the_keyboard(string source, string after) =>
        Assert.Equal(after, FixedAll(source));

    [Theory]
    [InlineData(" nop ; it\u2019s \u201Cfine\u201D \u2013 really\n end")]
    [InlineData(" dt \"it\u2019s\"\n end")]
    [InlineData("; gr\u00FC\u00DFe\n nop\n end")]
    [InlineData(" end\n\u2018after\u2019")]
    public void Typography_in_comments_and_texts_stays(string source) =>
        OffersNothing(Catalogue.TypographicCharacter, source);

    [Theory]
    [InlineData(
        " list p=16f84a\n include <p16f84a.inc>\n$0 __CONFIG _CP_OFF &\n_WDT_OFF & _XT_OSC\n end",
        " list p=16f84a\n include <p16f84a.inc>\n __CONFIG _CP_OFF & _WDT_OFF & _XT_OSC\n end"
    )]
    [InlineData(
        " list p=16f84a\n include <p16f84a.inc>\n$0 __CONFIG _CP_OFF\n & _WDT_OFF & _XT_OSC\n end",
        " list p=16f84a\n include <p16f84a.inc>\n __CONFIG _CP_OFF & _WDT_OFF & _XT_OSC\n end"
    )]
    [InlineData(
        " list p=16f84a\n include <p16f84a.inc>\n$0 __CONFIG _CP_OFF & ; no protection\n _WDT_OFF & ; no watchdog\n _XT_OSC ; crystal\n end",
        " list p=16f84a\n include <p16f84a.inc>\n __CONFIG _CP_OFF & _WDT_OFF & _XT_OSC ; no protection ; no watchdog ; crystal\n end"
    )]
    [InlineData("$0 dt 1,2,\n3,4\n end", " dt 1,2,3,4\n end")]
    [InlineData("$0 dt 1,2\n ,3,4\n end", " dt 1,2,3,4\n end")]
    [InlineData("$0 movlw (5 +\n  2) * 2\n end", " movlw (5 + 2) * 2\n end")]
    [InlineData("$0 dt \"ab\",\n \"cd\",0\n end", " dt \"ab\",\"cd\",0\n end")]
    public void Line_that_goes_on_in_the_next_is_joined(string source, string after) =>
        Offers(Catalogue.ContinuedLine, Certainty.Certain, source, after);

    [Theory]
    [InlineData(" dt 1,2,\n dt 3,4\n end")]
    [InlineData(" dt 1,2,\nloop\n goto loop\n end")]
    [InlineData(" cblock 20\n a,\n b\n endc\n movwf b\n end")]
    [InlineData(" include <p16f84a.inc>\n nop\n end")]
    [InlineData(" movlw 3 ; from -10\n-5 degrees\n end")]
    [InlineData(" messg wait,\n nop\n end")]
    public void Lines_that_stand_for_themselves_are_not_joined(string source) =>
        OffersNothing(Catalogue.ContinuedLine, source);

    [Fact]
    public void Wrapped_list_is_joined_across_a_page_break() =>
        Assert.Equal(" dt 1,2,3,4\n; Page 3\n end", FixedAll(" dt 1,2,\nPage 3\n3,4\n end"));

    [Theory]
    [InlineData(" nop\n- 3 -\n nop\n end", " nop\n; - 3 -\n nop\n end")]
    [InlineData(" nop\nSeite 12\n nop\n end", " nop\n; Seite 12\n nop\n end")]
    [InlineData(" nop\n4 / 12\n nop\n end", " nop\n; 4 / 12\n nop\n end")]
    [InlineData(" nop\n17\n nop\n end", " nop\n; 17\n nop\n end")]
    public void Page_number_becomes_a_comment(string source, string after) => Assert.Equal(after, FixedAll(source));

    [Fact]
    public void Header_on_each_page_becomes_a_comment()
    {
        string page = string.Concat(Enumerable.Range(0, 12).Select(i => $" movlw {i}\n"));
        string header = "A dice with seven lamps by a friend 1";
        string expected = $"; {header}\n{page}; {header}\n{page} end";
        Assert.Equal(expected, FixedAll($"{header}\n{page}{header}\n{page} end"));
    }

    [Fact]
    public void Short_header_beside_page_numbers_becomes_a_comment()
    {
        string page = string.Concat(Enumerable.Range(0, 12).Select(i => $" movlw {i}\n"));
        Assert.Equal(
            $"; Listing\n; Page 1\n{page}; Listing\n; Page 2\n{page} end",
            FixedAll($"Listing\nPage 1\n{page}Listing\nPage 2\n{page} end")
        );
    }

    [Fact]
    public void Names_that_come_again_in_the_block_of_each_bank_are_no_headers()
    {
        string bank(int n) =>
            $" cblock {n:X}20\n row{n}_first\n row{n}_second\n"
            + string.Concat(Enumerable.Range(0, 26).Select(i => $" cell{n}{(char)('a' + i)}\n"))
            + " endc\n";
        string source = bank(1) + bank(2) + bank(3) + bank(4) + " end";
        OffersNothing(Catalogue.HeaderOrFooter, source);
    }

    [Theory]
    [InlineData("\tcblock\t0x20\t; cells of the first bank\n\tkeep_w\n\tlevel\n\ttens\n\tendc\n\tmovwf\tlevel\n\tend")]
    [InlineData(
        "\tbcf\tINTCON,2\t; clear T0IF\n\treturn\n\tbsf\t6,1\t; turn the lamp on\n\tcall\tshow\n\tmovlw\t'<'\t; show <-\n\tcall\tshow\n\tmovlw\t'<'\t; the state is known,\n\tcall\tshow\n\tnop\n\tnop\nINTCON\tequ\t0x0B\nshow\treturn\n\tend"
    )]
    public void Lines_of_a_program_that_keeps_its_columns_are_no_rests_of_comments(string source)
    {
        OffersNothing(Catalogue.CommentOrInstruction, source);
        OffersNothing(Catalogue.CommentWithoutMark, source);
    }

    [Fact]
    public void Labels_of_steps_at_even_distances_are_no_headers()
    {
        string page = string.Concat(Enumerable.Range(0, 27).Select(i => $" movlw {i}\n"));
        OffersNothing(Catalogue.HeaderOrFooter, $"step_10\n{page}step_20\n{page}step_30\n{page} end");
    }

    [Fact]
    public void Call_of_a_lost_macro_is_never_taken_for_a_header()
    {
        string page = string.Concat(Enumerable.Range(0, 12).Select(i => $" movlw {i}\n"));
        string source = $" delay 10\n{page} delay 20\n{page} delay 30\n end";
        Assert.Equal(["1 unknown-operation", "14 unknown-operation", "27 unknown-operation"], ProblemsOf(source));
    }

    [Fact]
    public void Number_that_an_operation_waits_for_is_no_page_number() =>
        OffersNothing(Catalogue.HeaderOrFooter, " movlw\n 17\n end");

    [Fact]
    public void Label_that_is_called_is_no_header()
    {
        string page = string.Concat(Enumerable.Range(0, 12).Select(i => $" movlw {i}\n"));
        OffersNothing(Catalogue.HeaderOrFooter, $"Listing\n{page}Listing\n{page} goto Listing\n end");
    }

    [Theory]
    [InlineData(
        " movlw 5 ; five turns of the wheel that\nstands following the lamp\n nop\n end",
        " movlw 5 ; five turns of the wheel that\n; stands following the lamp\n nop\n end"
    )]
    [InlineData(
        "                nop                     ; wait until\n                                          released\n end",
        "                nop                     ; wait until\n                                          ; released\n end"
    )]
    [InlineData(
        "; the lamp is on\nif the button is pressed\n nop\n end",
        "; the lamp is on\n; if the button is pressed\n nop\n end"
    )]
    public void Rest_of_a_comment_gets_its_mark(string source, string after) => Assert.Equal(after, FixedAll(source));

    [Theory]
    [InlineData("; when the train has left it can\nreturn to start\n nop\n end", "2 comment-or-instruction")]
    [InlineData("; it waits until the\nend of the track\n nop\n nop\n nop\n end", "2 comment-or-instruction")]
    [InlineData(" nop ; and then to the\nreturn\n end", "2 comment-or-instruction")]
    [InlineData(" nop ; go on until the\nend\n nop\n nop\n nop\n end", "2 comment-or-instruction")]
    [InlineData(" nop ; and the\ncall me\n end", "2 comment-or-instruction")]
    [InlineData("; set the bit and\ngoto the left side\n nop\n end", "2 comment-or-instruction")]
    public void Rest_of_a_comment_that_starts_like_an_instruction_is_a_doubt(string source, params string[] problems)
    {
        Assert.Equal(problems, ProblemsOf(source));
        Assert.Equal(source, FixedAll(source));
    }

    [Theory]
    [InlineData(" nop ; load\nreturn\n end")]
    [InlineData("; main program\nmain\n nop\n goto main\n end")]
    [InlineData("; main program\nmain\n nop\n end")]
    [InlineData("; and then the\n movlw 5 the start value\n end")]
    [InlineData(" nop ; wait\n delay 5\n end")]
    [InlineData("wait macro x\n movlw x\n endm\n nop ; wait for\n wait 5\n end")]
    public void Code_under_a_comment_is_no_comment(string source)
    {
        OffersNothing(Catalogue.CommentWithoutMark, source);
        OffersNothing(Catalogue.CommentOrInstruction, source);
    }

    [Theory]
    [InlineData(" nop\nend of part one\n nop\n nop\n nop\n end", "2 end-inside-program")]
    [InlineData(" nop\n end\n nop\n end", "2 end-inside-program")]
    [InlineData(" nop\n end\n\nParts list: 4 resistors\n")]
    [InlineData(" nop\n end\n goto shop\n")]
    public void End_with_a_program_after_it_is_reported(string source, params string[] problems) =>
        Assert.Equal(problems, ProblemsOf(source));

    [Fact]
    public void Rest_of_a_comment_is_found_after_a_page_break() =>
        Assert.Equal(
            " nop ; the wheels turn\n\n; Page 2\n\n; until they come to rest again\n nop\n end",
            FixedAll(" nop ; the wheels turn\n\nPage 2\n\nuntil they come to rest again\n nop\n end")
        );

    [Fact]
    public void Line_of_prose_is_a_guess() =>
        Offers(
            Catalogue.ProseInProgram,
            Certainty.Guess,
            " nop\n$0This part drives the four motors.\n nop\n end",
            " nop\n; This part drives the four motors.\n nop\n end"
        );

    [Theory]
    [InlineData(" nop nop nop\n end")]
    [InlineData(" return 0\n end")]
    [InlineData("loop delay 10\n end")]
    public void Instructions_with_something_after_them_are_no_prose(string source) =>
        OffersNothing(Catalogue.ProseInProgram, source);

    [Theory]
    [InlineData(" $0mov lw 5\n end", " movlw 5\n end")]
    [InlineData("$0loop b tfss 3,0\n goto loop\n end", "loop btfss 3,0\n goto loop\n end")]
    [InlineData("COUNT equ 20\n$0 movwf CO UNT\n end", "COUNT equ 20\n movwf COUNT\n end")]
    public void Split_word_is_a_guess(string source, string after) =>
        Offers(Catalogue.SplitWord, Certainty.Guess, source, after);

    [Theory]
    [InlineData(" movlw 0xl1\n end", " movlw 0x11\n end")]
    [InlineData(" movlw d'1O'\n end", " movlw d'10'\n end")]
    [InlineData(" movlw b'OOOl1111'\n end", " movlw b'00011111'\n end")]
    [InlineData(" movlw Ox1F\n end", " movlw 0x1F\n end")]
    [InlineData(" movlw .I2\n end", " movlw .I2\n end")]
    [InlineData(" movlw d'l0'\n end", " movlw d'10'\n end")]
    public void Letter_in_a_number_becomes_the_digit_that_it_looks_like(string source, string after) =>
        Assert.Equal(after, FixedAll(source));

    [Theory]
    [InlineData(" movlw l0\n end", " movlw 10\n end", 0)]
    [InlineData(" movlw O1\n end", " movlw 01\n end", 0)]
    [InlineData(" movlw OFh\n end", " movlw 0Fh\n end", 0)]
    [InlineData(" movlw 0xlO\n end", " movlw 0x10\n end", 0)]
    [InlineData(" movlw 0xlO\n end", " movlw 0x1D\n end", 1)]
    public void Number_that_may_be_a_lost_name_or_another_number_is_a_guess(string source, string after, int which) =>
        Offers(Catalogue.LetterForDigit, Certainty.Guess, source, after, which);

    [Fact]
    public void Number_that_is_octal_as_it_stands_is_a_guess() =>
        Offers(Catalogue.LetterForDigit, Certainty.Guess, " movlw 1O\n end", " movlw 10\n end");

    [Fact]
    public void Letter_alone_is_a_guess() =>
        Offers(Catalogue.LetterForDigit, Certainty.Guess, " bsf 6,O\n end", " bsf 6,0\n end");

    [Theory]
    [InlineData("l0 equ 5\n movlw l0\n end")]
    [InlineData(" movlw 17o\n end")]
    [InlineData(" movlw o'17'\n end")]
    [InlineData("O1 nop\n goto O1\n end")]
    public void Names_and_octal_numbers_keep_their_letters(string source) =>
        OffersNothing(Catalogue.LetterForDigit, source);

    [Fact]
    public void Mark_of_a_doubt_is_reported_and_accepted() =>
        Offers(Catalogue.OpenDoubt, Certainty.Guess, " movlw 5 ; five ;? was S\n end", " movlw 5 ; five\n end");

    [Fact]
    public void Question_in_a_text_is_no_doubt() => Assert.Equal([], ProblemsOf(" dt \"why;?\"\n end"));

    [Fact]
    public void Header_that_hides_errors_weighs_as_an_error()
    {
        var program = Assemble(" nop\nPage and more 3\nSeite 3\n end");
        Assert.All(
            ProgramProblems.OfSource(program, program.Root).Where(p => p.Place.Line == 2),
            p => Assert.Equal(Catalogue.HeaderOrFooter, p.Kind)
        );
    }
}
