using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Printed;

namespace AsmLsp.Core.Tests.Recovery.Printed;

public class RecognizedDoubtsTests
{
    private const string Head = "        list    p=16f84a\n        include <p16f84a.inc>\n        __config _CP_OFF & _WDT_OFF & _XT_OSC\n        org     0\n";
    private const string Tail = "\nloop    goto    loop\n        end";

    private static RecoveryResult Recover(string line, double confidence = 0.995) => Scanned.Recover(Head + line + Tail, confidence);

    [Theory]
    [InlineData("        bsf     STATUS,RP0")]
    [InlineData("        movlw   0x3A")]
    [InlineData("        incf    PORTB,f")]
    [InlineData("start   clrf    PORTA           ; all off")]
    public void A_line_that_was_read_clearly_and_has_no_double_needs_no_doubt(string line)
    {
        RecoveryResult result = Recover(line);
        Assert.Null(result.DoubtOn(line.Split(';')[0].Trim().Split(' ')[^1]));
        Assert.Equal("recognized-text", Assert.Single(result.Entries, static e => e.Severity == Severity.Warning).Code);
    }

    [Theory]
    [InlineData("        movlw   0x3c", "0x3c", "is it 0x3c or 0x3e?")]
    [InlineData("        dt      \"Hello\"", "dt", "check \"Hello\"")]
    [InlineData("        incf    PORTB", "incf", null)]
    public void What_scans_take_for_each_other_is_doubted_however_clear_it_is(string line, string part, string? doubt) => Assert.Equal(doubt, Recover(line).DoubtOn(part));

    [Fact]
    public void A_digit_that_was_not_read_clearly_is_doubted()
    {
        RecognizedPage page = Scanned.Page(Head + "        movlw   0x35" + Tail).Unsure(4, 8, 0.97);
        Assert.Equal("check 0x35", Scanned.Recover(page).DoubtOn("movlw"));
    }

    [Fact]
    public void An_operation_that_was_not_read_clearly_names_its_doubles()
    {
        RecognizedPage page = Scanned.Page(Head + "        bsf     PORTB,3" + Tail).Unsure(4, 1, 0.6);
        RecoveryResult result = Scanned.Recover(page);
        string line = Assert.Single(result.Source.Lines.Select(static l => l.Text), static t => t.Contains("PORTB", StringComparison.Ordinal));
        Assert.Equal("is it bsf or bcf?", DoubtMarker.Read(line)!.Words);
        Assert.Contains(DoubtMarker.Read(line)!.Alternatives, static a => a.Trim().StartsWith("bcf", StringComparison.Ordinal));
    }

    [Fact]
    public void Registers_that_differ_in_a_digit_are_doubted_when_it_was_not_clear()
    {
        string program = Head.Replace("16f84a", "16f877", StringComparison.Ordinal) + "        clrf    PIR1" + Tail;
        Assert.Null(Scanned.Recover(program).DoubtOn("PIR"));
        Assert.Contains("PIR2", Scanned.Recover(Scanned.Page(program).Unsure(4, 7, 0.9)).DoubtOn("PIR"));
    }

    [Fact]
    public void A_printed_word_that_agrees_settles_the_line_and_the_names_on_it()
    {
        string text = "                   list    p=16f84a\n                   include <p16f84a.inc>\n           count   equ     0x0c\n                   org     0\n"
            + "0000 303C          movlw   0x3c\n0001 008C          movwf   count\n0002 2802  loop    goto    loop\n0003 0008          return\n                   end";
        RecoveryResult result = Scanned.Recover(text);
        Assert.Null(result.DoubtOn("movlw"));
        Assert.Null(result.DoubtOn("equ"));
    }

    [Fact]
    public void A_printed_word_that_differs_is_a_doubt()
    {
        string text = "                   list    p=16f84a\n                   include <p16f84a.inc>\n                   org     0\n"
            + "0000 303C          movlw   0x3e\n0001 0086          movwf   PORTB\n0002 2802  loop    goto    loop\n0003 0008          return\n                   end";
        Assert.Contains("0x303C", Scanned.Recover(text).DoubtOn("movlw"));
    }

    [Fact]
    public void Ink_that_was_not_read_is_a_doubt_on_its_line()
    {
        RecognizedPage page = Scanned.Page(Head + "        movlw   7" + Tail);
        page = page with { Unread = [new InkSpot(Scanned.Left + 18 * Scanned.Pitch, Scanned.Top + 4 * Scanned.Leading - 3, Scanned.Left + 18 * Scanned.Pitch + 2, Scanned.Top + 4 * Scanned.Leading)] };
        Assert.Contains("not read", Scanned.Recover(page).DoubtOn("movlw"));
    }

    [Fact]
    public void A_commented_instruction_is_doubted() => Assert.Equal("is this an instruction?", Recover("; movlw 5").DoubtOn("movlw"));

    [Fact]
    public void A_destination_that_is_missing_where_others_have_one_is_doubted() =>
        Assert.Equal("no destination was read", Recover("        movf    PORTB,w\n        movf    PORTA,w\n        incf    PORTB").DoubtOn("incf"));

    [Theory]
    [InlineData("        bef     STATUS,RP0", "bcf", "was bef")]
    [InlineData("        bcf     STATUS,RPO", "RP0", null)]
    [InlineData("        clrt    PORTB", "clrf", null)]
    [InlineData("        retum", "return", "was retum")]
    public void A_misread_word_is_put_right_with_a_doubt_where_another_is_near(string line, string part, string? doubt) => Assert.Equal(doubt, Recover(line).DoubtOn(part));

    [Fact]
    public void A_misread_word_in_a_macro_is_put_right_with_a_doubt()
    {
        string text = Head + "set4    macro   value\n        moviw   value\n        movwf   PORTB\n        endm\n        set4    7" + Tail;
        Assert.Equal("was moviw", Scanned.Recover(text).DoubtOn("movlw   value"));
    }

    [Fact]
    public void Text_below_somebodys_scan_is_doubted_wherever_a_number_stands()
    {
        PrintedDocument document = Scanned.Document(Scanned.Page(Head + "        movlw   0x35" + Tail));
        document = document with { Pages = [document.Pages[0] with { Lines = [.. document.Pages[0].Lines.Select(static l => l with { CharacterConfidences = [], Confidence = 0.5 })] }] };
        Assert.Equal("check 0x35", AsmLsp.Core.Recovery.Document.DocumentRecovery.Run(document).DoubtOn("movlw"));
    }
}
