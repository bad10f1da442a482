using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>A read-out of a chip against the build that should be in it.</summary>
public sealed class ReadoutComparison
{
    private ReadoutComparison(
        WordMemory build,
        WordMemory readout,
        Device? device,
        ImmutableArray<Difference> differences,
        ImmutableArray<AreaComparison> areas,
        ReadoutVerdict verdict
    )
    {
        Build = build;
        Readout = readout;
        Device = device;
        Differences = differences;
        Areas = areas;
        Verdict = verdict;
    }

    /// <summary>What should be in the chip.</summary>
    public WordMemory Build { get; }

    /// <summary>What was read.</summary>
    public WordMemory Readout { get; }

    /// <summary>The chip that the build is for, or null where that is not known.</summary>
    public Device? Device { get; }

    /// <summary>Every word that differs, in order.</summary>
    public ImmutableArray<Difference> Differences { get; }

    /// <summary>Program, configuration, EEPROM, ID words and the rest, each apart.</summary>
    public ImmutableArray<AreaComparison> Areas { get; }

    /// <summary>What it comes to, in one sentence.</summary>
    public ReadoutVerdict Verdict { get; }

    /// <summary>Whether a chip with the words of the read-out does what one with the build does.</summary>
    public bool IsSame => Verdict.Kind is VerdictKind.SameBuild or VerdictKind.FactoryDiffers;

    /// <summary>Compares a read-out with a build.</summary>
    /// <param name="build">What should be in the chip.</param>
    /// <param name="readout">What was read.</param>
    /// <param name="device">The chip, or null to take that of the program, or of the device ID in the read-out.</param>
    /// <param name="program">The program that was built, for the names of its routines, or null.</param>
    public static ReadoutComparison Of(
        WordMemory build,
        WordMemory readout,
        Device? device = null,
        ProgramAnalysis? program = null
    )
    {
        ArgumentNullException.ThrowIfNull(build);
        ArgumentNullException.ThrowIfNull(readout);
        device ??= program?.Device ?? ReadoutContent.ChipOf(readout);
        ImmutableArray<Difference> differences = MemoryComparison.Compare(build, readout, device);
        ImmutableArray<AreaComparison> areas = AreaComparison.Of(build, readout, device, differences);
        ReadoutVerdict verdict = new ReadoutJudge(build, readout, device, program, areas, differences).Judge();
        return new ReadoutComparison(build, readout, device, differences, areas, verdict);
    }
}
