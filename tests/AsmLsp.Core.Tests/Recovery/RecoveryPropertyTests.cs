using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Recovery;

public class RecoveryPropertyTests
{
    private const int Samples = 40;

    [Fact]
    public void Program_without_its_blanks_or_indented_gives_the_same_words() =>
        Draws.Of(
            Gen.Select(PrintedProgram.Lines, PrintedProgram.Damage),
            Samples,
            drawn =>
            {
                var (lines, damage) = drawn;
                RecoveryResult result = Recover(damage.Do(lines));
                Assert.True(
                    Words(Assemble(lines)) == Words(result.Program),
                    string.Join("\n", lines) + "\n\n" + result.Source + "\n" + Report(result)
                );
            }
        );

    [Fact]
    public void Program_with_pages_gives_the_same_words() =>
        Draws.Of(
            Gen.Select(
                PrintedProgram.Lines,
                PrintedProgram.Damage,
                Gen.Int[20, 36],
                PrintedProgram.OneOf(null, "Signal", "Railway signal  J. Doe 12", "Listing of the signal box")
            ),
            Samples,
            drawn =>
            {
                var (lines, damage, height, head) = drawn;
                RecoveryResult result = Recover(damage.Do(PrintedProgram.Paginate(lines, height, head)));
                AssertSameOrDoubtful(lines, result);
                if (head is null or "Signal")
                    Assert.Equal(Words(Assemble(lines)), Words(result.Program));
            }
        );

    [Fact]
    public void Program_with_wrapped_comments_gives_the_same_words_or_doubts() =>
        Draws.Of(
            Gen.Select(PrintedProgram.Lines, PrintedProgram.Damage, Gen.Int[44, 80], PrintedProgram.OneOf(0, 8, 34)),
            Samples,
            drawn =>
            {
                var (lines, damage, width, column) = drawn;
                AssertSameOrDoubtful(lines, Recover(damage.Do(PrintedProgram.Wrap(lines, width, column))));
            }
        );

    [Fact]
    public void Program_that_is_wrapped_and_paged_gives_the_same_words_or_doubts() =>
        Draws.Of(
            Gen.Select(PrintedProgram.Lines, PrintedProgram.Damage, Gen.Int[44, 80], Gen.Int[20, 36]),
            Samples,
            drawn =>
            {
                var (lines, damage, width, height) = drawn;
                AssertSameOrDoubtful(
                    lines,
                    Recover(
                        damage.Do(PrintedProgram.Paginate(PrintedProgram.Wrap(lines, width, 0), height, "Signal box 1"))
                    )
                );
            }
        );

    [Fact]
    public void Every_mark_has_a_doubt_beside_it_and_an_entry_in_the_report() =>
        Draws.Of(
            Gen.Select(PrintedProgram.Lines, PrintedProgram.Damage, Gen.Int[44, 80]),
            Samples,
            drawn =>
            {
                var (lines, damage, width) = drawn;
                RecoveryResult result = Recover(
                    damage.Do(PrintedProgram.Paginate(PrintedProgram.Wrap(lines, width, 0), 40, "Signal box"))
                );
                int[] marked =
                [
                    .. Enumerable.Range(0, result.Source.LineCount).Where(i => DoubtMark.IsOn(result.Source[i].Text)),
                ];
                Assert.Equal(result.Doubts.Lines, marked);
                HashSet<int> reported =
                [
                    .. result.Entries.Where(static e => e.Severity != Severity.Information).Select(static e => e.Line),
                ];
                Assert.All(marked, line => Assert.Contains(line, reported));
                Assert.All(
                    marked,
                    line =>
                        Assert.Equal(
                            Doubt.Merge(result.Doubts.At(line)).ToString(),
                            DoubtMark.WordsOf(result.Source[line].Text)
                        )
                );
            }
        );

