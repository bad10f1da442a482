using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>
/// One to three small damages anywhere in a program: whatever comes of them, a person who resolves what is reported has the true program.
/// </summary>
public class SmallDamageTests
{
    private static readonly ProgramAnalysis[] Programs = FixturePrograms.Assembled();

    private static readonly Gen<(int Kind, int Place, int Way)[]> Slips = Gen.Select(
        Gen.Int[0, SmallDamage.All.Count - 1],
        Gen.Int[0, 9999],
        Gen.Int[0, 999],
        static (kind, place, way) => (kind, place, way)
    ).Array[1, 3];

    [Fact]
    public void What_is_reported_of_a_paste_is_enough_to_have_the_true_program() =>
        Draws.Of(
            Gen.Select(Gen.Int[0, Programs.Length - 1], Slips, Gen.Bool),
            700,
            static drawn =>
            {
                var (program, slips, flush) = drawn;
                string[] lines = Damaged(Programs[program], slips);
                if (flush)
                    lines = [.. lines.Select(static l => l.TrimStart())];
                AssertReported(
                    Programs[program],
                    lines,
                    PasteRecovery.Run(
                        SourceText.From(string.Join("\n", lines)),
                        new DocumentRecoveryOptions { Text = Options }
                    )
                );
            }
        );

    [Fact]
    public void What_is_reported_of_printed_pages_is_enough_to_have_the_true_program() =>
        Draws.Of(
            Gen.Select(Gen.Int[0, Programs.Length - 1], Slips),
            300,
            static drawn =>
            {
                var (program, slips) = drawn;
                string[] lines = Damaged(Programs[program], slips);
                string[] pages = [.. lines.Chunk(50).Select(static p => string.Join("\n", p))];
                AssertReported(
                    Programs[program],
                    lines,
                    DocumentRecovery.Run(PrintedPages.Of(pages), new DocumentRecoveryOptions { Text = Options })
                );
            }
        );

    [Fact]
    public void With_words_printed_beside_the_lines_even_a_changed_digit_and_a_lost_line_are_reported() =>
        Gen.Select(Gen.Int[0, Programs.Length - 1], Gen.Int[0, 9999], Gen.Int[0, 3], Gen.Int[0, 9999])
            .Draw(
                static (program, place, kind, way) =>
                {
                    ProgramAnalysis truth = Programs[program];
                    string[] lines = Listed(truth);
                    // What is lost from the end of a piece of program is missed by no address after it.
                    int[] withWord =
                    [
                        .. Enumerable
                            .Range(0, lines.Length)
                            .Where(i =>
                                lines[i][0] != ' '
                                && truth.FactsOf(truth.Root, i) is var facts
                                && facts.Address < 0x2000
                                && truth.Image.TryGet(facts.Address + facts.Words, out _, out _)
                            ),
                    ];
                    int at = withWord[place % withWord.Length];
                    // Of a text or a call only the first word is printed.
                    if (kind > 1 && truth.FactsOf(truth.Root, at).Words > 1)
                        return;
                    LineSyntax syntax = LineSyntax.Of(truth.Root.Text[at]);
                    int column = syntax.CodeSpan.Start + way % syntax.CodeSpan.Length + Gutter;
                    const string Characters = "0123456789ABCDEFxlOZ,";
                    lines = kind switch
                    {
                        0 => [.. lines[..at], .. lines[(at + 1)..]],
                        1 => [.. lines[..at], lines[at], .. lines[at..]],
                        2 => [.. lines[..at], lines[at].Remove(column, 1), .. lines[(at + 1)..]],
                        _ =>
                        [
                            .. lines[..at],
                            lines[at].Remove(column, 1).Insert(column, Characters[way % Characters.Length].ToString()),
                            .. lines[(at + 1)..],
                        ],
                    };
                    string[] pages = [.. lines.Chunk(50).Select(static p => string.Join("\n", p))];
                    AssertReported(
                        truth,
                        lines,
                        DocumentRecovery.Run(PrintedPages.Of(pages), new DocumentRecoveryOptions { Text = Options })
                    );
                },
                iter: 400
            );

    private const int Gutter = 12;

    // Each line after the address and the value of its first word.
    private static string[] Listed(ProgramAnalysis program)
    {
        var result = new List<string>();
        for (int i = 0; i < program.Root.Text.LineCount; i++)
        {
            LineFacts facts = program.FactsOf(program.Root, i);
            bool has = program.Image.TryGet(facts.Address, out ushort word, out _) && facts.Words > 0;
            result.Add(
                (has ? $"{facts.Address:X4} {word:X4}   " : new string(' ', Gutter)) + program.Root.Text[i].Text
            );
        }

        return [.. result];
    }

    private static RecoveryOptions Options =>
        new() { Name = Path.Combine(FixturePrograms.Folder, "recovered.asm"), Includes = new FixturePrograms.Beside() };

    // From the end to the start, so that each place is the line that it was.
    private static string[] Damaged(ProgramAnalysis program, (int Kind, int Place, int Way)[] slips)
    {
        string[] lines = [.. program.Root.Text.Lines.Select(static l => l.Text)];
        int count = lines.Length;
        foreach (
            (int kind, int place, int way) in slips
                .DistinctBy(s => s.Place % count)
                .OrderByDescending(s => s.Place % count)
        )
            lines = SmallDamage.All[kind].Do(lines, program, place % count, way) ?? lines;
        return lines;
    }

    private static void AssertReported(ProgramAnalysis truth, string[] lines, RecoveryResult result)
    {
        List<string> left = Resolved.Left(truth, result, new FixturePrograms.Beside());
        Assert.True(
            left.Count == 0,
            $"{truth.Root.Name}\n{string.Join("\n", left)}\n--- damaged\n{string.Join("\n", lines)}\n--- recovered\n{result.Source}\n{string.Join("\n", result.Entries.Select(static e => $"{e.Line + 1} {e.Severity} {e.Code} {e.Message}"))}"
        );
    }
}
