namespace AsmLsp.Core.Tests.Assembly;

/// <summary>
/// Lines that could give a word that their author did not mean: each gives the right words, or a problem on that very
/// line. Words after data sheet DS35007B, table 7-2.
/// </summary>
public class SilentWordTests
{
    [Theory]
    [InlineData(" movlw v\nv set 0\nv set 5", "1 value-used-early")]
    [InlineData("x += 1\nx set 5", "1 value-used-early")]
    [InlineData("x equ x\n movlw x", "1 bad-expression")]
    [InlineData("a equ b\nb equ a\n movlw a", "1 bad-expression")]
    [InlineData("x set x+1\n movlw x", "1 bad-expression")]
    [InlineData("#define X 5\n#undefine X\n movlw X", "3 undefined-name")]
    [InlineData(" movlw L\n#define L 7", "1 undefined-name")]
    [InlineData("x nop\n#define x 5", "2 define-replaces-value")]
    [InlineData("#define x 5\nx nop", "2 name-defined-twice")]
    [InlineData("#define x 5\nx set 3", "2 name-defined-twice")]
    [InlineData("#define x 5\nx equ 3", "2 name-defined-twice")]
    [InlineData("#define x 5\n#define x 6", "2 define-changed")]
    [InlineData("#define x 5\n#define x 5")]
    [InlineData("x equ 1\nx set 2", "2 name-defined-twice")]
    [InlineData("x equ 1,2", "1 too-many-operands")]
    [InlineData("x set 1,2", "1 too-many-operands")]
    [InlineData(" if lab > 0\n movlw 1\n endif\nlab nop", "1 condition-looks-ahead")]
    [InlineData(" if 0\n elseif x == 1\n nop\n endif\nx equ 1", "2 condition-looks-ahead")]
    [InlineData("x equ 5 junk", "1 text-after-operands")]
    [InlineData(" if 1\n nop\n else movlw 2\n endif", "3 text-after-operands")]
    [InlineData(" if 1\n nop\n endif movlw 2", "3 text-after-operands")]
    [InlineData(" if 1, 2\n nop\n endif", "1 too-many-operands")]
    [InlineData(" if 1 = 2\n nop\n endif", "1 text-after-operands")]
    [InlineData(" ifdef x y\n endif\n nop", "1 text-after-operands")]
    [InlineData("m macro\n nop\n endm movlw 2\n m", "3 text-after-operands")]
    [InlineData(" while 0\n endw nop", "2 text-after-operands")]
    [InlineData(" nop\n end of the loop\n nop", "2 text-after-operands")]
    [InlineData(" include \"p16f84a.inc\" nop\n nop", "1 text-after-operands")]
    [InlineData(" dt \"#v(1)\"", "1 unclear-data")]
    [InlineData("page macro\n nop\n endm", "1 macro-replaces-operation")]
    [InlineData(" movf 20.w", "1 destination-left-out", "1 text-after-operands")]
    [InlineData(" movlw 10.5", "1 text-after-operands")]
    [InlineData(" movlw '", "1 bad-expression")]
    [InlineData(" movlw ''", "1 bad-expression")]
    [InlineData(" movlw 'a", "1 unclosed-quote")]
    [InlineData(" movlw \"", "1 text-where-value", "1 unclosed-quote")]
    [InlineData(" movlw ;", "1 missing-operand")]
    [InlineData(" movlw", "1 missing-operand")]
    [InlineData(" movlw 5,6", "1 too-many-operands")]
    [InlineData(" movlw 5 6", "1 text-after-operands")]
    [InlineData(" movlw #5", "1 undefined-name")]
    [InlineData(" retlw 'ab'", "1 text-where-value")]
    [InlineData(" movlw \"ab\"", "1 text-where-value")]
    [InlineData(" movlw b'0101 0101'", "1 unclosed-quote", "1 text-after-operands")]
    [InlineData(" movlw b'012'", "1 bad-number")]
    [InlineData(" movlw d'1F'", "1 bad-number")]
    [InlineData(" movlw .1F", "1 bad-number")]
    [InlineData(" movlw h''", "1 bad-expression")]
    [InlineData("x equ 00011111b\n nop", "1 ambiguous-number")]
    [InlineData(" movlw 5)", "1 text-after-operands")]
    [InlineData(" movlw 1+*2", "1 bad-expression")]
    [InlineData(" movlw 100", "1 literal-out-of-range")]
    [InlineData(" movlw -0x81", "1 literal-wraps")]
    [InlineData(" movlw -82", "1 literal-out-of-range")]
    [InlineData(" movlw .256", "1 literal-wraps")]
    [InlineData(" movlw .257", "1 literal-out-of-range")]
    [InlineData(" movlw -.256", "1 literal-out-of-range")]
    [InlineData(" dw 4000", "1 data-out-of-range")]
    [InlineData(" dt 100", "1 data-out-of-range")]
    [InlineData(" de 100", "1 eeprom-bytes-outside", "1 data-out-of-range")]
    [InlineData(" dt 1,,2", "1 missing-operand")]
    [InlineData(" dw 1,", "1 missing-operand")]
    [InlineData(" bsf 3,8", "1 bit-out-of-range")]
    [InlineData(" movf 20,2", "1 destination-unclear")]
    [InlineData("f movf 20,f\n nop", "1 label-named-like-destination", "1 destination-turned")]
    [InlineData("f equ 0\n movf 20,f", "2 destination-turned")]
    [InlineData("w equ 1\n movf 20,w", "2 destination-turned")]
    [InlineData(" include \"lost.asm\"\n movlw count", "1 include-missing", "2 name-of-missing-file")]
    [InlineData(" movf 200,w", "1 register-out-of-range")]
    [InlineData(" tris 8", "1 tris-port-unclear")]
    [InlineData(" goto 2000", "1 jump-outside-memory")]
    [InlineData(" movlw 0x80000000>>.28", "1 negative-shift")]
    [InlineData(" movlw -5/2", "1 negative-division")]
    [InlineData(" movlw low (7FFFFFFF*4)", "1 value-overflows")]
    [InlineData(" movlw 1<<.33", "1 value-overflows")]
    [InlineData(" movlw 3&1==1", "1 unclear-precedence")]
    [InlineData(" dw \"AB\"", "1 unclear-data")]
    [InlineData(" db 1,2", "1 unclear-data")]
    [InlineData(" da \"ABC\"", "1 unclear-data")]
    [InlineData(" fill 3FFF,2", "1 unclear-data")]
    [InlineData(" lcall 5,6", "1 chip-needed", "1 too-many-operands")]
    [InlineData(" cblock 20\n a:2 b\n endc\n nop", "2 text-after-operands")]
    [InlineData(" cblock 20\n a:-1\n endc\n nop", "2 bad-directive")]
    [InlineData("lost nop\n lost2 movlw 5", "2 label-indented")]
    [InlineData("a nop\n goto A", "2 name-differs-by-case")]
    [InlineData("#define Led 6,0\n bsf LED", "2 name-differs-by-case")]
    [InlineData("Wait macro\n nop\n endm\n WAIT", "4 name-differs-by-case")]
    [InlineData(" idata\nx res 1\n code\n nop", "1 unclear-data")]
    [InlineData(" include a\n nop", "1 end-in-include")]
    public void A_doubtful_line_carries_a_problem(string source, params string[] problems) =>
        Assert.Equal(
            problems,
            Check.Problems(source + "\n", ("a", " movlw 1\n end\n movlw 2\n")).Select(p => p).ToArray() switch
            {
                // The problem of an included file is on the line of that file.
                ["2 end-in-include"] => ["1 end-in-include"],
                var found => found,
            }
        );

