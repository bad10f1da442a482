using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>
/// Every operator and directive of docs/language.md, with the words worked out from its rule: movlw k is 30kk, retlw k is
/// 34kk, movwf f is 00 and 80+f, goto k is 2800+k (data sheet DS35007B, table 7-2).
/// </summary>
public class LanguageTests
{
    [Theory]
    // Unary: + - ! ~ high low upper
    [InlineData("+5", 0x05)]
    [InlineData("-5", 0xFB)]
    [InlineData("- -5", 0x05)]
    [InlineData("!5", 0)]
    [InlineData("!0", 1)]
    [InlineData("~5", 0xFA)]
    [InlineData("high 1234", 0x12)]
    [InlineData("HIGH 1234", 0x12)]
    [InlineData("high(1234)", 0x12)]
    [InlineData("low 1234", 0x34)]
    [InlineData("upper 0x123456", 0x12)]
    [InlineData("low 1234+1", 0x35)] // unary binds first
    [InlineData("high 12FF+1", 0x13)]
    // Binary, each with a value that another precedence would change
    [InlineData("2+3*4", 14)]
    [InlineData("0e/3", 4)]
    [InlineData("0e%4", 2)]
    [InlineData("8/2*3", 12)]
    [InlineData("9-3-2", 4)]
    [InlineData("1<<2+1", 8)] // + above <<
    [InlineData("80>>3", 0x10)]
    [InlineData("1<<4|1", 0x11)]
    [InlineData("0FF&0F0>>4", 0x0F)] // >> above &
    [InlineData("1|2^3&2", 1)] // & above ^ above |
    [InlineData("2<3", 1)]
    [InlineData("3<3", 0)]
    [InlineData("3<=3", 1)]
    [InlineData("3>2", 1)]
    [InlineData("3>3", 0)]
    [InlineData("3>=3", 1)]
    [InlineData("3==3", 1)]
    [InlineData("3!=3", 0)]
    [InlineData("1<2==1", 1)] // < above ==
    [InlineData("1==2<3", 1)]
    [InlineData("2&&3", 1)]
    [InlineData("2&&0", 0)]
    [InlineData("0||3", 1)]
    [InlineData("0||0", 0)]
    [InlineData("1||0&&0", 1)] // && above ||
    [InlineData("(1||0)&&0", 0)]
    [InlineData("$", 0)]
    [InlineData("$+2", 2)]
    [InlineData("defined(x)", 1)]
    [InlineData("defined(y)", 0)]
    [InlineData("(((5)))", 5)]
    [InlineData("\"A\"+1", 0x42)]
    public void Every_operator_gives_its_value(string expression, int value) =>
        Check.Gives($"0:30{value:X2}", $"x equ 1\n movlw {expression}\n end");

    // The same digits under each base.
    [Theory]
    [InlineData("hex", "10", 0x10)]
    [InlineData("dec", "10", 10)]
    [InlineData("oct", "10", 8)]
    [InlineData("dec", "0x10", 16)]
    [InlineData("dec", "10h", 16)]
    [InlineData("dec", "h'10'", 16)]
    [InlineData("dec", "H'10'", 16)]
    [InlineData("dec", "x'10'", 16)]
    [InlineData("hex", "d'10'", 10)]
    [InlineData("hex", "D'10'", 10)]
    [InlineData("hex", ".10", 10)]
    [InlineData("hex", "o'10'", 8)]
    [InlineData("hex", "q'10'", 8)]
    [InlineData("hex", "b'10'", 2)]
    [InlineData("dec", "0b10", 2)]
    [InlineData("dec", "00000010b", 2)]
    [InlineData("hex", "0b1", 0xB1)]
    public void A_number_is_read_by_its_mark_or_by_the_base_in_force(string radix, string number, int value) =>
        Check.Gives($"0:30{value:X2}", $" radix {radix}\n movlw {number}\n end");

