using AsmLsp.Core.Flow.Pins;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Explain;

/// <summary>What an instruction that writes a port or a direction register makes of the pins, with their numbers on the package.</summary>
public static class PinExplainer
{
    /// <summary>An entry of a list for each kind of pin that comes of it; none where no pin is written.</summary>
    internal static IReadOnlyList<string> Of(ExplainContext context)
    {
        if (context.Facts.Address < 0 || context.Facts.Words != 1 || !MayWritePins(context))
            return [];
        if (PinReport.Of(context.Program) is not { } report)
            return [];
        var lines = new List<string>();
        var pins = new List<(string Pin, string State)>();
        foreach (PinFacts pin in report.WrittenBy(context.Facts.Address))
            if (report.After(context.Facts.Address, pin) is { } state)
                pins.Add((Name(pin), Latched(state)));
        foreach (IGrouping<string, string> group in pins.Distinct().GroupBy(static p => p.State, static p => p.Pin))
            lines.Add($"{string.Join(", ", group)}: {group.Key}");
        return lines;
    }

    // Following all ports through the program takes its time; most instructions have nothing to do with pins.
    private static bool MayWritePins(ExplainContext context)
    {
        if (
            context.Program.Device is not { } device
            || !context.Program.Image.TryGet(context.Facts.Address, out ushort word, out _)
            || InstructionSet.Decode(word) is not { } decoded
        )
            return false;
        if (decoded.Instruction.Operands == OperandKind.TrisPort || decoded.First == 0)
            return true;
        for (int bank = 0; bank < device.DataMemory.BankCount; bank++)
            if (device.DataMemory.RegisterAt((bank << 7) | decoded.First) is { Name: { } name })
                if (
                    name == "GPIO"
                    || name.StartsWith("PORT", StringComparison.Ordinal)
                    || name.StartsWith("TRIS", StringComparison.Ordinal)
                    || name.StartsWith("LAT", StringComparison.Ordinal)
                )
                    return true;
        return false;
    }

    /// <summary>A pin with its number and what the program calls it: <c>RB3 (pin 9, lamp)</c>.</summary>
    public static string Name(PinFacts pin)
    {
        ArgumentNullException.ThrowIfNull(pin);
        string[] more =
        [
            .. pin.Package is { } package ? [$"pin {package.Number}"] : (string[])[],
            .. pin.Names.Select(MarkdownText.Code),
        ];
        return more.Length == 0 ? pin.Name : $"{pin.Name} ({string.Join(", ", more)})";
    }

    // A level that is written to an input shows once the pin becomes an output.
    private static string Latched(PinState state) =>
        state.Direction == PinDirection.Input
        && state.IsAnalog == false
        && state.Special is null
        && state.Level is PinLevel.Low or PinLevel.High
            ? $"{state}; {(state.Level == PinLevel.Low ? "low" : "high")} once it is an output"
            : state.ToString();
}
