using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

public class TableTooShortTests
{
    private const string Head =
        " list p=16f84a\n #include <p16f84a.inc>\n __config _CP_OFF & _WDT_OFF & _XT_OSC\nplace equ 0x0c\n org 0\n";

    private static string[] Messages(string code) =>
        [
            .. FlowProblems
                .Find(Check.Assemble(Head + code + " end\n"))
                .Where(p => p.Kind == Catalogue.TableTooShort)
                .Select(p => $"{p.Place.Line + 1} {p.Message}"),
        ];

    private static string Table(int entries) =>
        "table addwf PCL,f\n" + string.Concat(Enumerable.Range(0, entries).Select(i => $" retlw {i}\n"));

    [Theory]
    [InlineData(7, true)]
    [InlineData(8, false)]
    public void Constant_after_the_last_entry_is_reported(int number, bool isReported)
    {
        string[] reported = Messages(
            $"start movlw {number}\n call table\n goto start\n" + Table(7) + (number == 8 ? " retlw 7\n retlw 8\n" : "")
        );
        if (!isReported)
            Assert.Empty(reported);
        else
            Assert.StartsWith(
                "9 The table after this jump has 7 entries, but the number 7 in line 6 can ask for entry 8:",
                Assert.Single(reported),
                StringComparison.Ordinal
            );
    }

    [Theory]
    [InlineData(0x07, 7, true)]
    [InlineData(0x07, 8, false)]
    [InlineData(0x07, 6, false)]
    [InlineData(0x0F, 16, false)]
    [InlineData(0x0F, 15, true)]
    [InlineData(0x0F, 14, true)]
    [InlineData(0x0F, 12, false)]
    [InlineData(0x0F, 10, false)]
    [InlineData(0x0F, 9, true)]
    [InlineData(0x1F, 31, true)]
    [InlineData(0x1E, 30, false)]
    public void Mask_that_nearly_fits_is_reported(int mask, int entries, bool isReported)
    {
        Assert.Equal(
            isReported,
            Messages($"start movf place,w\n andlw 0x{mask:X2}\n call table\n goto start\n" + Table(entries)).Length == 1
        );
        // The same with the mask in the table's own routine.
        Assert.Equal(
            isReported,
            Messages(
                "start movf place,w\n call table\n goto start\n"
                    + Table(entries).Replace("table ", $"table andlw 0x{mask:X2}\n ", StringComparison.Ordinal)
            ).Length == 1
        );
    }

    [Theory]
    [InlineData(" movlw .12\n xorwf place,w\n btfss STATUS,Z\n goto next\n")]
    [InlineData(" movlw .12\n subwf place,w\n btfss STATUS,C\n goto next\n")]
    [InlineData(" movf place,w\n xorlw .12\n btfss STATUS,Z\n goto next\n")]
    public void Counter_that_is_compared_with_its_end_is_reported(string compare)
    {
        string program =
            "start clrf place\nnext movf place,w\n call table\n movwf PORTB\n incf place,f\n"
            + compare
            + " goto start\n";
        Assert.Contains(
            "has 11 entries, but the count up to 12 in line",
            Assert.Single(Messages(program + Table(11))),
            StringComparison.Ordinal
        );
        Assert.Empty(Messages(program + Table(12)));
        // Where anything else is made of the counter, its end says nothing.
        Assert.Empty(
            Messages(
                program.Replace(
                    "start clrf place",
                    "start clrf place\n btfsc place,3\n clrf place",
                    StringComparison.Ordinal
                ) + Table(11)
            )
        );
    }

    [Fact]
    public void Mask_that_a_jump_can_pass_by_proves_nothing() =>
        Assert.Empty(
            Messages(
                "start movf place,w\n btfss PORTA,0\n goto ask\n andlw 7\nask call table\n goto start\n" + Table(7)
            )
        );

    [Fact]
    public void Table_of_jumps_counts_too() =>
        Assert.Single(
            Messages(
                "start movf place,w\n andlw 7\n addwf PCL,f\n goto a\n goto a\n goto a\n goto a\n goto a\n goto a\n goto a\na nop\n goto start\n"
            )
        );

    [Fact]
    public void Recovery_reports_it_too()
    {
        RecoveryResult result = TextRecovery.Run(
            SourceText.From(Head + "start movf place,w\n andlw 7\n call table\n goto start\n" + Table(7) + " end\n")
        );
        RecoveryEntry reported = Assert.Single(result.Entries, e => e.Severity != Severity.Information);
        Assert.Equal((Catalogue.TableTooShort.Code, 9), (reported.Code, reported.Line));
    }

    [Fact]
    public void No_line_of_a_table_is_lost_without_a_word_where_its_mask_shows_it()
    {
        string whole = Head + "start movf place,w\n andlw 0x0f\n call table\n goto start\n" + Table(16) + " end\n";
        string[] lines = whole.Split('\n');
        for (
            int i = Array.FindIndex(lines, l => l.StartsWith("table", StringComparison.Ordinal)) + 1;
            lines[i].StartsWith(" retlw", StringComparison.Ordinal);
            i++
        )
            Assert.False(TextRecovery.Run(SourceText.From(string.Join('\n', lines.Where((_, n) => n != i)))).IsClean);
        Assert.True(TextRecovery.Run(SourceText.From(whole)).IsClean);
    }
}
