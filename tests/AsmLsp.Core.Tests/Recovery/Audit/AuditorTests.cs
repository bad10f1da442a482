using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Audit;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Tests.Recovery.Document;
using CsCheck;

namespace AsmLsp.Core.Tests.Recovery.Audit;

/// <summary>
/// The auditor against recoveries that are wrong and say nothing. Whether a recovery is wrong is reported here by the words of the undamaged program, of which
/// the auditor knows nothing.
/// </summary>
public class AuditorTests
{
    private static readonly ProgramAnalysis[] Programs = FixturePrograms.Assembled();

    private static readonly int[][] Making =
    [
        .. Programs.Select(static p =>
            Enumerable.Range(0, p.Root.Text.LineCount).Where(i => p.FactsOf(p.Root, i).Words > 0).ToArray()
        ),
    ];

    [Fact]
    public void Program_that_is_as_it_is_printed_gets_no_doubt()
    {
        foreach (ProgramAnalysis program in Programs)
        {
            (PrintedPage[] pages, RecoveryResult result) = FalseRecovery.Honest(program);
            RecoveryResult audited = Auditor.Check(pages, result);
            Assert.True(
                audited.Entries.IsEmpty,
                program.Root.Name + ": " + string.Join("\n", audited.Entries.Select(static e => e.Message))
            );
        }
    }

    [Fact]
    public void No_wrong_word_comes_through_without_a_doubt_at_its_place()
    {
        var silent = new List<string>();
        int wrong = 0;
        Draws.Of(
            Gen.Select(
                Gen.Int[0, Programs.Length - 1],
                Gen.Int[0, FalseRecovery.Faults.Count - 1],
                Gen.Int[0, 9999],
                Gen.Int[0, 999]
            ),
            3000,
            drawn =>
            {
                var (program, fault, place, way) = drawn;
                ProgramAnalysis truth = Programs[program];
                int line = Making[program][place % Making[program].Length];
                if (FalseRecovery.Make(truth, fault, line, way) is not { } made)
                    return;
                (PrintedPage[] pages, RecoveryResult result) = made.Build();
                // An error is no silence.
                if (IsSame(truth, result.Program) || result.Program.HasErrors)
                    return;
                wrong++;
                RecoveryResult audited = Auditor.Check(pages, result);
                if (!audited.Entries.Any(e => e.Severity == Severity.Warning && Math.Abs(e.Line - made.Place) <= 1))
                    silent.Add(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{FalseRecovery.Faults[fault].Name}, {Path.GetFileName(truth.Root.Name)}, line {line + 1}: '{truth.Root.Text[line].Text}' became '{result.Source[Math.Min(made.Place, result.Source.LineCount - 1)].Text}'"
                        )
                    );
                Assert.All(audited.Entries, e => Assert.NotNull(DoubtMark.Find(audited.Source[e.Line].Text)));
            }
        );
        Assert.True(wrong > 1000, $"{wrong} wrong programs");
        Assert.True(silent.Count == 0, $"{silent.Count} of {wrong}\n{string.Join("\n", silent.Distinct().Take(60))}");
    }

    [Theory]
    [InlineData("        movlw   3       ; the red lamp        goto    start")]
    [InlineData("; the door is watched from here        bsf     6,1")]
    [InlineData(";                                      bsf     6,1")]
    public void Code_after_a_gap_in_a_comment_is_marked(string row) =>
        // The repairs may have marked it already: the auditor adds nothing to a line in doubt.
        Assert.Contains(CodesOf(row), static c => c == DocumentCodes.CodeInComment || c == Catalogue.OpenDoubt.Code);

    [Theory]
    [InlineData("        movlw   3       ; the red lamp, then call it a day")]
    [InlineData(";       movlw   3       ; switched off")]
    [InlineData(";old    movlw   3       ; switched off")]
    [InlineData("; bit 3     set: the lamp is on")]
    public void Comments_of_the_author_are_not_marked(string row) =>
        Assert.DoesNotContain(DocumentCodes.CodeInComment, CodesOf(row));

    [Fact]
    public void Number_that_starts_with_a_digit_read_for_other_signs_is_marked()
    {
        RecoveryResult result = PasteRecovery.Run(
            AsmLsp.Core.Text.SourceText.From(
                """
                        list    p=16f84a
                        __config 0x3ff1
                turns   equ     74
                        org     0
                start   movlw   turns     7the turns of the wheel
                        movwf   6         7shown at the door
                        movlw   0x12      7nothing is left
                        movwf   5         7lamps of the yard
                        goto    start     7once more
                        end
                """
            )
        );
        int line = Enumerable
            .Range(0, result.Source.LineCount)
            .First(i => result.Source[i].Text.StartsWith("turns", StringComparison.Ordinal));
        Assert.Contains(result.Entries, e => e.Line == line && e.Severity == Severity.Warning);
    }

    [Fact]
    public void Word_beside_the_text_that_nothing_uses_is_no_sure_label() =>
        Assert.Contains(
            PrintedPages
                .Recover(
                    "        list    p=16f84a\n        __config 0x3ff1\n        org     0\nstart   bsf     3,5\n        clrf    6\n        bcf     3,5\n|The lamp is on from here until somebody comes and switches it off.\nOutlook\n        movlw   1\n        movwf   6\n        goto    start\n        end"
                )
                .Entries,
            static e => e.Severity == Severity.Warning && e.Line == 6
        );

    private static IEnumerable<string> CodesOf(string row) =>
        PrintedPages
            .Recover(
                $"        list    p=16f84a\n        __config 0x3ff1\n        org     0\nstart   bsf     3,5\n        clrf    6\n        bcf     3,5\n{row}\n        movwf   6\n        goto    start\n        end"
            )
            .Entries.Select(static e => e.Code);

    private static bool IsSame(ProgramAnalysis a, ProgramAnalysis b) =>
        a
            .Image.Words.Select(static w => (w.Address, w.Word))
            .SequenceEqual(b.Image.Words.Select(static w => (w.Address, w.Word)));
}
