using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Disassembly;

/// <summary>
/// Turns the words of a chip back into a source that assembles to the very same words. Numbers are written with <c>0x</c>,
/// so no radix matters; a word that is no instruction as this tool writes it becomes data. What is written is assembled
/// again and compared with the words, so that nothing is claimed that is not so.
/// </summary>
public static class Disassembler
{
    /// <summary>The source text alone, with LF line ends; see <see cref="Disassemble"/>.</summary>
    /// <param name="memory">The words.</param>
    /// <param name="device">The chip, whose names of registers and bits are used.</param>
    /// <param name="title">What the source is made of, for its first comment.</param>
    public static string Write(WordMemory memory, Device device, string title) =>
        Disassemble(memory, device, title).Text;

    /// <summary>The source and what it cannot give back.</summary>
    /// <param name="memory">The words.</param>
    /// <param name="device">The chip, whose names and memory are used; null where it is not known: then all registers are as numbers.</param>
    /// <param name="title">What the source is made of, for its first comment.</param>
    public static DisassembledProgram Disassemble(WordMemory memory, Device? device, string title)
    {
        ArgumentNullException.ThrowIfNull(memory);
        ArgumentNullException.ThrowIfNull(title);
        var writer = new DisassemblyWriter(memory, device);
        string text = writer.Write(title);
        List<DisassemblyDoubt> doubts = writer.Doubts;
        if (writer.Expected.Count == 0)
            doubts.Add(new DisassemblyDoubt(0, "The file holds no word that a program can have."));
        else if (Disproof(text, writer.Expected) is { } disproof)
            doubts.Add(disproof);
        return new DisassembledProgram(text, [.. doubts]);
    }

    /// <summary>Assembles the text; what speaks against it, or null where it gives the words that it should.</summary>
    private static DisassemblyDoubt? Disproof(string text, SortedDictionary<int, ushort> expected)
    {
        ProgramAnalysis again = Assembler.Assemble(new SourceFile("disassembled.asm", SourceText.From(text)));
        foreach (Problem problem in again.Problems)
        {
            if (problem.Severity == Severity.Error)
                return new DisassemblyDoubt(
                    0,
                    $"Line {problem.Place.Line + 1} of the source does not assemble: {problem.Message}"
                );
        }

        foreach ((int address, ushort word) in expected)
        {
            if (!again.Image.TryGet(address, out ushort made, out _))
                return new DisassemblyDoubt(
                    address,
                    $"The source gives no word at address 0x{address:X4}, where the file has 0x{word:X4}."
                );
            if (made != word)
                return new DisassemblyDoubt(
                    address,
                    $"The source gives 0x{made:X4} at address 0x{address:X4}, where the file has 0x{word:X4}."
                );
        }

        foreach ((int address, ushort made, _) in again.Image.Words)
        {
            if (!expected.ContainsKey(address))
                return new DisassemblyDoubt(
                    address,
                    $"The source gives 0x{made:X4} at address 0x{address:X4}, where the file has no word."
                );
        }

        return null;
    }
}
