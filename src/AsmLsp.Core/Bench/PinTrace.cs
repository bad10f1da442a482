namespace AsmLsp.Core.Bench;

/// <summary>What a port pin does electrically.</summary>
public enum PinDrive : byte
{
    /// <summary>Drives low.</summary>
    Low,

    /// <summary>Drives high.</summary>
    High,

    /// <summary>An input: it floats unless something outside drives it.</summary>
    Input,

    /// <summary>An open-drain output that lets go: an outside pull-up makes it high.</summary>
    Released,
}

/// <summary>The states of one pin in a run, as changes in order.</summary>
internal sealed class PinTrace
{
    private const int MostKept = 20_000;

    private readonly List<(long Cycle, PinDrive State)> changes = [];

    /// <summary>The changes, the first ones if there are very many.</summary>
    public IReadOnlyList<(long Cycle, PinDrive State)> Changes => changes;

    /// <summary>The state now.</summary>
    public PinDrive Now { get; private set; } = PinDrive.Input;

    /// <summary>When changes were no longer kept, or null.</summary>
    public long? FullAt { get; private set; }

    public void Set(long cycle, PinDrive state)
    {
        if (state == Now)
            return;
        Now = state;
        if (changes.Count >= MostKept)
        {
            FullAt ??= cycle;
            return;
        }

        // Within one instruction only the last state is seen.
        if (changes.Count > 0 && changes[^1].Cycle == cycle)
            changes[^1] = (cycle, state);
        else
            changes.Add((cycle, state));
    }
}
