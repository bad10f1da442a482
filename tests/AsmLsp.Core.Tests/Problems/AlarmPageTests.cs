using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Problems;

/// <summary>
/// docs/alarms.md lists every warning and note of every program of tests/fixtures with the reason why it is right. A new one has to be
/// explained in alarms.txt beside this test, or it is a false alarm.
/// </summary>
public class AlarmPageTests
{
    private static readonly string Page = Path.Combine(FixturePrograms.Root, "docs", "alarms.md");
    private static readonly string Reasons = Path.Combine(
        FixturePrograms.Root,
        "tests",
        "AsmLsp.Core.Tests",
        "Problems",
        "alarms.txt"
    );

    [Fact]
    public void Every_alarm_of_every_program_is_explained_and_listed()
    {
        Dictionary<string, string> reasons = File.ReadLines(Reasons)
            .Where(static l => l.Contains(": ", StringComparison.Ordinal))
            .ToDictionary(
                static l => l[..l.IndexOf(": ", StringComparison.Ordinal)],
                static l => l[(l.IndexOf(": ", StringComparison.Ordinal) + 2)..]
            );
        var used = new HashSet<string>(StringComparer.Ordinal);
        var missing = new List<string>();
        string page = PageOf(reasons, used, missing);
        Assert.Equal([], missing);
        Assert.Equal([], reasons.Keys.Except(used));
        if (Environment.GetEnvironmentVariable("RELIST_UPDATE_DOCS") == "1")
            File.WriteAllText(Page, page);
        Assert.True(
            File.Exists(Page) && File.ReadAllText(Page) == page,
            "docs/alarms.md is stale: run the tests with RELIST_UPDATE_DOCS=1."
        );
    }

    private static string PageOf(Dictionary<string, string> reasons, HashSet<string> used, List<string> missing)
    {
        var rows = new StringBuilder();
        int programs = 0,
            alarmed = 0,
            warnings = 0,
            notes = 0;
        foreach (string path in Programs())
        {
            programs++;
            ProgramAnalysis program = Assembler.Assemble(FixturePrograms.Read(path), new FixturePrograms.Beside());
            Problem[] found = [.. program.Files.SelectMany(f => ProgramProblems.All(program, f))];
            if (found.Length == 0)
                continue;
            alarmed++;
            string name = Path.GetFileNameWithoutExtension(path);
            rows.Append(
                CultureInfo.InvariantCulture,
                $"\n## {name}\n\n| line | code | alarm | why it is right |\n|---|---|---|---|\n"
            );
            foreach (Problem problem in found)
            {
                Assert.NotEqual(Severity.Error, problem.Severity);
                string key = $"{name} {problem.Code}";
                used.Add(key);
                if (
                    !reasons.TryGetValue(key, out string? reason)
                    && !reasons.TryGetValue(key = "any " + problem.Code, out reason)
                )
                    missing.Add($"{name} {problem.Code}: line {problem.Place.Line + 1}: {problem.Message}");
                used.Add(key);
                _ = problem.Severity == Severity.Warning ? warnings++ : notes++;
                rows.Append(
                    CultureInfo.InvariantCulture,
                    $"| {problem.Place.Line + 1} | [{problem.Code}](problems/{problem.Code}.md){(problem.Severity == Severity.Warning ? "" : " (note)")} | {Cell(problem.Message)} | {Cell(reason ?? "")} |\n"
                );
            }
        }

        return string.Create(
                CultureInfo.InvariantCulture,
                $"# Alarms on the fixture programs\n\nA test writes this page (`RELIST_UPDATE_DOCS=1`). It lists every warning and note that `relist check` gives for the programs of `tests/fixtures`, each with the reason why it is right; an alarm without a reason fails the test. {programs} programs, {programs - alarmed} without any alarm, {warnings} warnings, {notes} notes.\n"
            ) + rows;
    }

    private static IEnumerable<string> Programs() =>
        FixturePrograms
            .Names.Select(static n => Path.Combine(FixturePrograms.Folder, n + ".asm"))
            .Concat(
                Directory
                    .GetFiles(Path.Combine(FixturePrograms.Root, "tests", "fixtures", "published"), "*.asm")
                    .Order(StringComparer.Ordinal)
            )
            .Append(Path.Combine(FixturePrograms.Root, "docs", "demo", "crossing.asm"));

    private static string Cell(string text) => VisibleText.Of(text).Replace("|", "\\|", StringComparison.Ordinal);
}
