using AsmLsp.Core.Assembly;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Calls are executed with random pins, without interrupts: each takes the cycles that were counted before, between the least and the most.</summary>
public class TimesHoldTests
{
    [Fact]
    public void A_call_of_a_random_program_takes_the_cycles_that_were_counted()
    {
        int checks = 0;
        for (int seed = 0; seed < 300; seed++)
        {
            var random = new Random(seed);
            string source = RandomPrograms.One(random);
            ProgramAnalysis program = Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));
            for (int run = 0; run < 3; run++)
                checks += Follow(program, random, 3000, $"seed {seed}\n{source}");
        }

        Assert.True(checks > 5000, $"{checks} calls were compared.");
    }

    [Fact]
    public void A_call_of_an_author_takes_the_cycles_that_were_counted()
    {
        int checks = 0;
        foreach (ProgramAnalysis program in FixturePrograms.Assembled())
            if (!program.HasErrors)
                for (int run = 0; run < 2; run++)
                    checks += Follow(program, new Random(run), 150_000, program.Root.ShortName);
        Assert.True(checks > 20_000, $"{checks} calls were compared.");
    }

    private static int Follow(ProgramAnalysis program, Random random, int most, string what)
    {
        FlowGraph graph = FlowGraph.Of(program);
        Processor chip = Processor.Of(program);
        chip.Peripherals = new RandomPins(random);
        var calls = new Stack<(int Site, long Began)>();
        int checks = 0;
        for (int step = 0; step < most; step++)
        {
            int at = chip.ProgramCounter;
            if (chip.Stack.HasOverflowed || chip.Stack.HasUnderflowed || graph.InstructionAt(at) is not { } decoded)
                return checks;
            DecodedStep here = graph.Walk.StepAt(at);
            // A write through FSR to a register of the core, and an index past its table, are taken not to happen.
            if (here.First == 0 && here.WrittenBits != 0 && chip.AddressOf(0) is 2 or 3 or 4 or 0x0A or 0x0B)
                return checks;
            if (decoded.Instruction.IsCall)
                calls.Push((at, chip.Cycles));
            chip.Step();
            if (chip.IsAsleep)
                return checks;
            if (decoded.Instruction.IsCall || decoded.Instruction.IsJump)
            {
                if (chip.ProgramCounter != graph.Walk.TargetOf(at))
                    return checks;
            }
            else if (FlowWalk.WritesProgramCounter(here))
            {
                if (
                    !graph.Walk.Tables.TryGetValue(at, out FlowWalk.Table? table)
                    || chip.ProgramCounter < table.First
                    || chip.ProgramCounter >= table.CertainEnd
                )
                    return checks;
            }
            else if (decoded.Instruction.IsReturn && calls.TryPop(out (int Site, long Began) call))
            {
                long took = chip.Cycles - call.Began;
                if (graph.Times.Call(call.Site) is not { } counted)
                    continue;
                checks++;
                Assert.True(
                    took >= counted.Least && took <= (counted.Most ?? long.MaxValue),
                    $"the call at {call.Site:X4} took {took}, counted {counted}: {what}"
                );
            }
        }

        return checks;
    }
}
