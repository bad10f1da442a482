namespace AsmLsp.Core.Bench;

/// <summary>The kinds of what a pin does over time.</summary>
public enum PinAction
{
    /// <summary>It comes to a state and stays there.</summary>
    Steady,

    /// <summary>It goes high and low again and again.</summary>
    Pulses,

    /// <summary>It changes, without a period that the run shows.</summary>
    Changes,

    /// <summary>It is an input at times and an output at others.</summary>
    BothWays,
}

/// <summary>What a pin does over the time of a run.</summary>
/// <param name="Action">The kind.</param>
/// <param name="State">The state at the end.</param>
/// <param name="Since">Cycles after the start when it came to that state (steady), or first left the state of the reset.</param>
/// <param name="Period">Cycles from one rise to the next, or null where they are not all the same.</param>
/// <param name="High">Cycles that it is high in each period, or null where they are not all the same.</param>
/// <param name="Shortest">The shortest time from rise to rise, 0 where there are none.</param>
/// <param name="Longest">The longest time from rise to rise.</param>
public sealed record PinBehavior(
    PinAction Action,
    PinDrive State,
    long Since,
    long? Period = null,
    long? High = null,
    long Shortest = 0,
    long Longest = 0
)
{
    private const double Same = 0.01;

    /// <summary>Whether two runs show the same: times may be a hundredth apart.</summary>
    public bool IsLike(PinBehavior other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return Action == other.Action
            && (Action != PinAction.Steady || (State == other.State && Near(Since, other.Since, 200)))
            && (Action != PinAction.Pulses || (Near(Period, other.Period) && Near(High, other.High)));
    }

    internal static PinBehavior Of(PinTrace trace, long end)
    {
        var changes = trace.Changes.Where(c => c.Cycle <= end).ToList();
        if (changes.Count == 0)
            return new(PinAction.Steady, PinDrive.Input, 0);
        long last = changes[^1].Cycle;
        PinDrive state = changes[^1].State;
        if (last <= end / 2 && (trace.FullAt ?? long.MaxValue) > end)
            return new(PinAction.Steady, state, last);
        if (trace.FullAt is { } full)
            end = Math.Min(end, full);
        var late = changes.Where(c => c.Cycle >= last / 2).ToList();
        if (late.Any(static c => c.State == PinDrive.Input))
            return new(PinAction.BothWays, state, changes[0].Cycle);
        long[] rises = [.. Rises(changes, last / 8)];
        if (rises.Length < 3)
            return new(PinAction.Changes, state, changes[0].Cycle);
        long[] gaps = [.. rises.Zip(rises.Skip(1), static (a, b) => b - a)];
        (long shortest, long longest) = (gaps.Min(), gaps.Max());
        bool isPeriodic = longest - shortest <= Math.Max(2, longest * Same);
        long[] highs = [.. Highs(changes, last / 8)];
        bool isEven = highs.Length > 0 && highs.Max() - highs.Min() <= Math.Max(2, highs.Max() * Same);
        return new(
            PinAction.Pulses,
            state,
            changes[0].Cycle,
            isPeriodic ? (rises[^1] - rises[0]) / gaps.Length : null,
            isPeriodic && isEven ? highs.Sum() / highs.Length : null,
            shortest,
            longest
        );
    }

    private static IEnumerable<long> Rises(List<(long Cycle, PinDrive State)> changes, long from)
    {
        for (int i = 1; i < changes.Count; i++)
        {
            if (changes[i].Cycle >= from && changes[i - 1].State == PinDrive.Low && IsHigh(changes[i].State))
                yield return changes[i].Cycle;
        }
    }

    private static IEnumerable<long> Highs(List<(long Cycle, PinDrive State)> changes, long from)
    {
        for (int i = 1; i < changes.Count; i++)
        {
            if (changes[i - 1].Cycle >= from && IsHigh(changes[i - 1].State) && changes[i].State == PinDrive.Low)
                yield return changes[i].Cycle - changes[i - 1].Cycle;
        }
    }

    private static bool IsHigh(PinDrive state) => state is PinDrive.High or PinDrive.Released;

    private static bool Near(long? a, long? b) =>
        a is { } one && b is { } other ? Near(one, other, 2) : a is null && b is null;

    private static bool Near(long a, long b, long least) => Math.Abs(a - b) <= Math.Max(least, Math.Max(a, b) * Same);
}