    [Theory]
    [InlineData(" movlw '\t'", "0:3009")]
    [InlineData(" dt \"a\tb\"", "0:3461 3409 3462")]
    [InlineData(" dt 'abc'", "0:3461 3462 3463")]
    [InlineData(" retlw 'a'\n retlw a'a'\n retlw \"a\"", "0:3461 3461 3461")]
    [InlineData(" movlw ';'", "0:303B")]
    [InlineData(" movlw '''", "0:3027")]
    [InlineData(" movlw '\\''", "0:3027")]
    [InlineData(" movlw '\\'", "0:305C")]
    [InlineData(" dt \"a;b\" ; c", "0:3461 343B 3462")]
    [InlineData(" goto lab+1\nlab nop", "0:2802 0000")]
    [InlineData(" goto lab-1\nlab nop", "0:2800 0000")]
    [InlineData(" dw $,$,$", "0:0000 0001 0002")] // '$' is the address of the word, not of the line
    [InlineData(" goto $\n goto $+1", "0:2800 2802")]
    [InlineData(" movlw v\nv set 5", "0:3005")]
    [InlineData(" list p=16f84a\n addwf PCL,f", "0:0782")]
    [InlineData("x equ 1\n if x == 1 ; x == 2\n movlw 1\n endif", "0:3001")]
    [InlineData("skpz macro\n btfss 5,1\n endm\n skpz", "0:1C85")]
    [InlineData("clrc macro\n clrc\n endm\n clrc", "0:1003")]
    [InlineData("movlw macro x\n movlw x+1\n endm\n movlw 5", "0:3006")]
    [InlineData("page macro\n nop\n endm\n page", "0:0000")]
    [InlineData(
        "outer macro x\n local lp\nlp inner lp\n endm\ninner macro lp\n goto lp\n endm\n nop\n outer 1",
        "0:0000 2801"
    )]
    [InlineData("m macro a\n while a > 0\n movlw a\n exitm\n endw\n nop\n endm\n m 1\n m 0", "0:3001 0000")]
    [InlineData("m macro a\n movlw a\n nop ; a\n dt \"a\"\n endm\n m 5", "0:3005 0000 3461")]
    [InlineData("#define a 5\n movlw a\n dt \"a\"\n movlw 'a'", "0:3005 3461 3061")]
    [InlineData("#define Ab 1\n#define AB 2\n movlw Ab\n movlw AB", "0:3001 3002")]
    [InlineData("\fstart nop\n\fmovlw 5\n goto start", "0:0000 3005 2800")]
    [InlineData(" org 10\n udata 30\na res 1\n code 0\n movwf a\n org 4\n movwf a", "0:00B0; 4:00B0")]
    [InlineData("w equ 1\n movf 20,w", "0:08A0")]
    [InlineData("STATUS equ 20\n list p=16f84a\n movwf STATUS", "0:00A0")]
    [InlineData("equ1 equ 5\nset1 = equ1\n movlw set1", "0:3005")]
    [InlineData(" include a\n nop", "0:3001 0000")]
    [InlineData(" movlw 1\n ifdef X\n#define X\n endif\n ifdef X\n movlw 2\n endif", "0:3001")]
    [InlineData("#define X\n#undefine X\n ifdef X\n movlw 2\n endif\n nop", "0:0000")]
    public void A_line_that_is_easily_misread_gives_the_right_words(string source, string words) =>
        Check.Gives(words, source + "\n", ("a", " movlw 1\n end\n movlw 2\n"));

