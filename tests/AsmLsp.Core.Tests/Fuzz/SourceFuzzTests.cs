using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Fuzz;

/// <summary>
/// Random sources against rules that know nothing of the code: the words that the writer of the program worked out itself, and what has to
/// hold for any text. RELIST_DRAWS makes it longer, RELIST_DRAWS_FROM draws others (DEVELOPERS.md).
/// </summary>
public class SourceFuzzTests
{
    [Fact]
    public void A_random_program_gives_the_words_that_its_writer_worked_out() =>
        Draws.Of(
            Gen.Int[0, int.MaxValue - 1],
            300,
            seed =>
            {
                ProgramWriter written = new ProgramWriter(new Random(seed)).Write(2 + seed % 30);
                ProgramAnalysis program = Check(written.Text);
                Problem? error = program.Problems.FirstOrDefault(p => p.Severity == Severity.Error);
                Assert.True(error is null, $"{error?.Place} {error?.Message}\n{written.Text}");
                Assert.Equal(
                    written.Words.OrderBy(w => w.Key),
                    program.Image.Words.Select(w => KeyValuePair.Create(w.Address, (int)w.Word))
                );
            }
        );

    [Fact]
    public void A_define_that_leads_nowhere_in_a_random_program_is_an_error() =>
        Draws.Of(
            Gen.Int[0, int.MaxValue - 1],
            200,
            seed =>
            {
                var random = new Random(seed);
                string[] lines = new ProgramWriter(random).Write(2 + seed % 20).Text.Split('\n');
                (string define, string use)[] hostile =
                [
                    ("#define bad bad", "bad"),
                    ("#define bad bad+1", "bad"),
                    ("#define bad worse\n#define worse bad", "worse"),
                    ("#define bad =", "#v(bad)"),
                    ("#define bad", "#v(bad)"),
                    ("#define bad 1,2", "#v(bad)"),
                    ("#define bad bad,bad", "#v(bad)"),
                    ("#define bad(x) bad(x)", "bad(1)"),
                ];
                (string hostileDefine, string name) = hostile[random.Next(hostile.Length)];
                string[] uses =
                [
                    " movlw {0}",
                    " dw {0}",
                    " dt {0}",
                    " addwf {0},f",
                    " goto {0}",
                    " if {0}\n endif",
                    " org {0}",
                    "n_x equ {0}\n retlw n_x",
                ];
                string use = uses[random.Next(uses.Length)].Replace("{0}", name, StringComparison.Ordinal);
                ProgramAnalysis program = Check($"{hostileDefine}\n{use}\n{string.Join('\n', lines)}");
                Assert.True(program.HasErrors, use);
            }
        );

    [Fact]
    public void Tidied_or_laid_out_twice_is_once_and_gives_the_same_words() =>
        Draws.Of(
            Gen.Int[0, int.MaxValue - 1],
            200,
            seed =>
            {
                string text = RandomText.Of(seed);
                ProgramAnalysis before = Check(text);
                string once = Tidy.Run(before, before.Root).NewText.ToString();
                ProgramAnalysis tidied = Check(once);
                Assert.Equal(once, Tidy.Run(tidied, tidied.Root).NewText.ToString());
                if (!before.HasErrors)
                    Assert.Equal(before.Image.Memory, tidied.Image.Memory);

                string laid = Laid(before);
                ProgramAnalysis after = Check(laid);
                Assert.Equal(laid, Laid(after));
                Assert.Equal(before.Image.Memory, after.Image.Memory);
            }
        );

    [Fact]
    public void Any_text_is_explained_checked_fixed_and_recovered_without_a_fault() =>
        Draws.Of(
            Gen.Int[0, int.MaxValue - 1],
            30,
            seed =>
            {
                string text = RandomText.Of(seed);
                ProgramAnalysis program = Check(text);
                ImmutableArray<Problem> problems = ProgramProblems.All(program, program.Root);
                foreach (Problem problem in problems)
                {
                    string line = problem.Place.File.Text[problem.Place.Line].Text;
                    Assert.InRange(problem.Place.Columns.Start, 0, line.Length);
                    Assert.InRange(problem.Place.Columns.End, problem.Place.Columns.Start, line.Length);
                    foreach (Fix fix in FixFinder.For(program, problem))
                        Assert.All(fix.Edits, edit => Assert.InRange(edit.Span.End, 0, fix.File.Text.Length));
                }

                for (int i = 0; i < program.Root.Text.LineCount; i++)
                {
                    Explainer.Line(program, program.Root, i);
                    for (int column = 0; column <= program.Root.Text[i].Text.Length; column++)
                        if (Explainer.At(program, program.Root, i, column) is { } explanation)
                            Assert.InRange(column, explanation.Span.Start, explanation.Span.End);
                }

                Assert.NotNull(program.References);
                TextRecovery.Run(program.Root.Text);
                PasteRecovery.Run(program.Root.Text);
                // Line ends say nothing about words.
                ProgramAnalysis other = Check(string.Concat(program.Root.Text.Lines.Select(l => l.Text + "\n")));
                Assert.Equal(program.Image.Memory, other.Image.Memory);
            }
        );

    private static ProgramAnalysis Check(string text) =>
        Assembler.Assemble(new SourceFile("test.asm", SourceText.From(text)));

    private static string Laid(ProgramAnalysis program) =>
        EditMap.Apply(program.Root.Text, Formatter.Format(program, program.Root)).ToString();
}
