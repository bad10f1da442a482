using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>The judge of recovered programs sees what is wrong, and whether it is told.</summary>
public class RecoveryJudgeTests
{
    private const string Printed = " list p=16f84a\n __config 3FF1h\n cblock 0x0c\na\nb\n endc\n org 0\n movlw 12\n movwf b\n goto 0\n end\n";

    [Theory]
    [InlineData("movlw 12", "movlw  12", "Identical")]
    [InlineData("movlw 12", "movlw 21", "Silent")]
    [InlineData("movlw 12", "movlw 21 ;? 12 or 21", "Flagged")]
    [InlineData(" movlw 12\n", "", "Silent")]
    [InlineData(" movlw 12\n", "; movlw 12 ;? an instruction, or a remark", "Flagged")]
    [InlineData(" movlw 12\n", " movlw 12\n nop\n", "Silent")]
    [InlineData(" movlw 12\n", " movlw 12\n nop ;? or a remark\n", "Flagged")]
    [InlineData("movwf b", "movwf nowhere", "Flagged")] // An error is told.
    [InlineData("a\nb\n", "a\nout\nb\n", "Silent")]
    [InlineData("a\nb\n", "a\nout ;? or the rest of a comment\nb\n", "Flagged")]
    [InlineData("a\nb\n", "a\nb\nout ;? or the rest of a comment\n", "Identical")]
    [InlineData(" org 0\n", " org 1\n", "Silent")]
    [InlineData(" __config 3FF1h\n", "", "Silent")]
    public void A_word_that_differs_is_told_or_silently_wrong(string printed, string recovered, string outcome)
    {
        ProgramAnalysis truth = Assembler.Assemble(new SourceFile("a.asm", SourceText.From(Printed)));
        Assert.False(truth.HasErrors);
        Assert.Contains(printed, Printed, StringComparison.Ordinal);
        SourceText source = SourceText.From(Printed.Replace(printed, recovered, StringComparison.Ordinal));
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("a.asm", source));
        // What recovery tells of errors; the marks stand in the source.
        var result = new RecoveryResult(source, [.. program.Problems.Where(p => p.Severity == Core.Problems.Severity.Error).Select(p => new RecoveryEntry(p.Place.Line, p.Place.Columns.Start, p.Place.Columns.End, p.Severity, p.Code, p.Message))], program);
        Assert.Equal(outcome, RecoveryJudge.Judge(truth, result).Outcome.ToString());
    }
}
