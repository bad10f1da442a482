using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Traps;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Tests.Flow.Traps;

/// <summary>Words that nobody wrote as a program: self-made tangles, data that is run, calls into nothing.</summary>
public class RandomProgramTests
{
    private static readonly string[] Chips = ["16f84a", "16f628a", "12f675", "16f877a", "16f887", "10f322"];

    [Theory]
    [InlineData(0, 0x3FFF)]
    [InlineData(1, 0x3FFF)]
    // Instructions with registers alone.
    [InlineData(2, 0x1FFF)]
    public void Random_words_are_judged_without_a_fault_and_at_places_that_exist(int seed, int mask)
    {
        int judged = 0;
        foreach (string chip in Chips)
            for (int i = 0; i < 8; i++)
            {
                var random = new Random(seed * 1000 + i);
                var text = new StringBuilder($" list p={chip}\n org 0\n");
                for (int word = 0; word < 200; word++)
                    text.Append(CultureInfo.InvariantCulture, $" dw 0x{random.Next(0x4000) & mask:X4}\n");
                text.Append(" end\n");
                ProgramAnalysis program = Tests.Assembly.Check.Assemble(text.ToString());
                Assert.False(program.HasErrors);
                foreach (Problem problem in TrapProblems.Find(program))
                {
                    judged++;
                    Assert.InRange(problem.Place.Line, 0, program.Root.Text.LineCount - 1);
                    Assert.DoesNotContain("-1", problem.Message, StringComparison.Ordinal);
                }
            }

        Assert.NotEqual(0, judged);
    }

    [Fact]
    public void A_whole_memory_of_calls_and_jumps_is_judged()
    {
        var random = new Random(5);
        var text = new StringBuilder(" list p=16f877a\n __config 0x3F76\n org 0\n");
        for (int word = 0; word < 8000; word++)
            text.Append(
                CultureInfo.InvariantCulture,
                $" dw 0x{(random.Next(2) == 0 ? 0x2000 : 0x2800) | random.Next(0x800):X4}\n"
            );
        text.Append(" clrwdt\n end\n");
        ProgramAnalysis program = Tests.Assembly.Check.Assemble(text.ToString());
        Assert.All(TrapProblems.Find(program), static p => Assert.NotEqual("", p.Message));
    }
}
