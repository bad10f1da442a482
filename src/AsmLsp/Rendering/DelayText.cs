using System.Globalization;
using AsmLsp.Core.Flow;
using AsmLsp.Verbs;

namespace AsmLsp.Rendering;

/// <summary>A delay as lines of source, with what it uses.</summary>
internal static class DelayText
{
    private const int CyclesOfCallAndReturn = 4;

    /// <summary>Writes the delay, or what is wrong with the request; the exit code.</summary>
    public static int Write(
        string duration,
        string? routine,
        Clock? known,
        string? rate,
        bool asJson,
        TextWriter output,
        TextWriter error
    )
    {
        if (DelayRequest.Read(duration) is not { } wanted)
        {
            error.WriteLine(
                $"relist: '{duration}' is not a duration. Write it like 1ms, 20us, 2.5s, 3min or 100cycles."
            );
            return ExitCodes.Unusable;
        }

        Clock? clock = known;
        if (rate is not null)
        {
            if (ClockFinder.ReadRate(rate) is not { } hertz)
            {
                error.WriteLine($"relist: '{rate}' is not a clock rate. Write it like 4MHz or 32.768kHz.");
                return ExitCodes.Unusable;
            }

            clock = new Clock(hertz, ClockSource.Settings, false);
        }

        if (wanted.Cycles(clock) is not { } cycles)
        {
            error.WriteLine("relist: a time needs a clock: give it with --clock, such as --clock 4MHz.");
            return ExitCodes.Unusable;
        }

        long inside = cycles - (routine is null ? 0 : CyclesOfCallAndReturn);
        // A routine of four cycles is its return alone.
        Delay? delay =
            inside == 0 && routine is not null ? new Delay(0, 0, [], [], false, false) : DelayWriter.Write(inside);
        if (delay is null)
        {
            error.WriteLine(
                inside < 1
                    ? $"relist: {wanted.Describe(clock)} is too short: {(routine is null ? "the shortest delay is 1 cycle" : "call and return alone take 4 cycles")}."
                    : $"relist: {wanted.Describe(clock)} is too long: {DelayWriter.Longest.ToString("N0", CultureInfo.InvariantCulture)} cycles are the most."
            );
            return ExitCodes.Unusable;
        }

        if (asJson)
        {
            VisibleWriter.Data(output).WriteLine(DelayJson.Of(wanted.Describe(clock), cycles, routine, delay));
            return ExitCodes.Clean;
        }

        output.WriteLine($"; {wanted.Describe(clock)}{(routine is null ? "" : ", with the call and the return")}");
        int words = delay.Words + (routine is null ? 0 : 1);
        output.WriteLine(
            $"; {(words == 1 ? "1 word" : $"{words} words")}; {Changes(delay)}; interrupts make it longer"
        );
        if (delay.Counters.Length > 0)
            output.WriteLine(
                $"; counters: {string.Join(", ", delay.Counters)}: define {(delay.Counters.Length == 1 ? "it as a free register" : "them as free registers")} of the bank that is selected"
            );
        if (routine is not null)
            output.WriteLine(routine);
        foreach (DelayLine line in delay.Lines)
            output.WriteLine($"        {line.Operation, -7} {line.Operands}".TrimEnd());
        if (routine is not null)
            output.WriteLine("        return");
        return ExitCodes.Clean;
    }

    private static string Changes(Delay delay) =>
        (delay.ChangesW, delay.ChangesFlags) switch
        {
            (true, true) => "changes W and flags",
            (true, false) => "changes W",
            (false, true) => "changes flags",
            _ => "changes nothing",
        };
}
