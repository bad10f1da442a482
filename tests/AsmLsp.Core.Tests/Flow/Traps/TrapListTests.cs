using AsmLsp.Core.Flow.Traps;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>The list of the checks.</summary>
public class TrapListTests
{
    [Fact]
    public void No_check_is_missing_from_the_list() =>
        Assert.Equal(
            typeof(TrapCheck)
                .Assembly.GetTypes()
                .Where(static t => t.IsSubclassOf(typeof(TrapCheck)))
                .Select(static t => t.Name)
                .Order(StringComparer.Ordinal),
            TrapProblems.Checks.Select(static c => c.GetType().Name).Order(StringComparer.Ordinal)
        );
}
