using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Words printed in front of lines, as evidence for lines that are damaged. The words are those of the data sheet's instruction table (DS30430C, table 9-2).</summary>
public class PrintedReadingTests
{
    private const string Head =
        "                    list    p=16f84a\n                    include <p16f84a.inc>\n                    __config 0x3ff1\ncount               equ     0x0c\n                    org     0\n";

    [Theory]
    [InlineData("0000  3018  start   movlw   0x1S", "0x18")]
    [InlineData("0000  008C  start   movwf   coun", "count")]
    [InlineData("0000  0B8C  start   decfz   count,f", "decfsz")]
    [InlineData("0000  0085  start   movwf   PORTAA", "PORTA")]
    public void A_line_that_gives_no_word_is_read_from_the_printed_one(string line, string now)
    {
        RecoveryResult result = Recover(Program(line));
        Assert.Contains(
            result.Source.Lines,
            l =>
                l.Text.StartsWith("start", StringComparison.Ordinal)
                && l.Text.Contains(now, StringComparison.Ordinal)
                && !l.Text.Contains(";?", StringComparison.Ordinal)
        );
        Assert.Equal(
            Severity.Information,
            Assert.Single(result.Entries, static e => e.Code == DocumentCodes.PrintedWordRead).Severity
        );
        Assert.Empty(DoubtsOf(result));
    }

    [Theory]
    [InlineData("3010", "lO", "10")]
    [InlineData("30B1", "B1", "0xB1")]
    [InlineData("3010", "0x1O", "0x10")]
    [InlineData("301D", "0x1O", "0x1D")]
    public void A_doubt_is_resolved_where_the_printed_word_agrees_and_stays_where_it_does_not(
        string word,
        string written,
        string meant
    )
    {
        RecoveryResult right = Recover(Program($"0000  {word}  start   movlw   {written}")),
            wrong = Recover(Program($"0000  3077  start   movlw   {written}"));
        Assert.Contains(right.Source.Lines, l => l.Text.EndsWith("movlw   " + meant, StringComparison.Ordinal));
        Assert.Empty(DoubtsOf(right));
        Assert.Contains(DoubtsOf(wrong), static e => e.Code == DocumentCodes.PrintedWordDiffers);
        Assert.Contains(
            wrong.Source.Lines,
            static l =>
                l.Text.StartsWith("start", StringComparison.Ordinal) && l.Text.Contains(";?", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Of_a_good_line_and_a_word_that_differ_in_one_look_alike_neither_is_taken()
    {
        RecoveryResult result = Recover(Program("0000  3018  start   movlw   0x1B"));
        RecoveryEntry entry = Assert.Single(DoubtsOf(result), static e => e.Code == DocumentCodes.PrintedWordDiffers);
        Assert.Contains("Digit 4 of the printed word", entry.Message, StringComparison.Ordinal);
        Assert.Contains(
            "movlw   0x1B ;? the page prints 0x3018 here [start movlw 0x18]",
            result.Source.ToString(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_line_that_is_there_twice_is_reported_where_it_is_and_nowhere_else()
    {
        RecoveryResult result = Recover(
            Program(
                "0000  3018  start   movlw   0x18\n0001  0A8C          incf    count,f\n0001  0A8C          incf    count,f"
            )
        );
        RecoveryEntry entry = Assert.Single(DoubtsOf(result));
        Assert.Equal(DocumentCodes.MissingLines, entry.Code);
        Assert.Contains("twice", entry.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_that_no_printed_word_bears_out_is_doubted_where_it_is_given()
    {
        RecoveryResult result = Recover(
            Program("0000  0A8C  start   incf    count,f").Replace("0x0c", "0x0e", StringComparison.Ordinal)
        );
        Assert.Contains(
            result.Source.Lines,
            static l =>
                l.Text.StartsWith("count", StringComparison.Ordinal) && l.Text.Contains(";?", StringComparison.Ordinal)
        );
    }

    // The addresses continue after what is tried.
    private static string Program(string lines)
    {
        int next = lines.Contains("0001", StringComparison.Ordinal) ? 2 : 1;
        return $"{Head}{lines}\n{next:X4}  0086          movwf   PORTB\n{next + 1:X4}  0103          clrw\n{next + 2:X4}  0008          return\n{next + 3:X4}  2800          goto    start\n                    end";
    }
}
