using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>
/// Programs are executed word by word, with pins and interrupts that are random; whatever the graph says of banks, IRP, PCLATH, W, FSR
/// and reach must hold before every step.
/// </summary>
public class PathsHoldTests
{
    private const int Gap = 16;

    [Fact]
    public void What_is_known_holds_whatever_path_a_random_program_takes()
    {
        int known = 0,
            steps = 0;
        for (int seed = 0; seed < 500; seed++)
        {
            var random = new Random(seed);
            string source = RandomPrograms.One(random);
            ProgramAnalysis program = Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));
            Assert.False(program.HasErrors, source + string.Join("\n", program.Problems.Select(p => p.Message)));
            for (int run = 0; run < 3; run++)
            {
                (int executed, int sure) = Follow(program, random, 1500, $"seed {seed}\n{source}");
                (steps, known) = (steps + executed, known + sure);
            }
        }

        // A graph that never knows anything would hold as well.
        Assert.True(steps > 250_000 && known > steps / 2, $"The bank was known at {known} of {steps} steps.");
    }

    [Fact]
    public void What_is_known_holds_whatever_path_a_program_of_an_author_takes()
    {
        int known = 0,
            steps = 0;
        foreach (ProgramAnalysis program in FixturePrograms.Assembled())
        {
            if (program.HasErrors)
                continue;
            for (int run = 0; run < 3; run++)
            {
                (int executed, int sure) = Follow(program, new Random(run), 20_000, program.Root.ShortName);
                (steps, known) = (steps + executed, known + sure);
            }
        }

        Assert.True(steps > 500_000 && known > steps * 0.8, $"The bank was known at {known} of {steps} steps.");
    }

    private static (int Steps, int Known) Follow(ProgramAnalysis program, Random random, int most, string what)
    {
        FlowGraph graph = FlowGraph.Of(program);
        FlowWalk walk = graph.Walk;
        Processor chip = Processor.Of(program);
        chip.Peripherals = new RandomPins(random);
        chip.W = random.Next(256);
        chip.Poke(4, random.Next(256));
        var trail = new Queue<int>();
        int known = 0,
            gap = 0,
            banks = program.Device?.DataMemory.BankCount ?? 4;
        for (int step = 0; step < most; step++)
        {
            int at = chip.ProgramCounter;
            trail.Enqueue(at);
            if (trail.Count > 12)
                trail.Dequeue();
            // Stack errors and words that nobody placed are reported elsewhere; after them nothing is claimed.
            if (chip.Stack.HasOverflowed || chip.Stack.HasUnderflowed || gap > Gap)
                return (step, known);
            if (!walk.Has(at))
            {
                gap++;
                chip.Step();
                continue;
            }

            if (gap > 0 && at == walk.InterruptVector)
                return (step, known);
            gap = 0;
            FlowState state = graph.StateAt(at);
            if (graph.ReachOf(at) == Reach.None || !state.IsReached || !state.Covers(chip))
                Assert.Fail(
                    $"after {string.Join(' ', trail.Select(a => $"{a:X4}"))}, STATUS {chip.Status:X2}, PCLATH {chip.Latch:X2}, W {chip.W:X2}, FSR {chip.Peek(4):X2}: {what}"
                );
            if (state.Bank(banks) is not null)
                known++;
            if (walk.InterruptVector >= 0 && (chip.Peek(0x0B) & 0x80) != 0 && random.Next(12) == 0)
            {
                chip.Interrupt();
                continue;
            }

            if (walk.Decode(at) is not { } decoded)
                return (step, known);
            bool writesIndirect = decoded.First == 0 && walk.StepAt(at).WrittenBits != 0;
            if (writesIndirect && chip.AddressOf(0) is 2 or 3 or 4 or 0x0A or 0x0B)
                return (step, known);
            int before = chip.ProgramCounter;
            Assert.NotEqual(StepResult.NotAnInstruction, chip.Step());
            chip.Wake();
            if (decoded.Instruction.IsCall || decoded.Instruction.IsJump)
            {
                if (walk.TargetOf(at) != chip.ProgramCounter && walk.TargetOf(at) != FlowWalk.None)
                {
                    // The source names another page than PCLATH: the graph follows the source, and must not take the page for right.
                    int mask = (walk.Limit - 1) >> 8 & 0x18;
                    Assert.NotEqual((walk.TargetOf(at) >> 8) & mask, state.LatchValue(mask) ?? -1);
                    return (step, known);
                }
            }
            else if (FlowWalk.WritesProgramCounter(walk.StepAt(at)))
            {
                // An index past the end of its table goes where the author did not mean to go.
                if (
                    walk.Tables.TryGetValue(before, out FlowWalk.Table? table)
                    && (chip.ProgramCounter < table.First || chip.ProgramCounter >= table.End)
                )
                    return (step, known);
                if (table is null && !walk.WildTargets().Contains(chip.ProgramCounter))
                    return (step, known);
            }
        }

        return (most, known);
    }
}
