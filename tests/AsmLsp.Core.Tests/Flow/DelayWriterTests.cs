using AsmLsp.Core.Assembly;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Tests.Assembly;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Delays are executed step by step; cycles of the instructions: data sheet DS35007B, table 7-2.</summary>
public class DelayWriterTests
{
    [Fact]
    public void Every_short_delay_takes_its_cycles_when_it_is_executed()
    {
        for (long cycles = 1; cycles <= 3000; cycles++)
            Assert.Equal(cycles, Execute(DelayWriter.Write(cycles)!));
    }

    [Theory]
    [InlineData(10_000), InlineData(65_535), InlineData(65_536), InlineData(197_123), InlineData(197_124)]
    [InlineData(250_000), InlineData(262_143), InlineData(500_001), InlineData(999_999), InlineData(1_000_000)]
    [InlineData(5_000_000), InlineData(10_000_003), InlineData(50_463_237), InlineData(50_463_240)]
    public void A_long_delay_takes_its_cycles_when_it_is_executed(long cycles) =>
        Assert.Equal(cycles, Execute(DelayWriter.Write(cycles)!));

    // An hour at 4 MHz, and more: the laps are multiplied, which is what the writer itself checks.
    [Theory]
    [InlineData(60_000_000), InlineData(300_000_000), InlineData(3_600_000_000), InlineData(12_345_678_901)]
    public void A_delay_of_minutes_is_written(long cycles)
    {
        Delay delay = DelayWriter.Write(cycles)!;
        Assert.Equal(cycles, delay.Cycles);
        Assert.InRange(delay.Words, 10, 20);
    }

    [Fact]
    public void Random_lengths_take_their_cycles() =>
        Draws.Of(
            CsCheck.Gen.Int[1, 2_000_000],
            60,
            static cycles => Assert.Equal(cycles, Execute(DelayWriter.Write(cycles)!))
        );

    // By hand: one cycle a word, two by a jump to the next word; 3 n + 1 cycles for one counter, 4 n for W; 768 where the counter is cleared only.
    [Theory]
    [InlineData(1, 1), InlineData(2, 1), InlineData(3, 2), InlineData(4, 2), InlineData(5, 3), InlineData(8, 4)]
    [InlineData(10, 4), InlineData(12, 4), InlineData(16, 4), InlineData(17, 5), InlineData(100, 4), InlineData(768, 3)]
    [InlineData(769, 4), InlineData(1000, 4), InlineData(1024, 4), InlineData(1280, 4)]
    public void A_delay_takes_the_fewest_words(long cycles, int words) =>
        Assert.Equal(words, DelayWriter.Write(cycles)!.Words);

    [Fact]
    public void Counters_have_the_names_that_are_given_and_what_changes_is_said()
    {
        Delay delay = DelayWriter.Write(100_000, ["inner", "outer"])!;
        Assert.Equal(["inner", "outer"], delay.Counters.ToArray());
        Assert.True(delay.ChangesW);
        Assert.Contains(delay.Lines, l => l is { Operation: "decfsz", Operands: "outer,f" });
        Delay single = DelayWriter.Write(2)!;
        Assert.Equal([new DelayLine("goto", "$+1")], single.Lines.ToArray());
        Assert.False(single.ChangesW || single.ChangesFlags);
    }

    [Fact]
    public void What_is_too_short_or_too_long_is_not_written()
    {
        Assert.Null(DelayWriter.Write(0));
        Assert.Null(DelayWriter.Write(DelayWriter.Longest + 1));
        Assert.NotNull(DelayWriter.Write(DelayWriter.Longest));
    }

    private static long Execute(Delay delay)
    {
        string lines = string.Concat(delay.Lines.Select(l => $" {l.Operation} {l.Operands}\n"));
        ProgramAnalysis program = Check.Assemble(
            $"STATUS equ 3\ncount1 equ 0x20\ncount2 equ 0x21\ncount3 equ 0x22\ncount4 equ 0x23\n org 0\n{lines} goto $\n end\n"
        );
        Assert.False(program.HasErrors);
        Processor chip = Processor.Of(program);
        while (chip.ProgramCounter != delay.Words)
            chip.Step();
        return chip.Cycles;
    }
}
