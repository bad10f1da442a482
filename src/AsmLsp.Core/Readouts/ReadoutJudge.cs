using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>Finds the one sentence about a read-out that a person can act on, the most useful first.</summary>
internal sealed class ReadoutJudge(
    WordMemory build,
    WordMemory readout,
    Device? device,
    ProgramAnalysis? program,
    ImmutableArray<AreaComparison> areas,
    ImmutableArray<Difference> differences
)
{
    private readonly ProgramWords ours = Own(build, differences);
    private readonly ProgramWords theirs = Own(readout, differences);

    /// <summary>The verdict.</summary>
    public ReadoutVerdict Judge()
    {
        bool programDiffers = Matters(HexArea.Program);
        if (OfContent(programDiffers) is { } content)
            return content;
        return programDiffers ? OfProgram() : OfOtherAreas();
    }

    // What the read-out says by itself goes first: nothing else can be concluded from it.
    private ReadoutVerdict? OfContent(bool programDiffers)
    {
        var content = ReadoutContent.Of(readout, device);
        if (programDiffers && WordLayout.HalfOf(ours, theirs) is { } half)
            return ReadoutContent.Half(half);
        if (content.Verdict.Kind is VerdictKind.NoWords or VerdictKind.AllZero)
            return content.Verdict;
        // A build without a program word may be for the EEPROM alone.
        if (content.Verdict.Kind == VerdictKind.Blank)
            return ours.Programmed == 0 && differences.All(static d => d.IsHarmless) ? null : content.Verdict;
        if (content.Verdict.Kind == VerdictKind.OtherChip)
            return content.Verdict;
        if (!programDiffers)
            return null;
        if (content.Verdict.Kind == VerdictKind.Protected)
            return content.Verdict;
        return null;
    }

    private ReadoutVerdict OfProgram()
    {
        if (WordLayout.IsSwapped(ours, readout))
            return ReadoutContent.Swapped;
        if (WordLayout.ShiftOf(ours, theirs) is var shift and not 0)
            return new(
                VerdictKind.Shifted,
                Text(
                    $"The words are shifted by {(Math.Abs(shift) == 1 ? "one" : Math.Abs(shift).ToString(CultureInfo.InvariantCulture))}: the read-out holds each word {(shift > 0 ? "higher" : "lower")} than the build. Read the chip again."
                )
            );
        if (Stopped() is { } stopped)
            return stopped;
        if (WordLayout.IsSpread(ours, theirs))
            return new(
                VerdictKind.Shifted,
                "The words lie at twice their addresses: the file counts words where bytes are meant. Read the chip again, or save it in another form."
            );
        if (VersionDistance.Of(ours, theirs) is { IsEmpty: false } changes)
            return OfVersion(changes);
        int same = Enumerable
            .Range(0, ours.LastProgrammed + 1)
            .Count(a => ours.IsProgrammed(a) && ours.At(a) == theirs.At(a));
        return new(
            VerdictKind.OtherProgram,
            Text($"This is another program: {same} of {Words(ours.Programmed)} of the build are in the read-out.")
        );
    }

    // Programming goes upward; a cell that it stopped in has some of its bits cleared. 0x3FFF is an erased word.
    private ReadoutVerdict? Stopped()
    {
        int at = 0;
        while (at <= ours.LastProgrammed && ProgramWords.Match(ours.At(at), theirs.At(at)))
            at++;
        if (at > ours.LastProgrammed || !Enumerable.Range(0, at).Any(ours.IsProgrammed))
            return null;
        bool isPartly =
            at < ours.LastProgrammed && theirs.IsProgrammed(at) && (theirs.At(at) & ours.At(at)) == ours.At(at);
        int from = isPartly ? at + 1 : at;
        int calibration = device?.Calibration?.Address ?? -1;
        for (int address = from; address <= Math.Max(ours.LastProgrammed, theirs.LastProgrammed); address++)
        {
            if (theirs.IsProgrammed(address) && address != calibration)
                return null;
        }

        if (!theirs.Has(at) && theirs.Last < at)
            return new(
                VerdictKind.Shortened,
                Text(
                    $"This is the build up to 0x{at - 1:X4}, but the read-out holds no word from 0x{at:X4} on: programming stopped there, or the read-out did."
                )
            );
        return new(
            VerdictKind.Stopped,
            Text($"This is the build, but programming stopped at 0x{at:X4}: from there on the chip is erased.")
                + (isPartly ? " The word at that address is programmed in part." : "")
                + " Program it again."
        );
    }

    private ReadoutVerdict OfVersion(ImmutableArray<ChangedWords> changes)
    {
        int count = changes.Sum(static c => c.Count);
        var names = new RoutineNames(build, program);
        string[] places =
        [
            .. changes
                .SelectMany(c => Enumerable.Range(c.Address, Math.Max(1, c.Removed)))
                .Select(a => names.Of(a))
                .Select(static n => n ?? "")
                .Distinct(),
        ];
        string where = places switch
        {
            [""] when changes[0].Address == End(changes[^1]) => Text($" at 0x{changes[0].Address:X4}"),
            [""] => Text($" from 0x{changes[0].Address:X4} to 0x{End(changes[^1]):X4}"),
            [var one] => $" in {one}",
            _ when places.Length <= 3 && !places.Contains("") => " in " + string.Join(" and ", places),
            _ => Text($" in {changes.Length} places from 0x{changes[0].Address:X4} to 0x{End(changes[^1]):X4}"),
        };
        int moved = changes.Sum(static c => c.Added - c.Removed);
        string rest =
            moved == 0 ? ""
            : moved > 0 ? Text($" The read-out is {Words(moved)} longer.")
            : Text($" The read-out is {Words(-moved)} shorter.");
        return new(
            VerdictKind.OtherVersion,
            Text(
                $"The same program, one version apart: {Words(count)}{where} {(count == 1 ? "differs" : "differ")}.{rest}"
            )
        )
        {
            Changes = changes,
        };

        static int End(ChangedWords change) => change.Address + Math.Max(1, change.Removed) - 1;
    }

    private ReadoutVerdict OfOtherAreas()
    {
        HexArea[] matter = [.. areas.Where(static a => a.Matters).Select(static a => a.Area)];
        if (matter.Length == 0)
            return OfHarmless();
        var parts = new List<string>();
        foreach (HexArea area in matter)
            parts.Add(Describe(area));
        if (matter is [HexArea.Configuration])
            return new(VerdictKind.ConfigurationDiffers, $"Only the configuration differs: {parts[0]}.");
        if (matter is [HexArea.Eeprom])
            return new(
                VerdictKind.EepromDiffers,
                $"Only the EEPROM differs: {parts[0].Replace(" of the EEPROM", "", StringComparison.Ordinal)}. The program itself may have written there."
            );
        return new(
            VerdictKind.AreasDiffer,
            $"The program is the build, but other areas differ: {string.Join("; ", parts)}."
        );
    }

    private ReadoutVerdict OfHarmless()
    {
        var kinds = differences
            .Select(static d => d.Kind)
            .Where(static k => k != DifferenceKind.DeviceIdentity)
            .ToHashSet();
        string count = Words(build.Count(c => !MemoryComparison.IsErased(c.Key, c.Value, device)));
        if (kinds.Count == 0)
            return new(VerdictKind.SameBuild, $"This is the build: all {count} match.");
        if (kinds.SetEquals([DifferenceKind.Calibration]))
            return new(
                VerdictKind.FactoryDiffers,
                "Only the calibration word differs: expected, because each chip has its own. Otherwise this is the build."
            );
        if (kinds.IsSubsetOf([DifferenceKind.Calibration, DifferenceKind.FactoryBits]))
            return new(
                VerdictKind.FactoryDiffers,
                "Only what the factory sets for each chip differs: expected. Otherwise this is the build."
            );
        return new(VerdictKind.SameBuild, "This is the build: the words that differ do not change what the chip does.");
    }

    private string Describe(HexArea area)
    {
        AreaComparison found = areas.First(a => a.Area == area);
        if (area == HexArea.Configuration)
        {
            int[] set =
            [
                .. differences
                    .Where(d => HexAreas.Of(d.Address) == area && !d.IsHarmless)
                    .Select(static d => d.Address),
            ];
            if (set.All(a => readout[a] is null))
                return "the read-out has no configuration word";
            if (set.All(a => build[a] is null))
                return "the build sets no configuration, the chip has one";
            ImmutableArray<ConfigurationDifference> fields = ConfigurationDifference.Of(device, build, readout);
            return fields.IsEmpty
                ? string.Join(
                    ", ",
                    set.Select(a =>
                        Text($"0x{readout[a] ?? 0x3FFF:X4} in the chip, 0x{build[a] ?? 0x3FFF:X4} in the build")
                    )
                )
                : string.Join("; ", fields.Select(static f => f.Sentence));
        }

        Difference[] words = [.. found.Groups.SelectMany(static g => g.Words)];
        string name = area switch
        {
            HexArea.Eeprom => "EEPROM",
            HexArea.Identification => "ID words",
            HexArea.Program => "program",
            _ => "reserved words",
        };
        if (words.All(static w => w.Second is null))
            return $"the read-out holds nothing of the {name}";
        string unit = area == HexArea.Eeprom ? "byte" : "word";
        return Text($"{words.Length} {unit}{(words.Length == 1 ? "" : "s")} of the {name}");
    }

    // Each chip has a calibration word of its own: it says nothing about the program.
    private static ProgramWords Own(WordMemory memory, ImmutableArray<Difference> differences)
    {
        int? calibration = differences.FirstOrDefault(static d => d.Kind == DifferenceKind.Calibration)?.Address;
        return ProgramWords.Of(calibration is null ? memory : WordMemory.From(memory.Where(c => c.Key != calibration)));
    }

    private bool Matters(HexArea area) => areas.Any(a => a.Area == area && a.Matters);

    private static string Words(int count) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} word{(count == 1 ? "" : "s")}");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
