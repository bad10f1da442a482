using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Listings that a printer wrapped at 72 characters: which rows continue with the comment above, and which are the program's.</summary>
public class RowClassifierTests
{
    private const int Width = 72;

    // A program with comments long enough that several are wrapped, so that the width can be learned.
    private const string Head = """
                list    p=16f84a
        PORTB   equ     6
        STATUS  equ     3
                cblock  0x0c
                level                   ; how full the barrel is, in steps of the float
                turns                   ; how often the pump went round since the last rain
                endc
                org     0
                goto    begin           ; over the routines to the place where it all starts
        begin   clrf    level           ; the barrel counts as empty until the float has moved
                clrf    turns           ; nothing was pumped so far, whatever the wheel says
                movlw   .12             ; a dozen turns are one bucket of the larger kind
                movwf   turns
        """;

    private const string Tail = """

        again   movf    level,w         ; look at the float again, for as long as it rains
                movwf   PORTB           ; and show it to whoever stands at the window above
                goto    again
                end
        """;

    // What the head and the tail build to, and what is between them (DS35007B, table 7-2).
    private static string Between(params string[] words)
    {
        var all = new List<string> { "2801", "018C", "018D", "300C", "008D" };
        all.AddRange(words);
        int again = all.Count;
        all.AddRange(["080C", "0086", (0x2800 + again).ToString("X4", null)]);
        return string.Join(' ', all.Select((w, i) => $"{i:X}:{w}"));
    }

    // As a browser or a word processor does it: at the last blank that fits, and to the left edge or a column of rests.
    private static string Wrapped(string program, int hang = 0)
    {
        var rows = new List<string>();
        foreach (string line in program.Split('\n'))
        {
            string row = line;
            while (row.Length > Width)
            {
                int at = row.LastIndexOf(' ', Width);
                int comment = row.IndexOf(';', StringComparison.Ordinal);
                if (at <= Math.Max(hang, comment + 1))
                    break;
                rows.Add(row[..at].TrimEnd());
                row = new string(' ', hang) + row[(at + 1)..];
            }

            rows.Add(row);
        }

        return string.Join('\n', rows);
    }

    // A comment that fills its row to the last character.
    private static string Full(string end) =>
        "        nop                     ; "
        + "all of the parts that were counted up to here and "[..(Width - 35 - end.Length)]
        + " "
        + end;

    private static RecoveryResult Print(string middle, int hang = 0) =>
        Recover(Wrapped(Head + "\n" + middle + Tail, hang));

    private static void IsExact(RecoveryResult result, params string[] words)
    {
        Assert.Equal(Between(words), Words(result));
        Assert.True(!DoubtsOf(result).Any(), Source(result) + "\n" + string.Join('\n', DoubtsOf(result)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(34)]
    public void Plain_words_below_full_comments_are_their_rests(int hang) =>
        IsExact(
            Print("        nop                     ; the valve needs a moment until the water has come through", hang),
            "0000"
        );

    [Theory]
    // Names of the chip or of the program, digits, signs and operations as words.
    [InlineData("of the lamps hang on", "PORTB now")]
    [InlineData("is in it is kept in", "level, see above")]
    [InlineData("be emptied at night", "if sunny")]
    [InlineData("in the village call it", "set the lamp")]
    [InlineData("at half of the speed", "(5 V, 20 mA)")]
    [InlineData("the market in the town", "12, Farm Road")]
    [InlineData("turn backwards, then", "> 3 = late")]
    [InlineData("set: three turns to", "3:5")]
    [InlineData("more water than it has", "by the farmer  ;+2")]
    [InlineData("the old manual: acqua", "de fontana")]
    [InlineData("the old manual: somma", "da conta")]
    [InlineData("leaf is on another", "page of notes")]
    [InlineData("the bell rings is an", "b flat")]
    public void Rest_is_known_by_its_place_whatever_its_words_are(string end, string rest) =>
        IsExact(Print(Full(end) + "\n" + rest), "0000");

    [Fact]
    public void Words_that_open_a_choice_hide_no_line()
    {
        RecoveryResult result = Print(
            Full("rest for some time")
                + "\nif sunny\n        clrf    level\n"
                + Full("old wheel, at least")
                + "\nwhile dry\n        clrf    turns"
        );
        IsExact(result, "0000", "018C", "0000", "018D");
    }

    [Theory]
    [InlineData("return")]
    [InlineData("option")]
    [InlineData("goto again")]
    public void Operation_at_the_left_edge_below_a_full_comment_has_a_doubt_whatever_it_is(string row)
    {
        RecoveryResult result = Print(Full("shall do is to") + "\n" + row);
        Assert.Contains(
            Source(result).Split('\n'),
            l => l.Contains(row.Split(' ')[0], StringComparison.Ordinal) && l.Contains(";?", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("return", "0008")]
    [InlineData("sleep", "0063")]
    [InlineData("clrf    level", "018C")]
    public void Instruction_in_the_column_of_instructions_is_one(string row, string word) =>
        IsExact(Print(Full("shall do is to") + "\n        " + row), "0000", word);

    [Fact]
    public void Label_below_a_ruler_stays_a_label() =>
        IsExact(
            Print(
                "        call    pour\n; ------------------------------------------------------\npour\n        return"
            ),
            "2006",
            "0008"
        );

    [Fact]
    public void Rest_of_a_ruler_goes_with_it() =>
        IsExact(Print("; ----- the filling -------------------------------------\n------------\n        nop"), "0000");

    [Fact]
    public void Colon_below_its_label_goes_with_it() =>
        IsExact(Print("        call    pour\npour\n:\n        return"), "2006", "0008");

    [Fact]
    public void Operand_in_the_next_row_goes_with_its_operation() =>
        IsExact(Print("        movlw\n0x10                            ; far out on the right"), "3010");

    [Fact]
    public void Name_that_is_used_is_a_label_below_a_full_comment() =>
        IsExact(
            Print("        call    pour\n" + Full("to be filled to") + "\npour\n        return"),
            "2007",
            "0000",
            "0008"
        );

    [Fact]
    public void Define_for_an_instruction_is_no_rest()
    {
        RecoveryResult result = Print("#define LIGHT   bsf PORTB,3\n" + Full("by one of these") + "\n        LIGHT");
        IsExact(result, "0000", "1586");
    }

    [Fact]
    public void Register_of_the_chip_below_the_comment_of_a_variable_is_no_variable()
    {
        RecoveryResult result = Recover(
            """
                    list    p=16f84a
                    include <p16f84a.inc>
                    __config 0x3ff1
                    cblock  0x0c
                    level               ; how full the barrel is, in steps of the float
                    kept                ; what the routine at the gate has found in the
                                        STATUS
                    turns               ; how often the pump went round since the rain
                    endc
                    org     0
            begin   clrf    level       ; the barrel counts as empty until the float has
                                        moved
                    clrf    turns
                    bsf     STATUS,RP0
                    clrf    TRISB
                    goto    begin
                    end
            """
        );
        // CLRF 00 0001 1fff ffff, BSF 01 01bb bfff ffff, GOTO 10 1kkk kkkk kkkk (DS35007B, table 7-2); the variables are at 0x0C, 0x0D and 0x0E.
        Assert.Equal("0:018C 1:018E 2:1683 3:0186 4:2800", Words(result));
    }
}
