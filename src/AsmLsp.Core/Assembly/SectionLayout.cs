using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Gives sections without an address their places: data from the first free general-purpose register, code after
/// what has addresses, sections of EEPROM bytes in the EEPROM. The sizes are those of the pass before, so places come to rest with the addresses.
/// </summary>
internal sealed class SectionLayout
{
    private Dictionary<string, int> starts = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>The place of a section in this pass: 0 until the sizes are known.</summary>
    public int StartOf(string name, SectionKind kind) => starts.GetValueOrDefault(Key(name, kind));

    public static string Key(string name, SectionKind kind) => (kind == SectionKind.Code ? "code " : "data ") + name;

    /// <summary>
    /// Works out the places for the next pass; false where they are those of this pass. <paramref name="full"/>
    /// names the section that does not fit into the chip's registers, if any.
    /// </summary>
    public bool Place(
        IEnumerable<Section> sections,
        int firstFreeWord,
        int firstFreeByte,
        IReadOnlySet<int> usedRegisters,
        Device? device,
        out Section? full
    )
    {
        full = null;
        var next = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        int word = firstFreeWord,
            eeprom = firstFreeByte;
        foreach (Section section in sections)
            if (section is { IsPlaced: true, Kind: SectionKind.Code })
                word = Math.Max(word, section.End < 0x2000 ? section.End : word);

        var used = new HashSet<int>(usedRegisters);
        foreach (Section section in sections)
            if (section is { IsPlaced: true, IsData: true })
                for (int i = section.Start; i < section.End; i++)
                    used.Add(i);

        foreach (Section section in sections)
        {
            if (section.IsPlaced)
                continue;
            if (section.GoesToEeprom)
            {
                next[Key(section.Name, section.Kind)] = eeprom;
                eeprom += section.Size;
                continue;
            }

            if (!section.IsData)
            {
                next[Key(section.Name, section.Kind)] = word;
                word += section.Size;
                continue;
            }

            int at = FirstFree(section, used, device);
            if (at < 0)
            {
                full ??= section;
                at = 0x20;
            }

            next[Key(section.Name, section.Kind)] = at;
            for (int i = at; i < at + section.Size; i++)
                used.Add(i);
        }

        bool changed =
            next.Count != starts.Count
            || next.Any(p => !starts.TryGetValue(p.Key, out int before) || before != p.Value);
        starts = next;
        return changed;
    }

    private static int FirstFree(Section section, HashSet<int> used, Device? device)
    {
        foreach ((int first, int last) in Ranges(section, device))
        {
            int run = 0;
            for (int i = first; i <= last; i++)
            {
                run = used.Contains(i) ? 0 : run + 1;
                if (run >= Math.Max(1, section.Size))
                    return i - run + 1;
            }
        }

        return -1;
    }

    private static IEnumerable<(int First, int Last)> Ranges(Section section, Device? device)
    {
        // Without a chip: the registers that nearly every chip of the family has.
        if (device is null)
            return [(0x20, 0x7F)];
        if (section.Kind == SectionKind.SharedData && device.DataMemory.CommonRam is { } common)
            return [(common.First, common.Last)];
        return device.DataMemory.GeneralPurposeRanges.Select(r => (r.First, r.Last));
    }
}
