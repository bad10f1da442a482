using AsmLsp.Core.Assembly;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;

namespace AsmLsp.Core.Replacement;

/// <summary>How two programs behaved at their pins when both were run with the same levels at their inputs.</summary>
/// <param name="Runs">How many pairs of runs were made.</param>
/// <param name="Cycles">Instruction cycles of each run.</param>
/// <param name="Changes">How many changes of pins were the same, in the same order for each pin.</param>
/// <param name="Difference">The first difference in words, or null where there is none.</param>
/// <param name="Slower">How much longer the new program takes, in thousandths; below 0 where it is faster.</param>
/// <param name="Until">Where certainty ends, or null.</param>
public sealed record RunProof(int Runs, long Cycles, int Changes, string? Difference, int Slower, Horizon? Until)
{
    private const long MostCycles = 1_500_000;

    /// <summary>The same in a sentence.</summary>
    public override string ToString() =>
        Difference
        ?? FormattableString.Invariant(
            $"Run: in {Runs} pairs of runs over {Cycles:N0} instruction cycles all pins did the same, {Changes} changes in the same order{(Slower == 0 ? "" : $"; the new program is {Math.Abs(Slower) / 10.0:0.#} % {(Slower > 0 ? "slower" : "faster")}")}{(Until is { } end ? $"; nothing is known from cycle {end.Cycle:N0} on, because {end.Reason}" : "")}."
        );

    internal static RunProof Of(ProgramAnalysis before, Device from, ProgramAnalysis after, Device to)
    {
        PortPins oldPins = PortPins.Of(from),
            newPins = PortPins.Of(to);
        double? hertz = ClockFinder.Find(before, before.Options.ClockHertz)?.Hertz;
        PortPin[] shared = [.. oldPins.Pins.Where(p => newPins.Pins.Any(n => n.Name == p.Name))];
        var starts = new List<(bool High, string? Turned)> { (true, null), (false, null) };
        int changes = 0,
            runs = 0;
        int slower = 0;
        Horizon? horizon = null;
        string? difference = null;
        for (int i = 0; i < starts.Count && difference is null; i++)
        {
            (bool high, string? turned) = starts[i];
            BoardRun one = Run(from, before, oldPins, high, turned),
                other = Run(to, after, newPins, high, turned);
            if (i == 0)
                starts.AddRange(one.Inputs.Take(8).Select(static name => (true, (string?)name)));
            runs++;
            horizon ??= one.Horizon ?? other.Horizon;
            long end = Math.Min(one.Horizon?.Cycle ?? MostCycles, other.Horizon?.Cycle ?? MostCycles);
            foreach (PortPin pin in shared)
            {
                PortPin there = newPins.Pins.First(p => p.Name == pin.Name);
                var a = one.TraceOf(pin).Changes.Where(c => c.Cycle <= end).ToList();
                var b = other.TraceOf(there).Changes.Where(c => c.Cycle <= end).ToList();
                int both = Math.Min(a.Count, b.Count);
                for (int k = 0; k < both; k++)
                {
                    if (Seen(a[k].State) == Seen(b[k].State))
                        continue;
                    difference ??= FormattableString.Invariant(
                        $"Run with inputs {(high ? "high" : "low")}{(turned is null ? "" : $", {turned} turned")}: {pin.Name} is {a[k].State} at its change {k + 1} on {from.Name}, {b[k].State} on {to.Name}."
                    );
                }

                // The end of the run cuts the slower program off earlier: a few changes may be missing there, no more.
                if (Math.Abs(a.Count - b.Count) > 3 + Math.Max(a.Count, b.Count) / 8)
                    difference ??= FormattableString.Invariant(
                        $"Run with inputs {(high ? "high" : "low")}{(turned is null ? "" : $", {turned} turned")}: {pin.Name} changes {a.Count} times on {from.Name} and {b.Count} times on {to.Name}."
                    );
                changes += both;
                if (both > 20)
                {
                    double ratio = (double)(b[both - 1].Cycle - b[0].Cycle) / (a[both - 1].Cycle - a[0].Cycle);
                    int thousandths = (int)Math.Round((ratio - 1) * 1000);
                    slower = Math.Abs(thousandths) > Math.Abs(slower) ? thousandths : slower;
                }
            }
        }

        return new RunProof(runs, MostCycles, changes, difference, slower, horizon);

        BoardRun Run(Device device, ProgramAnalysis program, PortPins pins, bool high, string? turned)
        {
            var run = new BoardRun(
                device,
                program.Image.Memory,
                pins,
                new RunStart(high, pins.Pins.FirstOrDefault(p => p.Name == turned), 0),
                hasWatchdog: ConfigurationReading
                    .Read(device, program.Image.Memory)
                    .Find(ConfigRole.Watchdog)
                    ?.Setting?.State == ConfigState.On,
                hertz
            );
            run.Run(MostCycles);
            return run;
        }
    }

    // An open-drain pin that lets go is high by its pull-up.
    private static PinDrive Seen(PinDrive state) => state == PinDrive.Released ? PinDrive.High : state;
}
