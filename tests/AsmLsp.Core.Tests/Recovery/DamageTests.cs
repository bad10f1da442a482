using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>
/// Damages whole programs in every manner that print, scan and copy know, recovers them, and compares the words with those
/// of the undamaged source. A word that differs has to be reported where it differs; the counts are kept in docs/recovery.md.
/// </summary>
public class DamageTests
{
    private const string Start = "<!-- generated: damages. A test rewrites this with RELIST_UPDATE_DOCS=1. -->\n";
    private const string End = "<!-- end of generated -->";

    // Where the remarks are, the pages break and the letters are misread, in three rounds.
    private static readonly int[] Seeds = [0, 100, 771];

    [Fact]
    public void No_damage_leaves_a_wrong_word_without_a_doubt()
    {
        ProgramAnalysis[] programs = FixturePrograms.Assembled();
        Assert.All(programs, p => Assert.False(p.HasErrors));
        var table = new StringBuilder(
            "| what happened to the text | texts | same words | differences reported | silent |\n| --- | --: | --: | --: | --: |\n"
        );
        var silent = new List<string>();
        foreach (Damage damage in Damage.All)
        {
            int same = 0,
                shown = 0,
                unreported = 0;
            foreach (int seed in Seeds)
            {
                for (int i = 0; i < programs.Length; i++)
                {
                    string[] lines = [.. programs[i].Root.Text.Lines.Select(l => l.Text)];
                    lines = damage.Print is { } print ? print(lines, programs[i]) : damage.Do(lines, i + seed);
                    RecoveryResult result = Recover(damage, lines);
                    if (IsSame(programs[i], result.Program))
                        same++;
                    else if (ReportedDifferences.Silent(programs[i], result) is { Count: > 0 } found)
                    {
                        unreported++;
                        silent.Add(
                            $"{damage.Name}, {programs[i].Root.Name}:\n  {string.Join("\n  ", found)}\n{Shown(result)}"
                        );
                    }
                    else
                        shown++;
                }
            }

            table.Append(
                CultureInfo.InvariantCulture,
                $"| {damage.Name} | {programs.Length * Seeds.Length} | {same} | {shown} | {unreported} |\n"
            );
        }

        Assert.True(silent.Count == 0, table + string.Join("\n", silent));
        HoldPage(table.ToString());
    }

    private static void HoldPage(string table)
    {
        string page = Path.Combine(FixturePrograms.Root, "docs", "recovery.md");
        string text = File.ReadAllText(page);
        int from = text.IndexOf(Start, StringComparison.Ordinal) + Start.Length,
            to = text.IndexOf(End, StringComparison.Ordinal);
        string now = text[..from] + table + text[to..];
        if (Environment.GetEnvironmentVariable("RELIST_UPDATE_DOCS") == "1")
            File.WriteAllText(page, now);
        Assert.True(
            now == File.ReadAllText(page),
            "docs/recovery.md is stale: run the tests with RELIST_UPDATE_DOCS=1.\n" + table
        );
    }

    private static RecoveryResult Recover(Damage damage, string[] lines)
    {
        var options = new RecoveryOptions
        {
            Name = Path.Combine(FixturePrograms.Folder, "recovered.asm"),
            Includes = new FixturePrograms.Beside(),
        };
        if (!damage.IsPrinted)
            return PasteRecovery.Run(
                SourceText.From(string.Join("\n", lines)),
                new DocumentRecoveryOptions { Text = options }
            );
        string[] pages = [.. lines.Chunk(40).Select(p => string.Join("\n", p))];
        return DocumentRecovery.Run(PrintedPages.Of(pages), new DocumentRecoveryOptions { Text = options });
    }

    private static bool IsSame(ProgramAnalysis a, ProgramAnalysis b) =>
        a.Image.Words.Select(w => (w.Address, w.Word)).SequenceEqual(b.Image.Words.Select(w => (w.Address, w.Word)));

    private static string Shown(RecoveryResult result)
    {
        var text = new StringBuilder();
        for (int i = 0; i < result.Source.LineCount; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"    {i + 1, 3} {result.Source[i].Text}\n");
            foreach (RecoveryEntry entry in result.Entries.Where(e => e.Line == i))
                text.Append(
                    CultureInfo.InvariantCulture,
                    $"            ^ {entry.Severity} {entry.Code}: {entry.Message}\n"
                );
        }

        return text.ToString();
    }
}
