using AsmLsp.Core.Refactorings;

namespace AsmLsp.Core.Tests.Refactorings;

public class RefactoringListTests
{
    [Fact]
    public void Every_refactoring_is_in_the_list_once() =>
        Assert.Equal(
            typeof(RefactoringProvider)
                .Assembly.GetTypes()
                .Where(t => t.IsSubclassOf(typeof(RefactoringProvider)) && !t.IsAbstract)
                .Select(t => t.Name)
                .Order(),
            RefactoringList.All.Select(p => p.GetType().Name).Order()
        );

    [Fact]
    public void Names_are_different_and_fit_for_keys()
    {
        Assert.Equal(RefactoringList.All.Length, RefactoringList.All.Select(p => p.Name).Distinct().Count());
        Assert.All(RefactoringList.All, p => Assert.Matches("^[a-z-]+$", p.Name));
    }

    [Fact]
    public void Every_refactoring_stands_in_the_table_of_docs_editors()
    {
        string page = File.ReadAllText(Path.Combine(FixturePrograms.Root, "docs", "editors.md"));
        Assert.All(RefactoringList.All, p => Assert.Contains($"| `{p.Name}` |", page, StringComparison.Ordinal));
    }
}
