using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

public class PasteRecoveryTests
{
    private const string Lamp = """
        ; lamp that blinks
                list p=16f84a
                include <p16f84a.inc>
                __config 0x3FF1
        count   equ 0x0C
                org 0
        start   bsf STATUS,RP0
                clrf TRISB
                bcf STATUS,RP0
        dec1:
                decfsz count,f
                goto dec1
                movlw 1
                xorwf PORTB,f
                goto start
                end
        """;

    // The words by hand from the instruction set table of the PIC16F84A data sheet (DS35007B, table 7-2).
    private static readonly (int Line, int Address, int Word)[] Words =
    [
        (4, 0x2007, 0x3FF1),
        (7, 0, 0x1683),
        (8, 1, 0x0186),
        (9, 2, 0x1283),
        (11, 3, 0x0B8C),
        (12, 4, 0x2803),
        (13, 5, 0x3001),
        (14, 6, 0x0686),
        (15, 7, 0x2800),
    ];

    private static string[] Lines => Lamp.Split('\n');

    private static RecoveryResult Recover(string text) => PasteRecovery.Run(SourceText.From(text));

    private static string WithWords(string blank, Func<int, int, string> words) =>
        string.Join(
            '\n',
            Lines.Select(
                (l, i) =>
                    Array.Find(Words, w => w.Line == i + 1) is { Line: > 0 } own
                        ? words(own.Address, own.Word) + l
                        : blank + l
            )
        );

    private static void AssertIsLamp(RecoveryResult result)
    {
        Assert.Equal(
            Words.Where(w => w.Address < 0x2000).Select(w => $"{w.Address:X}:{w.Word:X4}"),
            PrintedPages.Words(result).Split(' ')
        );
        Assert.True(result.IsClean, string.Join('\n', PrintedPages.DoubtsOf(result)));
    }

    [Fact]
    public void Line_numbers_in_front_are_taken_off() =>
        AssertIsLamp(Recover(string.Join('\n', Lines.Select((l, i) => $"{i + 1, 4} {l}"))));

    [Fact]
    public void Addresses_and_words_in_front_are_taken_off_and_compared()
    {
        RecoveryResult result = Recover(WithWords("           ", (a, w) => $"{a:X4} {w:X4}  "));
        AssertIsLamp(result);
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordsAgree && e.Message.StartsWith("9 of 9 ", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Numbers_in_front_are_known_though_the_columns_are_lost()
    {
        string[] rows = WithWords("", (a, w) => $"{a:X4} {w:X4} ").Split('\n');
        AssertIsLamp(
            Recover(
                string.Join(
                    '\n',
                    rows.Select(
                        (l, i) => $"{i + 1} {string.Join(' ', l.Split(' ', StringSplitOptions.RemoveEmptyEntries))}"
                    )
                )
            )
        );
    }

    [Fact]
    public void Word_that_does_not_agree_is_doubted_on_its_line()
    {
        RecoveryResult result = Recover(
            WithWords("           ", (a, w) => $"{a:X4} {w:X4}  ")
                .Replace("movlw 1", "movlw 7", StringComparison.Ordinal)
        );
        RecoveryEntry doubt = Assert.Single(
            PrintedPages.DoubtsOf(result),
            e => e.Code == DocumentCodes.PrintedWordDiffers
        );
        Assert.Contains("movlw", result.Source[doubt.Line].Text, StringComparison.Ordinal);
        Assert.Null(doubt.Page);
    }

    [Fact]
    public void Lines_keep_the_numbers_of_the_pasted_text()
    {
        RecoveryResult result = Recover("An evening with lamps.\n\n\n" + Lamp);
        int line = Enumerable
            .Range(0, result.Source.LineCount)
            .Single(i => result.Source[i].Text.Contains("xorwf", StringComparison.Ordinal));
        Assert.Equal(new PrintedPlace(0, 17), Assert.Single(result.Origins[line].Places));
        Assert.All(result.Entries, e => Assert.Null(e.Page));
    }

    [Fact]
    public void Form_feeds_part_pages_whose_heads_are_left_out()
    {
        string[] pages =
        [
            .. Lines
                .Chunk(6)
                .Select((rows, i) => $"LAMP.TXT                       sheet {i + 1}\n\n{string.Join('\n', rows)}\n"),
        ];
        RecoveryResult result = Recover(string.Join('\f', pages));
        AssertIsLamp(result);
        Assert.DoesNotContain("LAMP.TXT", result.Source.ToString(), StringComparison.Ordinal);
        Assert.Contains(result.Entries, e => e.Message.Contains("LAMP.TXT", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_programs_for_two_chips_are_not_mixed()
    {
        string other = Lamp.Replace("16f84a", "16f628", StringComparison.Ordinal);
        Assert.Contains(
            Recover(Lamp + "\n\n" + other).Entries,
            e => e is { Severity: Severity.Error, Code: DocumentCodes.SeveralListings }
        );
        RecoveryResult second = PasteRecovery.Run(
            SourceText.From(Lamp + "\n\n" + other),
            new DocumentRecoveryOptions { Listing = 2 }
        );
        Assert.Equal("PIC16F628", second.Program.Device?.Name);
    }

    [Fact]
    public void Piece_of_a_few_lines_is_taken_as_program() =>
        Assert.Equal("        movlw 5\n        movwf 0x20", PrintedPages.Source(Recover("movlw 5\nmovwf 0x20\n")));

    [Fact]
    public void Tab_in_quotes_stays()
    {
        RecoveryResult result = Recover(
            " list p=16f84a\n __config 0x3FF1\n org 0\n movlw\t5\n movwf 0x0C\n dt \"a\tb\"\n end\n"
        );
        // 0x09 is the tab of ASCII (ANSI X3.4).
        Assert.Equal("0:3005 1:008C 2:3461 3:3409 4:3462", PrintedPages.Words(result));
    }

    [Theory]
    [InlineData("0001 009F movwf 0x1F")]
    [InlineData("12 2014 call wait")]
    public void Instruction_after_numbers_is_never_made_a_comment(string line)
    {
        RecoveryResult result = Recover(
            $" list p=16f84a\n __config 0x3FF1\n org 0\nwait nop ; the lamps are\n{line}\n movlw 1\n goto wait\n end\n"
        );
        Assert.Contains(
            result.Entries,
            e =>
                e.Severity == Severity.Error
                && result.Source[e.Line].Text.Contains(line.Split(' ')[2], StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Two_rows_that_ran_together_below_a_comment_are_no_rest_of_it_without_a_doubt()
    {
        RecoveryResult result = Recover(
            """
             list p=16f84a
             include <p16f84a.inc>
             __config 0x3FF1
             org 0
            dark clrf PORTB
            wait btfss PORTA,1 ; by day the lamp is to stay
            goto darkbtfss PORTA,0
            goto wait
            bsf PORTB,2
            goto dark
             end
            """
        );
        Assert.Contains(
            PrintedPages.DoubtsOf(result),
            e => result.Source[e.Line].Text.Contains("darkbtfss", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Letter_left_over_from_a_broken_line_is_reported()
    {
        RecoveryResult result = Recover(Lamp.Replace("        decfsz", "f\n        decfsz", StringComparison.Ordinal));
        Assert.Contains(
            PrintedPages.DoubtsOf(result),
            e => result.Source[e.Line].Text.Trim().TrimStart(';', ' ') is ['f', ..]
        );
    }
}
