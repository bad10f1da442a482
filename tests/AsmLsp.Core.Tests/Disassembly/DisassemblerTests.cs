using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Disassembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Disassembly;

public class DisassemblerTests
{
    private static readonly string[] Chips = ["PIC16F84A", "PIC16F628A", "PIC16F877A", "PIC12F675", "PIC16F887", "PIC16C74"];

    [Fact]
    public void Any_words_come_back_the_same_from_their_source() =>
        Gen.Select(Gen.Int[0, Chips.Length - 1].Select(i => Chips[i]), Gen.Dictionary(Gen.Int[0, 0x1FF], Gen.UShort[0, 0x3FFF])[1, 200], Gen.UShort[0, 0x3FFF], Gen.Byte.Array[0, 20]).Sample((chip, program, configuration, eeprom) =>
        {
            Device device = DeviceCatalog.Find(chip)!;
            var cells = new Dictionary<int, ushort>(program) { [0x2007] = configuration, [0x2001] = 5 };
            for (int i = 0; i < eeprom.Length && i < device.EepromBytes; i++) cells[0x2100 + i] = eeprom[i];
            WordMemory memory = WordMemory.From(cells);
            string source = Disassembler.Write(memory, device, "test");
            ProgramAnalysis again = Assembler.Assemble(new SourceFile("again.asm", SourceText.From(source)));
            return !again.HasErrors && again.Image.Memory.SequenceEqual(memory);
        }, iter: 300);

    [Fact]
    public void Every_word_of_fourteen_bits_comes_back()
    {
        Device device = DeviceCatalog.Find("PIC16F877A")!;
        WordMemory memory = WordMemory.From(Enumerable.Range(0, 0x2000).Select(i => KeyValuePair.Create(i, (ushort)(i * 2))));
        foreach (int odd in (int[])[0, 1])
        {
            WordMemory half = WordMemory.From(memory.Select(c => KeyValuePair.Create(c.Key, (ushort)(c.Value + odd))));
            ProgramAnalysis again = Assembler.Assemble(new SourceFile("again.asm", SourceText.From(Disassembler.Write(half, device, "test"))));
            Assert.False(again.HasErrors);
            Assert.True(again.Image.Memory.SequenceEqual(half));
        }
    }

    [Fact]
    public void Names_of_the_chip_and_labels_are_used_where_they_are_sure()
    {
        string source = Disassembler.Write(
            WordMemory.From([new(0, 0x2803), new(1, 0x1683), new(2, 0x0008), new(3, 0x2001), new(0x2007, 0x3FF1)]), DeviceCatalog.Find("16F84A")!, "read-out");
        Assert.Contains("goto at0003", source, StringComparison.Ordinal);
        Assert.Contains("sub0001 bsf STATUS,RP0", source, StringComparison.Ordinal);
        Assert.Contains("; WDTE: watchdog off", source, StringComparison.Ordinal);
    }
}
