using System.Globalization;
using System.Text;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Disassembly;

/// <summary>
/// Turns the words of a chip back into a source that assembles to the very same words. Numbers are written with <c>0x</c>,
/// so no radix matters; a word that is no instruction as this tool writes it becomes data.
/// </summary>
public static class Disassembler
{
    private const int StatusRegister = 3;

    /// <summary>The source text, with LF line ends.</summary>
    /// <param name="memory">The words.</param>
    /// <param name="device">The chip, whose names of registers and bits are used.</param>
    /// <param name="title">What the source is made of, for its first comment.</param>
    public static string Write(WordMemory memory, Device device, string title)
    {
        ArgumentNullException.ThrowIfNull(memory);
        ArgumentNullException.ThrowIfNull(device);
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"; {title}\n; Names of routines and variables are not in a chip; those here are made from addresses.\n");
        text.Append(CultureInfo.InvariantCulture, $"        list p={device.Name["PIC".Length..].ToLowerInvariant()}\n        #include <p{device.Name["PIC".Length..].ToLowerInvariant()}.inc>\n\n");
        var names = new Names(memory, device);
        Configuration(text, memory, device);
        int next = -1;
        foreach ((int address, ushort word) in memory)
        {
            HexArea area = HexAreas.Of(address);
            if (area == HexArea.Configuration && device.ConfigurationWords.Any(w => w.Address == address)) continue;
            if (address != next) text.Append(CultureInfo.InvariantCulture, $"\n        org 0x{address:X4}\n");
            next = address + 1;
            string label = area == HexArea.Program && names.LabelAt(address) is { } known ? known : "";
            string code = area == HexArea.Program ? names.Code(word) : area == HexArea.Eeprom && word <= 0xFF ? $"de 0x{word:X2}" : $"dw 0x{word:X4}";
            text.Append(CultureInfo.InvariantCulture, $"{label,-7} {code,-24}; {address:X4} {word:X4}\n");
        }

        text.Append("\n        end\n");
        return text.ToString();
    }

    private static void Configuration(StringBuilder text, WordMemory memory, Device device)
    {
        foreach (ConfigurationWord word in device.ConfigurationWords)
        {
            if (memory[word.Address] is not { } value) continue;
            foreach (DecodedField field in word.Decode(value)) text.Append(CultureInfo.InvariantCulture, $"; {field.Field.Name}: {field.Meaning}\n");
            text.Append(CultureInfo.InvariantCulture, $"        __config 0x{word.Address:X4}, 0x{value:X4}\n");
        }
    }

    /// <summary>The names in use: labels for the targets of calls and jumps, registers and bits of the chip.</summary>
    private sealed class Names
    {
        private readonly WordMemory memory;
        private readonly Device device;
        private readonly HashSet<int> targets = [];
        private readonly HashSet<int> called = [];

        public Names(WordMemory memory, Device device)
        {
            this.memory = memory;
            this.device = device;
            foreach ((int address, ushort word) in memory)
            {
                if (HexAreas.Of(address) != HexArea.Program || InstructionSet.Decode(word) is not { Instruction.Operands: OperandKind.Address11 } jump) continue;
                // The page bits of the target are not in the word: only on chips of one page is the target sure.
                if (device.ProgramPages > 1 || memory[jump.First] is null) continue;
                targets.Add(jump.First);
                if (jump.Instruction.IsCall) called.Add(jump.First);
            }
        }

        public string? LabelAt(int address) => targets.Contains(address) ? Label(address) : null;

        public string Code(ushort word)
        {
            if (InstructionSet.Decode(word) is not { IsCanonical: true } decoded) return $"dw 0x{word:X4}";
            string name = decoded.Instruction.Name;
            switch (decoded.Instruction.Operands)
            {
                case OperandKind.None: return name;
                case OperandKind.Register: return $"{name} {Register(decoded.First)}";
                case OperandKind.RegisterDestination: return $"{name} {Register(decoded.First)},{(decoded.Second == 0 ? 'W' : 'F')}";
                case OperandKind.RegisterBit: return $"{name} {Register(decoded.First)},{Bit(decoded.First, decoded.Second)}";
                case OperandKind.Address11: return $"{name} {(targets.Contains(decoded.First) ? Label(decoded.First) : $"0x{decoded.First:X3}")}";
                default: return $"{name} 0x{decoded.First:X2}";
            }
        }

        private string Label(int address) => string.Create(CultureInfo.InvariantCulture, $"{(called.Contains(address) ? "sub" : "at")}{address:X4}");

        // The bank is not in the word either: a register is named only where all banks have the same one at the address.
        private string Register(int low)
        {
            string? name = null;
            for (int bank = 0; bank < device.DataMemory.BankCount; bank++)
            {
                string? here = device.DataMemory.RegisterAt(low | (bank << 7))?.Name;
                if (bank > 0 && here != name) return $"0x{low:X2}";
                name = here;
            }

            return name is not null && device.Symbols.Find(name) is { } symbol && (symbol.Value & 0x7F) == low ? name : $"0x{low:X2}";
        }

        private string Bit(int register, int bit)
        {
            if (register != StatusRegister) return bit.ToString(CultureInfo.InvariantCulture);
            foreach (string name in (ReadOnlySpan<string>)["C", "DC", "Z", "RP0", "RP1", "IRP"])
                if (device.Symbols.Find(name) is { Kind: DeviceSymbolKind.Bit } known && known.Value == bit) return name;
            return bit.ToString(CultureInfo.InvariantCulture);
        }
    }
}
