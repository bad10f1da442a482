using AsmLsp.Core.Assembly;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Tests.Assembly;

namespace AsmLsp.Core.Tests.Execution;

/// <summary>Processors for tests.</summary>
internal static class Chips
{
    /// <summary>A processor with the program of a few lines from address 0 on.</summary>
    public static Processor With(string lines, string chip = "16f628a")
    {
        ProgramAnalysis program = Check.Assemble($" list p={chip}\n include <p{chip}.inc>\n org 0\n{lines}\n end\n");
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return Processor.Of(program);
    }

    /// <summary>A processor of no particular chip with one instruction at address 0.</summary>
    public static Processor One(string name, int first, int second = 0) =>
        new(
            null,
            AsmLsp.Core.Hex.WordMemory.From([
                KeyValuePair.Create(0, (ushort)InstructionSet.Find(name)!.Encode(first, second)),
            ])
        );

    /// <summary>Executes a number of instructions.</summary>
    public static Processor Run(this Processor chip, int steps)
    {
        for (int i = 0; i < steps; i++)
            Assert.Equal(StepResult.Executed, chip.Step());
        return chip;
    }
}
