using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>The judge of recovered programs sees what is wrong, and whether it is reported.</summary>
public class RecoveryJudgeTests
{
    private const string Printed =
        " list p=16f84a\n __config 3FF1h\n cblock 0x0c\na\nb\n endc\n org 0\n movlw 12\n movwf b\n goto 0\n end\n";

    [Theory]
    [InlineData("movlw 12", "movlw  12", "Identical")]
    [InlineData("movlw 12", "movlw 21", "Silent")]
    [InlineData("movlw 12", "movlw 21 ;? 12 or 21", "Flagged")]
    [InlineData(" movlw 12\n", "", "Silent")]
    [InlineData(" movlw 12\n", "; movlw 12 ;? an instruction, or a remark", "Flagged")]
    [InlineData(" movlw 12\n", " movlw 12\n nop\n", "Silent")]
    [InlineData(" movlw 12\n", " movlw 12\n nop ;? or a remark\n", "Flagged")]
    [InlineData("movwf b", "movwf nowhere", "Flagged")] // An error is reported.
    [InlineData("a\nb\n", "a\nout\nb\n", "Silent")]
    [InlineData("a\nb\n", "a\nout ;? or the rest of a comment\nb\n", "Flagged")]
    [InlineData("a\nb\n", "a\nb\nout ;? or the rest of a comment\n", "Identical")]
    [InlineData(" org 0\n", " org 1\n", "Silent")]
    [InlineData(" __config 3FF1h\n", "", "Silent")]
    [InlineData(" movlw 12\n movwf b\n", " movwf b ;? a line may be missing above\n", "Flagged")]
    [InlineData(" movlw 12\n movwf b\n", " movwf b ;? is it movwf or movfw?\n", "Silent")] // A doubt beside it says nothing of a lost line.
    [InlineData(" org 0\n movlw 12\n", " org 0 ;? check 0\n", "Silent")]
    [InlineData(" org 0\n movlw 12\n", " org 0 movlw 12 ;? check this line\n", "Flagged")] // Two lines that were read as one.
    [InlineData(" movlw 12\n movwf b\n", " m0vhw ]2 ;? no ';' was read here\n movwf b\n", "Flagged")]
    [InlineData(" goto 0\n", "", "Silent")]
    [InlineData("cblock 0x0c", "cblock 0x0e", "Silent")]
    [InlineData("cblock 0x0c", "cblock 0x0e ;? is it 0x0e or 0x0c?", "Flagged")]
    public void A_word_that_differs_is_reported_or_silently_wrong(string printed, string recovered, string outcome)
    {
        ProgramAnalysis truth = Assembler.Assemble(new SourceFile("a.asm", SourceText.From(Printed)));
        Assert.False(truth.HasErrors);
        Assert.Contains(printed, Printed, StringComparison.Ordinal);
        SourceText source = SourceText.From(Printed.Replace(printed, recovered, StringComparison.Ordinal));
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("a.asm", source));
        // What recovery reports errors; the marks are in the source.
        var result = new RecoveryResult(
            source,
            [
                .. program
                    .Problems.Where(p => p.Severity == Core.Problems.Severity.Error)
                    .Select(p => new RecoveryEntry(
                        p.Place.Line,
                        p.Place.Columns.Start,
                        p.Place.Columns.End,
                        p.Severity,
                        p.Code,
                        p.Message
                    )),
            ],
            program
        );
        Assert.Equal(outcome, RecoveryJudge.Judge(truth, result).Outcome.ToString());
    }

    [Theory]
    [InlineData("'m0vlw l2' stands among the lines of the program here, but was left out.", "Flagged")]
    [InlineData("'clrwdt' stands among the lines of the program here, but was left out.", "Silent")]
    [InlineData("A line may be missing somewhere.", "Silent")]
    public void A_line_that_was_left_out_is_reported_by_its_words(string message, string outcome)
    {
        ProgramAnalysis truth = Assembler.Assemble(new SourceFile("a.asm", SourceText.From(Printed)));
        SourceText source = SourceText.From(Printed.Replace(" movlw 12\n", "", StringComparison.Ordinal));
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("a.asm", source));
        var result = new RecoveryResult(
            source,
            [new RecoveryEntry(0, 0, 0, Core.Problems.Severity.Warning, "set-aside", message)],
            program
        );
        Assert.Equal(outcome, RecoveryJudge.Judge(truth, result).Outcome.ToString());
    }

    [Fact]
    public void A_name_misread_alike_everywhere_is_found_from_the_error_that_resolving_makes()
    {
        ProgramAnalysis truth = Assembler.Assemble(
            new SourceFile("a.asm", SourceText.From(" list p=16f84a\n org 0\nloop movlw 12\n goto loop\n end\n"))
        );
        SourceText source = SourceText.From(" list p=16f84a\n org 0\nl0op movlw 21 ;? check 21\n goto l0op\n end\n");
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("a.asm", source));
        Assert.Equal(Outcome.Flagged, RecoveryJudge.Judge(truth, new RecoveryResult(source, [], program)).Outcome);
    }
}
