using System.Collections.Immutable;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Bench;

/// <summary>Programming as steps, with the cautions of docs/bench-safety.md where they belong.</summary>
internal static class BenchSteps
{
    public static ImmutableArray<BenchStep> Of(BenchCard card)
    {
        Device device = card.Device;
        string name = card.Subject.Name;
        string chip = device.Name.Replace("PIC", "", StringComparison.Ordinal);
        var steps = ImmutableArray.CreateBuilder<BenchStep>();
        Add(
            "Make the bench safe: board unplugged, capacitors discharged, supply current limited.",
            "A board that touches the mains, or has a supply without a transformer, is live everywhere. Never connect a programmer or an oscilloscope to it while it is plugged in. Where your local code wants a licensed electrician, have one.",
            "Static: touch the bench's ground before you touch a chip."
        );
        Add(
            $"Put the chip into the programmer: pin 1 where it belongs, {device.Name} selected.",
            "Programming voltage goes to the reset pin (12 to 14 V on most of these chips, common practice). In-circuit, whatever is tied to that pin must bear it: lift the chip out, or check the circuit first."
        );
        Add(
            device.Identity is { } id
                ? BenchCard.Text(
                    $"Identify the chip: the device ID is 0x{id.Value:X4}, or differs from it only in the bits 0x{0x3FFF & ~id.Mask:X4}."
                )
                : "Identify the chip by its marking: this type has no device ID."
        );
        AddKeep(card, steps, chip);
        if (device.IsOneTimeProgrammable)
            Add(
                "Check that the chip is blank.",
                "In a plastic package this chip is programmed once: compare the listing again and resolve every doubt first, and program one chip before the others.",
                "Parts with a window are erased by ultraviolet light, which harms eyes and skin: use a closed eraser."
            );
        else
            Add("Erase the chip, and check that it is blank.");
        Add($"Write {name}.");
        Add(
            $"Verify: read the chip to readout.hex, then run: relist compare {name} readout.hex --chip {chip}",
            card.Configuration.Find(ConfigRole.CodeProtection)
                is { Setting.State: ConfigState.On or ConfigState.Partly }
            && card.HasConfiguration
                ? "Code protection is on in this HEX: the chip cannot be read back once it is set. Verify before the configuration is written."
                : ""
        );
        Add(
            card.Checksum is { } sum
                ? BenchCard.Text($"Compare the checksum that the programmer shows: {sum:X4}.")
                : "A checksum cannot be compared: no rule is known for this setting."
        );
        string words = string.Join(
            " and ",
            device.ConfigurationWords.Select(w =>
                card.Subject.Memory[w.Address] is { } value
                    ? BenchCard.Text($"0x{value:X4} at 0x{w.Address:X4}")
                    : BenchCard.Text($"0x{w.Address:X4} by hand (the HEX does not set it)")
            )
        );
        Add(
            $"Check the configuration: {words}. Bits that the chip does not have may read otherwise.",
            device.IsOneTimeProgrammable
                ? "Protection on an EPROM chip may never come off again. Leave it off while you are repairing."
                : "Protection keeps the chip from being read back. Leave it off while you are repairing, unless the owner wants it on."
        );
        Add(
            $"Label the chip: {name}{(card.Checksum is { } shown ? BenchCard.Text($", {shown:X4}") : "")}, date.",
            device.IsOneTimeProgrammable ? "A window needs an opaque label." : ""
        );
        Add(
            "Power up with the supply current limited, and a hand at the switch. Probe as listed before you connect what the board drives.",
            "Motors, relays, heaters and lamps do what an output says, also when it is wrong."
        );
        return steps.ToImmutable();

        void Add(string text, params string[] cautions) =>
            steps.Add(new BenchStep(text, [.. cautions.Where(static c => c.Length > 0)]));
    }

    private static void AddKeep(BenchCard card, ImmutableArray<BenchStep>.Builder steps, string chip)
    {
        var keep = new List<string>();
        if (card.Device.Calibration is { } calibration)
            keep.Add(BenchCard.Text($"the calibration word at 0x{calibration.Address:X4} ({calibration.Content})"));
        if (card.Device.FindField(ConfigRole.FactoryTrim) is { } trim)
            keep.Add(BenchCard.Text($"{trim.Field.Name} in the configuration (bits 0x{trim.Field.Mask:X4})"));
        steps.Add(
            keep.Count > 0
                ? new BenchStep(
                    $"Read the chip and keep the file before you erase it. Note {string.Join(" and ", keep)}: ______  Then look at it: relist readout before.hex --chip {chip}",
                    ["What the factory set is lost when the chip is erased, and nobody can compute it."]
                )
                : new BenchStep(
                    $"Read the chip and keep the file before you erase it. Look at it: relist readout before.hex --chip {chip}",
                    ["Reading out or copying firmware may need the owner's permission."]
                )
        );
    }
}
