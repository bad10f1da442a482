using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>Neighboring words that differ in the same manner.</summary>
/// <param name="First">The first address.</param>
/// <param name="Last">The last address.</param>
/// <param name="Words">The differences, in order.</param>
public sealed record DifferenceGroup(int First, int Last, ImmutableArray<Difference> Words)
{
    /// <summary>Whether none of them changes what the chip does.</summary>
    public bool IsHarmless => Words.All(static w => w.IsHarmless);
}

/// <summary>One area of the chip on both sides.</summary>
/// <param name="Area">The area.</param>
/// <param name="Matching">Words that are programmed and match.</param>
/// <param name="Groups">What differs, in order of the addresses.</param>
public sealed record AreaComparison(HexArea Area, int Matching, ImmutableArray<DifferenceGroup> Groups)
{
    /// <summary>How many words differ.</summary>
    public int Differing => Groups.Sum(static g => g.Words.Length);

    /// <summary>Whether what differs matters.</summary>
    public bool Matters => Groups.Any(static g => !g.IsHarmless);

    internal static ImmutableArray<AreaComparison> Of(
        WordMemory build,
        WordMemory readout,
        Device? device,
        ImmutableArray<Difference> differences
    )
    {
        var areas = ImmutableArray.CreateBuilder<AreaComparison>();
        foreach (
            HexArea area in (ReadOnlySpan<HexArea>)
                [HexArea.Program, HexArea.Configuration, HexArea.Eeprom, HexArea.Identification, HexArea.Other]
        )
        {
            int matching = build.Count(c =>
                HexAreas.Of(c.Key) == area
                && readout[c.Key] == c.Value
                && !MemoryComparison.IsErased(c.Key, c.Value, device)
            );
            ImmutableArray<DifferenceGroup> groups = Group(
                differences.Where(d => HexAreas.Of(d.Address) == area && d.Kind != DifferenceKind.DeviceIdentity)
            );
            if (matching > 0 || !groups.IsEmpty)
                areas.Add(new AreaComparison(area, matching, groups));
        }

        return areas.ToImmutable();
    }

    private static ImmutableArray<DifferenceGroup> Group(IEnumerable<Difference> differences)
    {
        var groups = ImmutableArray.CreateBuilder<DifferenceGroup>();
        var run = ImmutableArray.CreateBuilder<Difference>();
        foreach (Difference next in differences)
        {
            if (run.Count > 0 && (run[^1].Address + 1 != next.Address || Manner(run[^1]) != Manner(next)))
                Close();
            run.Add(next);
        }

        Close();
        return groups.ToImmutable();

        void Close()
        {
            if (run.Count == 0)
                return;
            groups.Add(new DifferenceGroup(run[0].Address, run[^1].Address, run.ToImmutable()));
            run.Clear();
        }
    }

    private static (bool, bool, bool) Manner(Difference difference) =>
        (difference.First is null, difference.Second is null, difference.IsHarmless);
}
