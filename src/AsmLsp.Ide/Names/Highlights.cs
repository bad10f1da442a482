using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Names;

/// <summary>A use of a name in a file.</summary>
/// <param name="Place">Where it is.</param>
/// <param name="IsWrite">Whether it is defined there, or the register that it names is written.</param>
public readonly record struct Highlight(SourcePlace Place, bool IsWrite);

/// <summary>The uses of a name in one file, those that write to a register marked.</summary>
public static class Highlights
{
    /// <summary>The uses of the name at a place.</summary>
    public static IEnumerable<Highlight> At(ProgramFile file, LinePosition at) =>
        NameUse.At(file, at) is { } name
            ? name.Everywhere(file)
                .Where(place => place.File == file.Source)
                .Select(place => new Highlight(place.Place, place.IsDefinition || Writes(file, place)))
            : [];

    /// <summary>Whether the instruction on the line writes to the register that the name means.</summary>
    private static bool Writes(ProgramFile file, NamePlace place)
    {
        LineSyntax line = file.Line(place.Line);
        if (
            line.OperationKind != OperationKind.Instruction
            || line.Operands.Length == 0
            || !line.Operands[0].Span.Overlaps(place.Columns)
        )
        {
            return false;
        }

        string operation = line.Operation!;
        if (InstructionSet.Find(operation) is not { } instruction)
        {
            return Shorthand.Find(operation) is { Name: "negf" or "addcf" or "subcf" or "adddcf" or "subdcf" };
        }

        return instruction.Operands switch
        {
            OperandKind.Register => true,
            OperandKind.RegisterBit => instruction.Name is "bsf" or "bcf",
            OperandKind.RegisterDestination => line.Operands.Length < 2
                || line.Operands[1].Text is not ("w" or "W" or "0"),
            _ => false,
        };
    }
}