    [Theory]
    [InlineData(" list p=16f84a\n bsf STATUS.RP0", "Is STATUS,RP0 meant, with a comma?")]
    [InlineData("n equ 1\n#undefine n\n movlw k\n#define k 1", "comes later, in line 4")]
    [InlineData(" wait 5\nwait macro x\n endm", "comes later, in line 2. Move it above this line")]
    [InlineData(" movlw FF", "write 0xFF")]
    public void An_unknown_name_comes_with_what_it_was_most_likely_meant_as(string source, string hint) =>
        Assert.Contains(Check.Assemble(source).Problems, p => p.Message.Contains(hint, StringComparison.Ordinal));

    // DS30430C (PIC16F84), configuration word: only '&' keeps the bits of all settings.
    [Theory]
    [InlineData("_CP_OFF & _WDT_OFF | _XT_OSC")]
    [InlineData("_CP_OFF | _WDT_OFF")]
    [InlineData("_CP_OFF + _WDT_OFF")]
    [InlineData("(_CP_OFF & _XT_OSC) | (_WDT_OFF)")]
    public void Settings_joined_by_anything_but_an_ampersand_are_reported(string value) =>
        Assert.Contains(
            "3 configuration-joined-wrongly",
            Check.Problems($" list p=16f84\n include <p16f84.inc>\n __config {value}\n nop\n end")
        );
}