    [Fact]
    public void Nothing_is_dropped() =>
        Draws.Of(
            Gen.Select(PrintedProgram.Lines, PrintedProgram.Damage, Gen.Int[44, 80]),
            Samples,
            drawn =>
            {
                var (lines, damage, width) = drawn;
                string[] damaged = damage.Do(
                    PrintedProgram.Paginate(PrintedProgram.Wrap(lines, width, 0), 40, "Signal box")
                );
                // A word that a guess replaced is in the mark of the doubt.
                SourceText source = Recover(damaged).Source;
                string written = Squeeze(source.ToString());
                string doubts = string.Join(" ", source.Lines.Select(l => DoubtMark.WordsOf(l.Text)));
                foreach (string line in damaged)
                    Assert.True(
                        written.Contains(Squeeze(line), StringComparison.Ordinal)
                            || line.Split(' ')
                                .All(w =>
                                    written.Contains(Squeeze(w), StringComparison.Ordinal)
                                    || doubts.Contains(w, StringComparison.Ordinal)
                                ),
                        line
                    );
            }
        );

    // Every line that makes words and carries no doubt is so in the original; every line of the original that made
    // words is still there, in the program or after a doubt.
    private static void AssertSameOrDoubtful(string[] original, RecoveryResult result)
    {
        ProgramAnalysis wanted = Assemble(original);
        if (Words(wanted) == Words(result.Program))
            return;
        var doubtful = result.Entries.Where(e => e.Severity != Severity.Information).Select(e => e.Line).ToHashSet();
        var left = new Dictionary<string, int>();
        foreach (string code in CodeLines(wanted, _ => true))
            left[code] = left.GetValueOrDefault(code) + 1;
        string text = result.Source.ToString();
        foreach (string code in CodeLines(result.Program, line => !doubtful.Contains(line)))
        {
            Assert.True(
                left.GetValueOrDefault(code) > 0,
                $"'{code}' became an instruction without a doubt:\n{text}\n{Report(result)}"
            );
            left[code]--;
        }

        string uncertain = string.Join("\n", doubtful.Select(l => Squeeze(result.Source[l].Text)));
        foreach ((string code, int count) in left)
            Assert.True(
                count == 0
                    || uncertain.Contains(code, StringComparison.Ordinal)
                    || result.Program.HasErrors
                    || doubtful.Any(l => LineShapeEnds(result, l)),
                $"'{code}' was lost without a doubt:\n{text}\n{Report(result)}"
            );
    }

    // After a doubtful 'end' nothing is read, which the doubt says.
    private static bool LineShapeEnds(RecoveryResult result, int line) =>
        string.Equals(LineSyntax.Of(result.Source[line]).Operation, "end", StringComparison.OrdinalIgnoreCase);

    private static IEnumerable<string> CodeLines(ProgramAnalysis program, Func<int, bool> wanted)
    {
        for (int i = 0; i < program.Root.Text.LineCount; i++)
        {
            if (program.FactsOf(program.Root, i).Words == 0 || !wanted(i))
                continue;
            LineSyntax syntax = LineSyntax.Of(program.Root.Text[i]);
            yield return Squeeze(syntax.Text.Substring(syntax.CodeSpan.Start, syntax.CodeSpan.Length));
        }
    }

    private static string Squeeze(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c) && c != ';'));

    private static string Report(RecoveryResult result) =>
        string.Join("\n", result.Entries.Select(e => $"{e.Line + 1} {e.Severity} {e.Code} {e.Message}"));

    private static RecoveryResult Recover(string[] lines) =>
        TextRecovery.Run(SourceText.From(string.Join("\n", lines)));

    private static ProgramAnalysis Assemble(string[] lines)
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("original.asm", SourceText.From(string.Join("\n", lines)))
        );
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => $"{p.Place} {p.Message}")));
        return program;
    }

    private static string Words(ProgramAnalysis program) =>
        string.Join(" ", program.Image.Words.Select(w => $"{w.Address:X}:{w.Word:X4}"));
}
