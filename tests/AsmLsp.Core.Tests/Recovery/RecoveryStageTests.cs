using AsmLsp.Core.Recovery;

namespace AsmLsp.Core.Tests.Recovery;

public class RecoveryStageTests
{
    [Fact]
    public void Stages_run_in_the_order_in_which_the_page_of_the_house_names_them()
    {
        string page = File.ReadAllText(Path.Combine(FixturePrograms.Root, "docs", "architecture.md"));
        string part = page[page.IndexOf("## From a PDF to a doubt", StringComparison.Ordinal)..];
        Assert.Equal(
            RecoveryStage.All.Select(static s => s.Name),
            part.Split('\n')
                .Where(static l => l.StartsWith("| **", StringComparison.Ordinal))
                .Select(static l => l.Split("**")[1])
        );
    }

    [Fact]
    public void Every_file_that_the_page_of_the_house_names_is_there()
    {
        string[] files =
        [
            .. Directory
                .GetFiles(Path.Combine(FixturePrograms.Root, "src"), "*.cs", SearchOption.AllDirectories)
                .Select(static f => Path.GetFileNameWithoutExtension(f)!),
        ];
        string page = File.ReadAllText(Path.Combine(FixturePrograms.Root, "docs", "architecture.md"));
        string part = page[page.IndexOf("## From a PDF to a doubt", StringComparison.Ordinal)..];
        part = part[..part.IndexOf("\n## ", 4, StringComparison.Ordinal)];
        string[] named = [.. part.Split('`').Where(static (_, i) => i % 2 == 1)];
        Assert.NotEmpty(named);
        Assert.All(named, name => Assert.Contains(name.Split('/')[^1], files));
    }

    [Fact]
    public void The_auditor_is_the_last_to_find_anything_and_the_marks_are_written_after_it()
    {
        Assert.Equal(["audit", "write the marks"], RecoveryStage.All.TakeLast(2).Select(static s => s.Name));
        Assert.Equal(RecoveryStage.All.Length, RecoveryStage.All.Select(static s => s.Name).Distinct().Count());
    }
}
