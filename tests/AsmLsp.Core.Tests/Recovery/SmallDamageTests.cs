using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Document;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>
/// One to three small damages anywhere in a program: whatever comes of them, a person who settles what is told has the true program.
/// </summary>
public class SmallDamageTests
{
    private static readonly ProgramAnalysis[] Programs = FixturePrograms.Assembled();

    private static readonly Gen<(int Kind, int Place, int Way)[]> Slips =
        Gen.Select(Gen.Int[0, SmallDamage.All.Count - 1], Gen.Int[0, 9999], Gen.Int[0, 999], static (kind, place, way) => (kind, place, way)).Array[1, 3];

    [Fact]
    public void What_is_told_of_a_paste_is_enough_to_have_the_true_program() =>
        Gen.Select(Gen.Int[0, Programs.Length - 1], Slips, Gen.Bool).Sample(
            static (program, slips, flush) =>
            {
                string[] lines = Damaged(Programs[program], slips);
                if (flush) lines = [.. lines.Select(static l => l.TrimStart())];
                AssertTold(Programs[program], lines, TextRecovery.Run(SourceText.From(string.Join("\n", lines)), Options));
            }, iter: 700);

    [Fact]
    public void What_is_told_of_printed_pages_is_enough_to_have_the_true_program() =>
        Gen.Select(Gen.Int[0, Programs.Length - 1], Slips).Sample(
            static (program, slips) =>
            {
                string[] lines = Damaged(Programs[program], slips);
                string[] pages = [.. lines.Chunk(50).Select(static p => string.Join("\n", p))];
                AssertTold(Programs[program], lines, DocumentRecovery.Run(PrintedPages.Of(pages), new DocumentRecoveryOptions { Text = Options }));
            }, iter: 300);

    private static RecoveryOptions Options => new() { Name = Path.Combine(FixturePrograms.Folder, "recovered.asm"), Includes = new FixturePrograms.Beside() };

    // From the end to the start, so that each place is the line that it was.
    private static string[] Damaged(ProgramAnalysis program, (int Kind, int Place, int Way)[] slips)
    {
        string[] lines = [.. program.Root.Text.Lines.Select(static l => l.Text)];
        int count = lines.Length;
        foreach ((int kind, int place, int way) in slips.DistinctBy(s => s.Place % count).OrderByDescending(s => s.Place % count))
            lines = SmallDamage.All[kind].Do(lines, program, place % count, way) ?? lines;
        return lines;
    }

    private static void AssertTold(ProgramAnalysis truth, string[] lines, RecoveryResult result)
    {
        List<string> left = Settled.Left(truth, result, new FixturePrograms.Beside());
        Assert.True(left.Count == 0, $"{truth.Root.Name}\n{string.Join("\n", left)}\n--- damaged\n{string.Join("\n", lines)}\n--- recovered\n{result.Source}\n{string.Join("\n", result.Entries.Select(static e => $"{e.Line + 1} {e.Severity} {e.Code} {e.Message}"))}");
    }
}
