using System.Globalization;
using System.Text;
using System.Text.Json;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Tests.Devices;

/// <summary>Makes docs/chips.md from the chips and their source files.</summary>
internal static class DeviceReferencePage
{
    internal static string Render(string sourcesFolder)
    {
        var page = new StringBuilder();
        page.Append(
            CultureInfo.InvariantCulture,
            $"""
            # Chips

            The {DeviceCatalog.Names.Length} chips that `relist` knows. This page is made from `src/AsmLsp.Core/Devices/Data`; a test fails when it is
            stale, and `RELIST_UPDATE_DOCS=1 dotnet test tests/AsmLsp.Core.Tests` makes it anew.

            **One-time programmable** chips (EPROM in a plastic package) take a program once: check the HEX file, the chip's marking and
            the programmer's setting before, because a mistake costs the chip. In a windowed package they are erased by ultraviolet
            light. Code protection on such a part may never come off again.

            ## Sizes

            RAM is general-purpose bytes, each byte once. Code protection, watchdog and the like of an erased chip follow from its blank word.

            | chip | words | pages | RAM | banks | EEPROM | pins | clock to | blank word | program memory |
            |---|--:|--:|--:|--:|--:|--:|--:|---|---|

            """
        );
        foreach (string name in DeviceCatalog.Names)
        {
            Device device = DeviceCatalog.Find(name)!;
            string blank = string.Join(", ", device.ConfigurationWords.Select(word => $"0x{word.Erased:X4}"));
            string kind = device.ProgramMemory switch
            {
                ProgramMemoryKind.Eprom => "EPROM, **one-time programmable**",
                ProgramMemoryKind.Eeprom => "EEPROM",
                _ => "flash",
            };
            string pins = device.Package is null ? "-" : device.Pins.Length.ToString(CultureInfo.InvariantCulture);
            page.Append(
                CultureInfo.InvariantCulture,
                $"| {name} | {device.ProgramWords} | {device.ProgramPages} | {device.DataMemory.GeneralPurposeBytes} | {device.DataMemory.BankCount} | {device.EepromBytes} | {pins} | {device.MaxClockHertz / 1_000_000} MHz | {blank} | {kind} |\n"
            );
        }

        page.Append(
            """

            Pins are those of the dual-in-line package; `-`: there is none, pins are not recorded.

            ## Where the facts come from

            A number with a revision letter (DS35007B, DS41191D) is a data sheet or programming specification. Its text was read and
            confirms the facts of that column; `m` is memory only, with the document that it should be compared with. What rests on
            memory was not found in a document: check it in the data sheet before work that can damage a chip. Names of configuration
            settings are counted: seen in public user programs + from memory. A name that another chip of the family uses for the same
            setting is accepted as well.

            | chip | memory | registers | configuration | names | device ID, checksum | ID words | pins | supply, clock | pins after reset | pitfalls |
            |---|---|---|---|---|---|---|---|---|---|---|

            """
        );
        var notes = new SortedDictionary<string, List<string>>(StringComparer.Ordinal);
        foreach (string name in DeviceCatalog.Names)
        {
            Device device = DeviceCatalog.Find(name)!;
            using JsonDocument document = JsonDocument.Parse(
                File.ReadAllText(Path.Combine(sourcesFolder, name + ".json"))
            );
            JsonElement facts = document.RootElement.GetProperty("facts");
            if (document.RootElement.TryGetProperty("notes", out JsonElement said))
            {
                foreach (JsonElement note in said.EnumerateArray())
                {
                    if (!notes.TryGetValue(note.GetString()!, out List<string>? chips))
                        notes.Add(note.GetString()!, chips = []);
                    chips.Add(name);
                }
            }

            string Of(params string[] groups)
            {
                var from = groups
                    .Where(group => facts.TryGetProperty(group, out _))
                    .Select(group => facts.GetProperty(group).GetString()!)
                    .Distinct()
                    .ToList();
                return string.Join("; ", from.Select(Short));
            }

            int seen = Words(document, "public user programs");
            int all = device.Symbols.All.Count(symbol => symbol.Kind == DeviceSymbolKind.ConfigurationSetting);
            page.Append(
                CultureInfo.InvariantCulture,
                $"| {name} | {Of("program memory", "vectors and stack", "data memory", "EEPROM size", "calibration word")} | {Of("registers and bits")} | {Of("configuration fields", "low-voltage programming")} | {seen} + {all - seen} | {Of("device ID", "checksum rules")} | {Of("user ID")} | {Of("pins")} | {Of("supply", "clock")} | {Of("not digital at reset")} | {Of("pitfalls")} |\n"
            );
        }

        page.Append("\nNotes:\n\n");
        foreach ((string note, List<string> chips) in notes)
            page.Append(CultureInfo.InvariantCulture, $"- {string.Join(", ", chips)}: {note}\n");
        page.Append(
            """
            - Vectors and the stack are the same on every chip of this family. So a chip from memory can have them from a
              data sheet that was read.
            - The rate of an internal oscillator after power-on follows from the power-on value of OSCCON or PCON. From memory is which bits mean which
              rate, and that a chip with an OSC2/CLKOUT pin gives out its instruction clock there in resistor-capacitor mode.
            - How programs spell bits (`NOT_TO`, `GO_DONE`, `TMR0IF`) is one set of rules for all chips; those met in public user programs
              are `NOT_` with TO, PD, RBPU, GPPU, RAPU, POR, and RBPU, GO, GO_DONE; T0IF and TMR0IF are in data sheets (DS35007B, DS30325B).
              The rest is from memory. So are the few words that say what a register or a bit is for.

            """
        );
        return page.ToString();
    }

    private static int Words(JsonDocument sources, string from) =>
        sources
            .RootElement.GetProperty("configurationNames")
            .GetProperty(from)
            .GetString()!
            .Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Length;

    private static string Short(string provenance) =>
        provenance
            .Replace("data sheet ", "", StringComparison.Ordinal)
            .Replace("programming specification ", "", StringComparison.Ordinal)
            .Replace("from memory", "m", StringComparison.Ordinal);
}