    [Theory]
    // Names and values
    [InlineData("a equ 5\n movlw a", "0:3005")]
    [InlineData("a equ 5\na equ 5\n movlw a", "0:3005")]
    [InlineData("a: equ 5\n movlw a", "0:3005")]
    [InlineData("a set 5\na set 6\n movlw a", "0:3006")]
    [InlineData("a = 5\n movlw a\na = 6\n movlw a", "0:3005 3006")]
    [InlineData(
        "a set 5\na += 2\n movlw a\na -= 1\n movlw a\na *= 3\n movlw a\na /= 2\n movlw a\na %= 5\n movlw a",
        "0:3007 3006 3012 3009 3004"
    )]
    [InlineData(
        "a set 3\na <<= 2\n movlw a\na >>= 1\n movlw a\na &= 4\n movlw a\na |= 1\n movlw a\na ^= 0f\n movlw a",
        "0:300C 3006 3004 3005 300A"
    )]
    [InlineData("a set 3\na++\n movlw a\na--\na--\n movlw a", "0:3004 3002")]
    [InlineData(" constant a=5, b=a+1\n movlw a\n movlw b", "0:3005 3006")]
    [InlineData(" variable a=5, b\n movlw a\n movlw b\na = 7\n movlw a", "0:3005 3000 3007")]
    [InlineData(
        " cblock 20\na, b:3, c\n d:0, e\n endc\n movwf a\n movwf b\n movwf c\n movwf d\n movwf e",
        "0:00A0 00A1 00A4 00A5 00A5"
    )]
    [InlineData(" cblock 20\na\n endc\n cblock\nb\n endc\n movwf b", "0:00A1")]
    [InlineData("#define A movlw 5\n#define go A\n go", "0:3005")]
    [InlineData("#define max(a,b) ((a)*(a>b)+(b)*(b>=a))\n movlw max(3,7)", "0:3007")]
    [InlineData("#define A 5\n movlw A\n#undefine A\nA equ 6\n movlw A", "0:3005 3006")]
    [InlineData("#define movfw movf\n movfw 20,f\n movf 21,w", "0:08A0 0821")]
    [InlineData("#define OPTION 81\n option\n movwf OPTION", "0:0062 0081")]
    // Place and data
    [InlineData(" org 10\n nop\n org 4\nthere nop\n goto there", "4:0000 2804; 10:0000")]
    [InlineData("a org 8\n goto a", "8:2808")]
    [InlineData(" nop\n res 3\n goto $", "0:0000; 4:2804")]
    [InlineData(" dw 1,2\n data 3\n dat 4", "0:0001 0002 0003 0004")]
    [InlineData(" da \"AB\",\"CD\"", "0:20C2 21C4")]
    [InlineData(" dt 1,'a',\"bc\",d'10'", "0:3401 3461 3462 3463 340A")]
    [InlineData(" nop\n org 2100\n de 1,\"Hi\",'x'", "0:0000; 2100:0001 0048 0069 0078")]
    [InlineData(" nop\n org 2100\n db 1,2", "0:0000; 2100:0001 0002")]
    [InlineData(" nop\n end\n nop", "0:0000")]
    // Chip
    [InlineData(
        " list p=16f84a, r=dec, f=inhx8m, n=0, c=132, b=4, st=off, mm=off, x=on, w=0, t=on\n movlw 10",
        "0:300A"
    )]
    [InlineData(" LIST P=PIC16F84\n movwf TRISB", "0:0086")]
    [InlineData(" processor p16f84a\n bsf STATUS,RP0", "0:1683")]
    [InlineData(" list p=16f84a\n __maxram 0xCF\n __badram 0x07, 0x50-0x7F\n nop", "0:0000")]
    [InlineData(" list p=16f84\n include p16f84.inc\n __config 0x3ff1\n nop", "0:0000; 2007:3FF1")]
    [InlineData(" list p=16f84\n include \"P16F84.INC\"\n __fuses 0x3ff1\n nop", "0:0000; 2007:3FF1")]
    [InlineData(" list p=16f84\n #include <p16f84.inc>\n __config 2007, 0x3ff1\n nop", "0:0000; 2007:3FF1")]
    [InlineData(" nop\n __idlocs 1234", "0:0000; 2000:0001 0002 0003 0004")]
    [InlineData(" nop\n org 2000\n dw 1,2,3,4\n org 2007\n dw 3ff1", "0:0000; 2000:0001 0002 0003 0004; 2007:3FF1")]
    // Banks and pages: DS30292C, memory organisation; language.md for the number of words
    [InlineData(" list p=16f628\n banksel 120", "0:1283 1703")]
    [InlineData(" list p=16f877a\n bankisel 120\n bankisel 20", "0:1783 1383")]
    [InlineData(" list p=16f873\n pagesel 800\n pagesel 0", "0:158A 118A")]
    [InlineData(" list p=16f877\n pagesel 1800\n lcall 5", "0:158A 160A 118A 120A 2005")]
    // Choice and repetition
    [InlineData(" if 0\n movlw 1\n elseif 1\n movlw 2\n else\n movlw 3\n endif", "0:3002")]
    [InlineData(" if 1\n if 0\n movlw 1\n else\n movlw 2\n endif\n else\n movlw 3\n endif", "0:3002")]
    [InlineData("a equ 1\n ifdef a\n movlw 1\n endif\n ifndef a\n movlw 2\n endif", "0:3001")]
    [InlineData("#if 1\n movlw 1\n#else\n movlw 2\n#endif", "0:3001")]
    [InlineData("i = 0\n while i < 3\n dt i\ni++\n endw", "0:3400 3401 3402")]
    [InlineData(
        "i = 0\n while i < 2\nj = 0\n while j < 2\n dt i*10+j\nj++\n endw\ni++\n endw",
        "0:3400 3401 3410 3411"
    )]
    // Macros
    [InlineData("m macro a,b\n movlw a\n movwf b\n endm\n m 5,20\n m 6,21", "0:3005 00A0 3006 00A1")]
    [InlineData("m macro a\n local x=a*2\n movlw x\n endm\n m 3\n m 4", "0:3006 3008")]
    [InlineData("m macro\n local l\nl goto l\n endm\n m\n m", "0:2800 2801")]
    [InlineData("m macro a\n if a\n exitm\n endif\n movlw 1\n endm\n m 1\n m 0", "0:3001")]
    [InlineData("in macro a\n movlw a\n endm\nout macro a\n in a+1\n endm\n out 4", "0:3005")]
    [InlineData("m macro op,r\n op r,f\n endm\n m incf,20\n m decf,20", "0:0AA0 03A0")]
    [InlineData(
        " expand\n noexpand\n errorlevel -302\n title \"x\"\n subtitle \"y\"\n stitle \"z\"\n page\n space 2\n list\n nolist\n nop",
        "0:0000"
    )]
    [InlineData("n = 2\nlab#v(n) nop\n goto lab2\n goto lab#v(n)", "0:0000 2800 2800")]
    // Sections: data from the first general-purpose register (DS30292C: 0x20), code after what has addresses
    [InlineData(
        " list p=16f877\n udata\na res 2\nb res 1\n udata_shr\nc res 1\nR code 0\n goto go\n code\ngo movwf a\n movwf b\n movwf c",
        "0:2801 00A0 00A2 00F0"
    )]
    [InlineData(
        " list p=16f877\no udata_ovr\na res 2\no udata_ovr\nb res 1\n code 0\n movwf a\n movwf b",
        "0:00A0 00A0"
    )]
    [InlineData(" list p=16f877\n global go\n code 0\ngo goto go", "0:2800")]
    public void Every_directive_does_what_its_rule_says(string source, string words) =>
        Check.Gives(words, source + "\n end");

