using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow;

/// <summary>A line of a delay.</summary>
/// <param name="Operation">The operation.</param>
/// <param name="Operands">Its operands; empty where it has none.</param>
public readonly record struct DelayLine(string Operation, string Operands);

/// <summary>Code that takes a number of cycles and does nothing else.</summary>
/// <param name="Cycles">Instruction cycles, exactly.</param>
/// <param name="Words">Words that it takes.</param>
/// <param name="Lines">The lines, from the first; they jump by <c>$-1</c>, so that they can be put anywhere within a page.</param>
/// <param name="Counters">The names of the counters: bytes of memory in the bank that is selected.</param>
/// <param name="ChangesW">Whether W is another one afterward.</param>
/// <param name="ChangesFlags">Whether flags are others afterward.</param>
public sealed record Delay(
    long Cycles,
    int Words,
    ImmutableArray<DelayLine> Lines,
    ImmutableArray<string> Counters,
    bool ChangesW,
    bool ChangesFlags
);

/// <summary>
/// Writes delays: of the forms that it knows, the one with the fewest words that takes exactly the cycles that are wanted. What it
/// writes is executed before it is given.
/// </summary>
public static class DelayWriter
{
    private const int MostCounters = 4,
        MostInside = 4,
        MostAfter = 8;

    // Past so many cycles the laps of loops are multiplied instead of executed one by one.
    private const long MostExecuted = 4_000_000;

    /// <summary>The longest delay in cycles: four counters of 256, the longest loop inside.</summary>
    public static long Longest { get; } =
        new DelayForm([.. Enumerable.Repeat(DelayForm.MostLaps, MostCounters)], 0, MostInside, 0).Cycles;

    /// <summary>The delay of a number of cycles, or null where there is none: below 1, or more than <see cref="Longest"/>.</summary>
    /// <param name="cycles">Instruction cycles.</param>
    /// <param name="counters">Names for the counters, four at most; others are made where they are left out.</param>
    /// <param name="status">How the program names STATUS.</param>
    /// <exception cref="InvalidOperationException">The code does not take the cycles when it is executed.</exception>
    public static Delay? Write(long cycles, IReadOnlyList<string>? counters = null, string status = "STATUS")
    {
        if (cycles < 1 || cycles > Longest)
            return null;
        DelayForm form = Find(cycles);
        string[] names =
        [
            .. Enumerable
                .Range(0, form.Counters.Length)
                .Select(i => counters is not null && i < counters.Count ? counters[i] : $"count{i + 1}"),
        ];
        Prove(form, cycles);
        return new Delay(
            cycles,
            (int)form.Words,
            [.. form.Lines(names, status).Select(static l => new DelayLine(l.Operation, l.Operands))],
            [.. names],
            form.WLaps > 0 || form.Counters.Any(static n => n != DelayForm.MostLaps),
            form.WLaps > 0 || form.Counters.Contains(DelayForm.MostLaps)
        );
    }

    private static DelayForm Find(long cycles)
    {
        var best = new DelayForm([], 0, 0, cycles);
        for (int inside = 0; inside <= MostInside; inside++)
        {
            // Half a byte more or less around the number that fits best: the rest is filled up after the loop.
            long laps = Math.Min(DelayForm.MostLaps, cycles / (4 + inside));
            if (laps > 0)
                Take(new DelayForm([], (int)laps, inside, cycles - DelayForm.LoopCycles([], (int)laps, inside)));
            for (int count = 1; count <= MostCounters; count++)
                Search(new int[count], count - 1, inside);
        }

        return best;

        void Take(DelayForm form)
        {
            if (form.After < 0 || form.Words > best.Words)
                return;
            if (form.Words < best.Words || Cost(form) < Cost(best))
                best = form;
        }

        // The outermost counter first: the largest number that does not take too long, or one less, which the inner ones make up for.
        void Search(int[] numbers, int level, int inside)
        {
            int[] rest = [.. numbers];
            Array.Fill(rest, 1, 0, level + 1);
            long spent = DelayForm.LoopCycles(rest, 0, inside);
            rest[level] = 2;
            long step = DelayForm.LoopCycles(rest, 0, inside) - spent;
            // Loads take between 1 and 2 cycles a counter.
            for (int loads = numbers.Length; loads <= 2 * numbers.Length; loads++)
            {
                long fits = 1 + (cycles - loads - spent) / step;
                for (long number = fits; number >= fits - 1; number--)
                {
                    if (number is < 1 or > DelayForm.MostLaps + 1 || cycles - loads - spent < 0)
                        continue;
                    int[] tried = [.. numbers];
                    tried[level] = (int)Math.Min(number, DelayForm.MostLaps);
                    if (level > 0)
                    {
                        Search(tried, level - 1, inside);
                        continue;
                    }

                    var form = new DelayForm(tried, 0, inside, 0);
                    long after = cycles - form.Cycles;
                    if (after is >= 0 and <= MostAfter)
                        Take(form with { After = after });
                }
            }
        }
    }

    // Of forms with as many words: fewer counters, then flags left alone.
    private static int Cost(DelayForm form) => 4 * form.Counters.Length + (form.WLaps > 0 ? 3 : 0);

    private static void Prove(DelayForm form, long cycles)
    {
        string[] names = [.. Enumerable.Range(0x20, form.Counters.Length).Select(static a => $"0x{a:X2}")];
        var text = new StringBuilder(" org 0\n");
        foreach ((string operation, string operands) in form.Lines(names, "0x03"))
            text.Append(' ').Append(operation).Append(' ').Append(operands).Append('\n');
        text.Append(" goto $\n end\n");
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("delay.asm", SourceText.From(text.ToString())));
        int end = (int)form.Words;
        bool holds = !program.HasErrors && program.Image.ProgramWords == end + 1;
        if (holds && cycles <= MostExecuted)
        {
            Processor chip = Processor.Of(program);
            while (chip.ProgramCounter != end && chip.Cycles <= cycles)
                chip.Step();
            holds = chip.Cycles == cycles && chip.ProgramCounter == end;
        }

        holds =
            holds
            && PathTimer.Between(FlowGraph.Of(program), 0, at => at == end, banksChange: false)
                is { IsExact: true } counted
            && counted.Least == cycles;
        if (!holds)
            throw new InvalidOperationException($"The delay of {cycles} cycles takes another time.");
    }
}
