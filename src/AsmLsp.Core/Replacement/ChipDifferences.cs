using AsmLsp.Core.Assembly;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Pins;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Replacement;

/// <summary>What differs between two chips for a program and its board, beside the words: sizes, pins, package, supply, clock, programming.</summary>
internal static class ChipDifferences
{
    public static IEnumerable<ReplacementFinding> Of(ProgramAnalysis program, Device from, Device to)
    {
        foreach (ReplacementFinding finding in Sizes(program, from, to))
            yield return finding;
        foreach (ReplacementFinding finding in Pins(program, from, to))
            yield return finding;
        foreach (ReplacementFinding finding in Electrical(program, from, to))
            yield return finding;
        foreach (string pitfall in to.Pitfalls.Except(from.Pitfalls))
            yield return Note("chip", $"Known of {to.Name}: {pitfall}");
    }

    private static IEnumerable<ReplacementFinding> Sizes(ProgramAnalysis program, Device from, Device to)
    {
        int last = program
            .Image.Words.Where(static w => w.Address < 0x2000)
            .Select(static w => w.Address)
            .DefaultIfEmpty(-1)
            .Max();
        if (last >= to.ProgramWords)
            yield return Impossible(
                "memory",
                Text($"The program goes to 0x{last:X4}, and {to.Name} ends at 0x{to.ProgramWords - 1:X4}.")
            );
        int bytes = program
            .Image.Words.Where(static w => HexAreas.Of(w.Address) == HexArea.Eeprom)
            .Select(static w => w.Address - HexAreas.Eeprom + 1)
            .DefaultIfEmpty(0)
            .Max();
        if (bytes > to.EepromBytes)
            yield return Impossible(
                "memory",
                Text($"The program uses {bytes} EEPROM bytes, and {to.Name} has {to.EepromBytes}.")
            );
        if (to.StackDepth < from.StackDepth)
            yield return Doubt(
                "memory",
                Text(
                    $"The stack of {to.Name} holds {to.StackDepth} return addresses, that of {from.Name} {from.StackDepth}."
                )
            );
        if (to.IsOneTimeProgrammable && !from.IsOneTimeProgrammable)
            yield return Doubt("chip", $"{to.Name} in a plastic package can be programmed once only.");
        if (to.Calibration is { } calibration && from.Calibration is null)
            yield return Note(
                "chip",
                Text(
                    $"{to.Name} holds a factory value at 0x{calibration.Address:X4}: read the chip and keep it before you erase it."
                )
            );
    }

    private static IEnumerable<ReplacementFinding> Pins(ProgramAnalysis program, Device from, Device to)
    {
        if (from.Package is null || to.Package is null)
        {
            yield return Doubt(
                "pins",
                "The package of one of the chips is not known: compare the pin diagrams of both data sheets."
            );
            yield break;
        }

        if (from.Package != to.Package)
            yield return Impossible(
                "pins",
                $"{from.Name} comes in {from.Package}, {to.Name} in {to.Package}: it does not fit the socket."
            );
        PinReport? report = PinReport.Of(program);
        foreach (Pin pin in from.Package == to.Package ? from.Pins : [])
        {
            Pin? there = to.Pins.FirstOrDefault(p => p.Number == pin.Number);
            string[] main = ["VDD", "VSS", "/MCLR"];
            string? lost =
                pin.Functions.FirstOrDefault(f => main.Contains(f) && there?.Functions.Contains(f) != true)
                ?? (IsPort(pin.Name) && there?.Functions.Contains(pin.Name) != true ? pin.Name : null);
            // A pin that the configuration makes reset input or crystal is no port, whatever else it could be.
            bool isTaken =
                lost == pin.Name
                && report?.ConfiguredUse(pin) is not null
                && pin.Functions.Any(f => there?.Functions.Contains(f) == true);
            if (lost is not null && !isTaken)
                yield return Doubt(
                    "pins",
                    Text(
                        $"Pin {pin.Number} is {lost} on {from.Name}, and {there?.Name ?? "not there"} on {to.Name}: the board must change."
                    )
                );
        }

        foreach (string pin in from.OpenDrainPins.Except(to.OpenDrainPins).Where(p => HasPort(to, p)))
            yield return Doubt(
                "pins",
                $"{pin} only pulls low on {from.Name}; {to.Name} drives it high too. Check what the board has there."
            );
        foreach (string pin in to.OpenDrainPins.Except(from.OpenDrainPins).Where(p => HasPort(from, p)))
            yield return Doubt("pins", $"{pin} only pulls low on {to.Name}: as an output it needs a pull-up resistor.");
        foreach (string pin in to.InputOnlyPins.Except(from.InputOnlyPins).Where(p => HasPort(from, p)))
            yield return Doubt("pins", $"{pin} can be no output on {to.Name}.");
        if (to.LowVoltageProgramming is { } low && from.LowVoltageProgramming is null)
            yield return Note(
                "pins",
                $"{low.Pin} is the input of low-voltage programming while that is on; the new configuration turns it off."
            );
    }

    private static IEnumerable<ReplacementFinding> Electrical(ProgramAnalysis program, Device from, Device to)
    {
        if (from.Supply != to.Supply)
            yield return Note(
                "electrical",
                $"Supply of {from.Name}: {from.Supply}. Supply of {to.Name}: {to.Supply}. Check that of the board."
            );
        Clock? clock = ClockFinder.Find(program, program.Options.ClockHertz);
        if (clock is not null && clock.Hertz > to.MaxClockHertz * 1.001)
            yield return Impossible(
                "electrical",
                $"The clock of {clock.Rate} is more than any {to.Name} is made for ({Clock.RateOf(to.MaxClockHertz)})."
            );
        else if (to.MaxClockHertz < from.MaxClockHertz)
            yield return Note(
                "electrical",
                $"{to.Name} goes up to {Clock.RateOf(to.MaxClockHertz)}, {from.Name} up to {Clock.RateOf(from.MaxClockHertz)}."
            );
        if (from.ProgrammingSpecification != to.ProgrammingSpecification)
            yield return Note(
                "electrical",
                $"{to.Name} is programmed after {to.ProgrammingSpecification}, {from.Name} after {from.ProgrammingSpecification}: select the new chip in the programmer. Its programming voltage is in that document."
            );
        if (from.Identity?.Value != to.Identity?.Value)
            yield return Note(
                "electrical",
                to.Identity is { } id
                    ? Text($"The device ID of {to.Name} is 0x{id.Value:X4}.")
                    : $"{to.Name} has no device ID."
            );
    }

    private static bool HasPort(Device device, string pin) => PortPins.Of(device).Pins.Any(p => p.Name == pin);

    private static bool IsPort(string name) => name.Length >= 3 && name[0] is 'R' or 'G' && char.IsAsciiDigit(name[^1]);

    private static ReplacementFinding Note(string area, string text) => new(FindingKind.Note, area, null, text);

    private static ReplacementFinding Doubt(string area, string text) => new(FindingKind.Doubt, area, null, text);

    private static ReplacementFinding Impossible(string area, string text) =>
        new(FindingKind.Impossible, area, null, text);

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