    // 'What the words in published programs confirm' and 'Proven by words' of docs/language.md, one case each.
    [Theory]
    [InlineData(" movlw 20", "0:3020")]
    [InlineData(" incf 20", "0:0AA0")]
    [InlineData(" org 8\n nop\n org 0\n clrw", "0:0103; 8:0000")]
    [InlineData(" list p=16f84\n nop", "0:0000")]
    [InlineData(" nop\n __idlocs 0x1234", "0:0000; 2000:0001 0002 0003 0004")]
    [InlineData(" nop\n org 2100\n dw 0BB\n dt 5", "0:0000; 2100:00BB 3405")]
    [InlineData(" list p=12f675\n ifdef __12F675\n nop\n endif", "0:0000")]
    [InlineData(" local x=5\n movlw x", "0:3005")]
    [InlineData(" x = 5\n x set 6\n variable y=1, z=2\n movlw x+y+z", "0:3009")]
    [InlineData("m macro x\nif(x)\n movlw 1\nelse\n movlw 2\nendif\nendm\n m 1\n m 0", "0:3001 3002")]
    [InlineData(" movlw(5)&0xFF", "0:3005")]
    [InlineData("a#b equ 1\na@b equ 2\n movlw a#b\n movlw a@b", "0:3001 3002")]
    [InlineData(" list p=16f877\n call 1805\n goto 0805", "0:2005 2805")]
    [InlineData(" dt \"\\r\\n\"", "0:340D 340A")]
    [InlineData(" dt \"é\",\"ß\"", "0:34E9 34DF")]
    public void What_words_of_published_programs_prove_holds(string source, string words) =>
        Check.Gives(words, source + "\n end");

    [Fact]
    public void The_words_that_the_parser_knows_are_those_that_are_carried_out()
    {
        var carriedOut = new SortedSet<string>(StringComparer.Ordinal);
        carriedOut.UnionWith(InstructionSet.All.Select(i => i.Name));
        carriedOut.UnionWith(Shorthand.All.Select(s => s.Name));
        carriedOut.UnionWith(DirectiveList.All.SelectMany(d => d.Words));
        Assert.Equal(carriedOut, OperationWords.All.Order(StringComparer.Ordinal));
        foreach (string word in carriedOut)
        {
            bool bare = (InstructionSet.Find(word)?.Operands ?? Shorthand.Find(word)?.Operands) == OperandKind.None;
            Assert.Equal(bare, OperationWords.TakesNoOperand(word));
        }
    }

    [Fact]
    public void Every_directive_of_the_folder_is_in_the_list()
    {
        var written = typeof(Directive)
            .Assembly.GetTypes()
            .Where(t => t.IsSubclassOf(typeof(Directive)))
            .Select(t => t.Name)
            .Order(StringComparer.Ordinal);
        Assert.Equal(written, DirectiveList.All.Select(d => d.GetType().Name).Order(StringComparer.Ordinal));
        Assert.All(DirectiveList.All, d => Assert.EndsWith(".", d.Summary, StringComparison.Ordinal));
    }
}
