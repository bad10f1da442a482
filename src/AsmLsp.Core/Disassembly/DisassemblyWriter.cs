using System.Globalization;
using System.Text;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Disassembly;

/// <summary>Lays the words of a memory out as source lines.</summary>
internal sealed class DisassemblyWriter
{
    private const int MostBits = 0x3FFF,
        PerLine = 8;

    private readonly Device? device;
    private readonly SelectionTrace trace;
    private readonly ChipNames names;
    private readonly SortedDictionary<int, ushort> outside = [];
    private readonly Dictionary<int, ushort> cut = [];

    public DisassemblyWriter(WordMemory memory, Device? device)
    {
        this.device = device;
        foreach ((int address, ushort word) in memory)
        {
            if (Exists(address))
                Expected.Add(address, word);
            else
                outside.Add(address, word);
        }

        Cut();
        var kept = WordMemory.From(Expected);
        trace = new SelectionTrace(kept, device);
        names = new ChipNames(kept, device, trace);
    }

    /// <summary>The words that the source gives: those of the file that exist in the chip, cut to 14 bits.</summary>
    public SortedDictionary<int, ushort> Expected { get; } = [];

    public List<DisassemblyDoubt> Doubts { get; } = [];

    public string Write(string title)
    {
        // The words come first: only then it is known which variables they use.
        var words = new StringBuilder();
        Words(words);
        var text = new StringBuilder();
        text.Append(
            CultureInfo.InvariantCulture,
            $"; {title.ReplaceLineEndings(" ")}\n; Names of routines and variables are not in a chip; those here are made from addresses.\n"
        );
        if (device is not null)
        {
            string chip = device.Name["PIC".Length..].ToLowerInvariant();
            text.Append(
                CultureInfo.InvariantCulture,
                $"; A register is written as a number where its bank is not certain.\n        list p={chip}\n        #include <p{chip}.inc>\n"
            );
        }

        Configuration(text);
        if (IdentificationNumber() is { } id)
            text.Append(CultureInfo.InvariantCulture, $"\n        __idlocs 0x{id:X4}\n");
        if (names.Variables.Count > 0)
            text.Append('\n');
        foreach ((int address, string name) in names.Variables)
            text.Append(CultureInfo.InvariantCulture, $"{name, -7} equ 0x{address:X2}\n");
        text.Append(words);
        Outside(text);
        return text.Append("\n        end\n").ToString();
    }

    private bool Exists(int address)
    {
        if (device is null)
            return HexAreas.Of(address) != HexArea.Other;
        return HexAreas.Of(address) switch
        {
            HexArea.Program => address < device.ProgramWords,
            HexArea.Identification => true,
            HexArea.Configuration => device.ConfigurationWords.Any(w => w.Address == address),
            HexArea.Eeprom => address < Device.EepromAddress + device.EepromBytes,
            _ => false,
        };
    }

    // One doubt for a run of words that have too many bits.
    private void Cut()
    {
        int next = -1;
        foreach ((int address, ushort word) in Expected.ToArray())
        {
            if (word <= MostBits)
                continue;
            Expected[address] = (ushort)(word & MostBits);
            cut.Add(address, word);
            if (address != next)
                Doubts.Add(
                    new DisassemblyDoubt(
                        address,
                        $"The file has 0x{word:X4} at address 0x{address:X4}, but words of these chips have 14 bits: the source gives 0x{word & MostBits:X4}, and likewise for later words that are marked ';?'."
                    )
                );
            next = address + 1;
        }
    }

    private void Configuration(StringBuilder text)
    {
        foreach ((int address, ushort word) in Expected)
        {
            if (HexAreas.Of(address) != HexArea.Configuration)
                continue;
            text.Append('\n');
            string remark = cut.TryGetValue(address, out ushort whole) ? $" ;? the file has 0x{whole:X4} here" : "";
            if (device?.ConfigurationWords.FirstOrDefault(w => w.Address == address) is { } known)
                ConfigurationText.Write(text, device, known, word, remark);
            else
                text.Append(CultureInfo.InvariantCulture, $"        __config 0x{address:X4}, 0x{word:X4}{remark}\n");
        }
    }

    // Four ID words of one digit each are one number; other ones are as words at their addresses.
    private int? IdentificationNumber()
    {
        int number = 0;
        for (int i = 0; i < 4; i++)
        {
            int address = HexAreas.Identification + i;
            if (!Expected.TryGetValue(address, out ushort word) || word > 0xF || cut.ContainsKey(address))
                return null;
            number = number << 4 | word;
        }

        return number;
    }

    private void Words(StringBuilder text)
    {
        bool hasNumber = IdentificationNumber() is not null;
        int next = -1;
        bool flowEnded = false;
        int[] addresses = [.. Expected.Keys];
        for (int i = 0; i < addresses.Length; )
        {
            int address = addresses[i];
            HexArea area = HexAreas.Of(address);
            if (area == HexArea.Configuration || (area == HexArea.Identification && hasNumber))
            {
                i++;
                continue;
            }

            if (address != next)
                text.Append(CultureInfo.InvariantCulture, $"\n        org 0x{address:X4}\n");
            else if (flowEnded && (names.LabelAt(address) is not null))
                text.Append('\n');
            flowEnded = false;
            int count = 1;
            if (area == HexArea.Eeprom && Expected[address] <= 0xFF && !cut.ContainsKey(address))
                Bytes(text, address, count = Run(address, PerLine, a => Expected[a] <= 0xFF));
            else if (area == HexArea.Program && !IsData(address))
                count = Instruction(text, address, out flowEnded);
            else
                count = Data(text, address);
            next = address + count;
            i += count;
        }
    }

