using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Rendering;

/// <summary>The differences of two memories for people, with source lines where a program is at hand.</summary>
internal static class ComparisonText
{
    /// <summary>Writes the differences; gives whether both would make the same chip.</summary>
    public static bool Write(
        TextWriter output,
        WordMemory first,
        WordMemory second,
        string firstName,
        string secondName,
        ProgramAnalysis? program,
        Func<string, string> shown
    )
    {
        ImmutableArray<Difference> differences = MemoryComparison.Compare(first, second, program?.Device);
        if (differences.IsEmpty)
        {
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Identical: all {first.Count} words of {firstName} and {secondName} agree."
                )
            );
            return true;
        }

        bool harmless = differences.All(d => d.IsHarmless);
        int agree = first.Count(c => second[c.Key] == c.Value);
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{differences.Length} of {first.Select(c => c.Key).Union(second.Select(c => c.Key)).Count()} words differ ({agree} agree)."
            )
        );
        foreach (Difference difference in differences)
        {
            string place = "";
            if (program is not null && program.Image.TryGet(difference.Address, out _, out WordOrigin origin))
                place = string.Create(
                    CultureInfo.InvariantCulture,
                    $"  {shown(origin.File.Name)}:{origin.Line + 1}: {origin.File.Text[origin.Line].Text.Trim()}"
                );
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"0x{difference.Address:X4}  {Name(difference.Kind)}: {firstName} {Text(difference, difference.First)}, {secondName} {Text(difference, difference.Second)}{place}"
                )
            );
        }

        if (harmless)
            output.WriteLine("None of these differences changes what the chip does.");
        return harmless;
    }

    private static string Text(Difference difference, ushort? word)
    {
        if (word is not { } value)
            return "has nothing";
        string hex = value.ToString("X4", CultureInfo.InvariantCulture);
        return HexAreas.Of(difference.Address) == HexArea.Program && InstructionSet.Decode(value) is { } decoded
            ? $"{hex} ({Show(decoded)})"
            : hex;
    }

    private static string Show(DecodedInstruction decoded)
    {
        string name = decoded.Instruction.Name;
        return decoded.Instruction.Operands switch
        {
            OperandKind.RegisterDestination => string.Create(
                CultureInfo.InvariantCulture,
                $"{name} 0x{decoded.First:X2},{(decoded.Second == 0 ? "w" : "f")}"
            ),
            OperandKind.RegisterBit => string.Create(
                CultureInfo.InvariantCulture,
                $"{name} 0x{decoded.First:X2},{decoded.Second}"
            ),
            OperandKind.None => name,
            OperandKind.Address11 => string.Create(CultureInfo.InvariantCulture, $"{name} 0x{decoded.First:X3}"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{name} 0x{decoded.First:X2}"),
        };
    }

    private static string Name(DifferenceKind kind) =>
        kind switch
        {
            DifferenceKind.OnlyInFirst or DifferenceKind.OnlyInSecond => "on one side only",
            DifferenceKind.Operand => "other operand",
            DifferenceKind.Instruction => "other instruction",
            DifferenceKind.DontCareBits => "only bits that the chip ignores",
            DifferenceKind.Configuration => "configuration",
            DifferenceKind.UnusedConfigurationBits => "only configuration bits that the chip lacks",
            DifferenceKind.Identification => "ID word",
            DifferenceKind.Eeprom => "EEPROM byte",
            _ => "unexpected address",
        };
}
