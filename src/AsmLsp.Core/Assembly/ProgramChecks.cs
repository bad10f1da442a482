using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>What can be said only when the whole program has been assembled.</summary>
internal static class ProgramChecks
{
    /// <summary>Gives sections their places for a next pass; true where they moved.</summary>
    public static bool PlaceSections(AssemblyPass pass)
    {
        if (pass.Sections.Count == 0)
            return false;
        if (pass.Placer.Section is { } open)
            open.Next = pass.Placer.Location;
        return pass.Layout.Place(
            pass.Sections,
            pass.Placer.FirstFreeWord,
            pass.Placer.FirstFreeByte,
            pass.UsedRegisters,
            pass.Chip.Device,
            out _
        );
    }

    public static void Run(AssemblyPass pass)
    {
        pass.Chip.ReportDisagreements();
        Sections(pass);
        Memory(pass);
        Configuration(pass);
        if (pass.Placer.Image.Count > 0 && !pass.WasStopped)
            foreach (ProgramUnit unit in pass.Units)
                End(pass, unit);
        if (pass.Placer.Image.Count == 0 && !pass.Problems.HasErrors)
            pass.Report(Catalogue.NoProgram, Top(pass.Files[0]), null);
    }

    /// <summary>The first line of a file.</summary>
    public static SourcePlace Top(SourceFile file) => new(file, 0, new TextSpan(0, file.Text[0].Text.Length));

    private static void End(AssemblyPass pass, ProgramUnit unit)
    {
        if (unit.HasEnd)
            return;
        int last = LastLineWithText(unit.Root.Text);
        pass.Report(
            Catalogue.EndMissing,
            new SourcePlace(unit.Root, last, new TextSpan(0, unit.Root.Text[last].Text.Length)),
            null
        );
    }

    private static void Sections(AssemblyPass pass)
    {
        if (pass.Sections.Count == 0)
            return;
        foreach (Section section in pass.Sections)
            if (section.GoesToEeprom && Named(pass, section) is { } named)
                pass.Report(
                    Catalogue.SectionInEeprom,
                    named.Definition,
                    named.Via,
                    section.Name,
                    Show.Hex(section.Start)
                );
        pass.Layout.Place(
            pass.Sections,
            0,
            Device.EepromAddress,
            pass.UsedRegisters,
            pass.Chip.Device,
            out Section? full
        );
        if (full is not null && Named(pass, full) is { } symbol)
            pass.Report(
                Catalogue.BadDirective,
                symbol.Definition,
                null,
                $"The {full.Size} registers of this section do not fit into the free registers of the chip."
            );
        else if (full is not null)
            pass.Report(
                Catalogue.BadDirective,
                new SourcePlace(pass.Files[0], 0, default),
                null,
                $"The {full.Size} registers of the data section do not fit into the free registers of the chip."
            );
    }

    private static Symbol? Named(AssemblyPass pass, Section section)
    {
        foreach (ProgramUnit unit in pass.Units)
            if (unit.Symbols.TryGet(section.Name, out Symbol? symbol) && symbol.Kind == SymbolKind.Section)
                return symbol;
        return null;
    }

    // One problem for a run of words that do not exist, at the line of the first.
    private static void Memory(AssemblyPass pass)
    {
        Device? device = pass.Chip.Device;
        SourceFile? lastFile = null;
        int lastLine = -1,
            lastAddress = -2;
        foreach ((int address, _, WordOrigin origin) in pass.Placer.Image.Words)
        {
            if (Outside(address, device) is not { } why)
                continue;
            (SourceFile file, int line) = origin.Outermost;
            bool follows = address == lastAddress + 1 || (file == lastFile && line == lastLine);
            (lastFile, lastLine, lastAddress) = (file, line, address);
            if (follows)
                continue;
            var place = new SourcePlace(file, line, new TextSpan(0, file.Text[line].Text.Length));
            pass.Report(
                Catalogue.AddressOutsideChip,
                place,
                null,
                Show.Hex(address),
                device?.Name ?? "the chips of this family",
                why
            );
        }
    }

    private static string? Outside(int address, Device? device)
    {
        int words = device?.ProgramWords ?? 0x2000;
        if (address < words)
            return null;
        if (address < 0x2000)
            return $"its program memory has {words.ToString(CultureInfo.InvariantCulture)} words and ends at {Show.Hex(words - 1)}";
        if (address is >= 0x2000 and <= 0x2003)
            return null;
        if (address < 0x2100)
        {
            if (device is null ? address is 0x2007 or 0x2008 : device.ConfigurationWords.Any(w => w.Address == address))
                return null;
            return device is null
                ? "only ID, configuration and EEPROM words lie there"
                : "no ID or configuration word lies there";
        }

        int eeprom = device?.EepromBytes ?? 256;
        if (address < 0x2100 + eeprom)
            return null;
        return eeprom == 0
            ? "it has no EEPROM"
            : $"its EEPROM has {eeprom.ToString(CultureInfo.InvariantCulture)} bytes and ends at {Show.Hex(0x2100 + eeprom - 1)}";
    }

    private static void Configuration(AssemblyPass pass)
    {
        if (pass.Placer.Image.ProgramWords == 0 || pass.Chip.Device is not { } device)
            return;
        if (pass.Placer.Image.TryGet(ChipContext.FirstConfigurationAddress, out _, out _))
            return;
        SourcePlace place = pass.Chip.NamedAt ?? Top(pass.Files[0]);
        pass.Report(
            Catalogue.NoConfiguration,
            place,
            null,
            device.Name,
            ChipContext.BlankMeaning(device),
            ConfigurationHint(pass.Files[0])
        );
    }

    // What the author says in words about the settings: printed texts often have it where the word itself is missing.
    private static string ConfigurationHint(SourceFile file)
    {
        for (int line = 0; line < file.Text.LineCount; line++)
        {
            string text = file.Text[line].Text;
            int comment = text.IndexOf(';', StringComparison.Ordinal);
            if (comment < 0)
                continue;
            foreach (string word in (ReadOnlySpan<string>)["watchdog", "oscillator", "crystal", "resonator", "fuses"])
                if (text.AsSpan(comment).Contains(word, StringComparison.OrdinalIgnoreCase))
                    return $" The comment in line {Show.Decimal(line + 1)} may say which settings are right.";
        }

        return "";
    }

    private static int LastLineWithText(SourceText text)
    {
        int last = text.LineCount - 1;
        while (last > 0 && string.IsNullOrWhiteSpace(text[last].Text))
            last--;
        return last;
    }
}