    /// <summary>How many words are side by side from an address on, in one area, without a label between, that pass a test.</summary>
    private int Run(int from, int most, Func<int, bool> passes)
    {
        int count = 1;
        while (
            count < most
            && Expected.ContainsKey(from + count)
            && HexAreas.Of(from + count) == HexAreas.Of(from)
            && names.LabelAt(from + count) is null
            && !cut.ContainsKey(from)
            && !cut.ContainsKey(from + count)
            && passes(from + count)
        )
            count++;
        return count;
    }

    private bool IsData(int address) =>
        cut.ContainsKey(address) || InstructionSet.Decode(Expected[address]) is not { IsCanonical: true };

    private int Instruction(StringBuilder text, int address, out bool flowEnded)
    {
        flowEnded = false;
        DecodedInstruction decoded = InstructionSet.Decode(Expected[address])!.Value;
        string remark =
            decoded.Instruction.Name == "retlw" && decoded.First is >= 0x20 and <= 0x7E
                ? $"'{(char)decoded.First}'"
                : "";
        if (device is not null && trace.HasInterrupt && address == device.InterruptVector)
            text.Append("; An interrupt comes here.\n");
        else if (device?.Calibration?.Address == address)
            remark = device.Calibration.Content;
        Line(text, address, names.Code(address, decoded), remark);
        flowEnded = decoded.Instruction.IsJump || decoded.Instruction.IsReturn;
        return 1;
    }

    private int Data(StringBuilder text, int address)
    {
        ushort word = Expected[address];
        if (cut.TryGetValue(address, out ushort whole))
        {
            Line(text, address, $"dw 0x{word:X4}", $"? the file has 0x{whole:X4} here");
            return 1;
        }

        bool isProgram = HexAreas.Of(address) == HexArea.Program;
        // A word that runs as an instruction although it is written in another form is alone, with what it does.
        if (isProgram && word != MostBits && InstructionSet.Decode(word) is { } decoded)
        {
            Line(text, address, $"dw 0x{word:X4}", $"runs as {names.Code(address, decoded)}");
            return 1;
        }

        // 'fill' would be shorter for erased words, but printed listings do not resolve what it counts.
        int count = Run(
            address,
            PerLine,
            a =>
                !isProgram ? HexAreas.Of(a) != HexArea.Eeprom || Expected[a] > 0xFF
                : word == MostBits ? Expected[a] == MostBits
                : InstructionSet.Decode(Expected[a]) is null
        );
        Line(
            text,
            address,
            "dw " + string.Join(',', Enumerable.Range(address, count).Select(a => $"0x{Expected[a]:X4}")),
            isProgram && word == MostBits ? "erased" : ""
        );
        return count;
    }

    private void Bytes(StringBuilder text, int address, int count)
    {
        IEnumerable<int> bytes = Enumerable.Range(address, count).Select(a => (int)Expected[a]);
        bool isText = count > 1 && bytes.All(b => b is >= 0x20 and <= 0x7E);
        Line(
            text,
            address,
            "de " + string.Join(',', bytes.Select(b => $"0x{b:X2}")),
            isText ? $"\"{string.Concat(bytes.Select(b => (char)b))}\"" : ""
        );
    }

    private void Line(StringBuilder text, int address, string code, string remark)
    {
        string label = HexAreas.Of(address) == HexArea.Program ? names.LabelAt(address) ?? "" : "";
        if (remark.Length == 0)
            text.Append(CultureInfo.InvariantCulture, $"{label, -7} {code}\n");
        else
            text.Append(
                CultureInfo.InvariantCulture,
                $"{label, -7} {code, -23} ;{(remark[0] == '?' ? "" : " ")}{remark}\n"
            );
    }

    // Nothing of the file is dropped: what the chip does not have stays in sight as a comment.
    private void Outside(StringBuilder text)
    {
        int next = -1;
        foreach ((int address, ushort word) in outside)
        {
            if (address != next)
            {
                int end = address;
                while (outside.ContainsKey(end + 1))
                    end++;
                string where = end == address ? $"address 0x{address:X4}" : $"addresses 0x{address:X4} to 0x{end:X4}";
                string message =
                    $"The file has {(end == address ? "a word" : "words")} at {where}, which {device?.Name ?? "no chip of this family"} {(device is null ? "has" : "does not have")}: not in the program.{(address <= HexAreas.DeviceIdentity && end >= HexAreas.DeviceIdentity ? " (0x2006 is the device ID, which the factory sets.)" : "")}";
                Doubts.Add(new DisassemblyDoubt(address, message));
                text.Append(CultureInfo.InvariantCulture, $"\n;? {message}\n");
            }

            text.Append(CultureInfo.InvariantCulture, $"; 0x{address:X4}: 0x{word:X4}\n");
            next = address + 1;
        }
    }
}
