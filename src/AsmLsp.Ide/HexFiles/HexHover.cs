using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Readouts;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.HexFiles;

/// <summary>What there is to say about a part of a record: a word with its address and instruction, or the record's own fields.</summary>
public static class HexHover
{
    /// <summary>The explanation at a place, or null where there is no record.</summary>
    public static Explanation? At(HexFile file, LinePosition at)
    {
        ArgumentNullException.ThrowIfNull(file);
        if (file.RecordOn(at.Line) is not { } record)
            return null;
        int colon = record.Column - 1,
            inside = at.Column - colon;
        int end = 9 + 2 * record.Length;
        if (inside < 0 || inside > end + 2)
            return null;
        return inside switch
        {
            < 3 => new(Invariant($"A record of {record.Length} byte{(record.Length == 1 ? "" : "s")}."), new(colon, 3)),
            < 7 => new(AddressOf(record), new(colon + 3, 4)),
            < 9 => new($"Record type {record.Type:X2}: {TypeOf(record.Type)}", new(colon + 7, 2)),
            _ when inside >= end => new(
                record.IsSound
                    ? "The checksum of the record: all its bytes add up to 0 in their low 8 bits."
                    : "The checksum of the record is wrong: a digit of this line is not what was written.",
                new(colon + end, 2)
            ),
            _ => record.Type == 0 ? Word(file, record, (inside - 9) / 2) : null,
        };
    }

    private static Explanation Word(HexFile file, HexRecord record, int index)
    {
        long at = record.ByteAddress + index;
        int address = (int)Math.Min(at / 2, 0xFFFF);
        // Both bytes of the word, as far as they are on this line.
        int low = (int)(address * 2L - record.ByteAddress);
        int from = Math.Max(low, 0),
            to = Math.Min(low + 2, record.Length);
        var columns = new TextSpan(record.Column + 8 + 2 * from, 2 * (to - from));
        var text = new MarkdownText();
        if (file.Reading.Memory[address] is not { } word)
            return new(Invariant($"Byte address 0x{at:X}: outside the memory of these chips."), columns);
        HexArea area = HexAreas.Of(address);
        if (MemoryComparison.IsErased(address, word, file.Device) && area is HexArea.Program)
        {
            text.Paragraph(Invariant($"`0x{address:X4}`: erased (`0x{word:X4}`)"));
            return new(text.ToString(), columns);
        }

        switch (area)
        {
            case HexArea.Program:
                Program(text, file.Device, address, word);
                break;
            case HexArea.Configuration:
                Configuration(text, file.Device, address, word);
                break;
            case HexArea.Eeprom:
                text.Paragraph(
                    Invariant(
                        $"EEPROM byte {address - HexAreas.Eeprom} (`0x{address:X4}`): `0x{word & 0xFF:X2}`, {word & 0xFF}{Character(word & 0xFF)}"
                    )
                );
                break;
            case HexArea.Identification:
                text.Paragraph(
                    Invariant($"ID word {address - HexAreas.Identification} (`0x{address:X4}`): `0x{word:X4}`")
                );
                break;
            default:
                text.Paragraph(
                    address == HexAreas.DeviceIdentity
                        ? Invariant($"Device ID (`0x{address:X4}`): `0x{word:X4}`{Chip(file.Device)}")
                        : Invariant($"`0x{address:X4}`: `0x{word:X4}`, an address where a HEX file should hold nothing")
                );
                break;
        }

        return new(text.ToString(), columns);
    }

    private static void Program(MarkdownText text, Device? chip, int address, ushort word)
    {
        if (InstructionSet.Decode(word) is not { } decoded)
        {
            text.Paragraph(Invariant($"`0x{address:X4}`: `0x{word:X4}`, no instruction"));
            return;
        }

        text.Paragraph(
            Invariant($"`0x{address:X4}`: {MarkdownText.Code(InstructionText.Of(decoded))} (`0x{word:X4}`)")
        );
        text.Paragraph(MarkdownText.Escape(decoded.Instruction.Summary));
        if (
            chip is null
            || decoded.Instruction.Operands
                is not (OperandKind.Register or OperandKind.RegisterDestination or OperandKind.RegisterBit)
        )
            return;
        string[] names =
        [
            .. Enumerable
                .Range(0, chip.DataMemory.BankCount)
                .Select(bank => (bank, register: chip.DataMemory.RegisterAt((bank << 7) | decoded.First)))
                .Where(static r => r.register is not null)
                .GroupBy(static r => r.register!.Name)
                .Select(static g => $"{g.Key} (bank {string.Join(", ", g.Select(static r => r.bank))})"),
        ];
        if (names.Length > 0)
            text.Paragraph(
                MarkdownText.Escape(
                    Invariant($"Register 0x{decoded.First:X2} of {chip.Name}: {string.Join(", ", names)}")
                )
            );
    }

    private static void Configuration(MarkdownText text, Device? chip, int address, ushort word)
    {
        text.Paragraph(Invariant($"Configuration (`0x{address:X4}`): `0x{word:X4}`"));
        if (chip?.ConfigurationWords.FirstOrDefault(w => w.Address == address) is not { } known)
        {
            text.Paragraph("The chip is not known, so the fields are not shown.");
            return;
        }

        foreach (DecodedField field in known.Decode(word))
            text.Bullet($"{MarkdownText.Code(field.Field.Name)}: {MarkdownText.Escape(field.Meaning)}");
    }

    private static string AddressOf(HexRecord record) =>
        record.Type != 0
            ? "The offset: 0000 in a record without data."
            : Invariant(
                $"Byte address 0x{record.ByteAddress:X4}: word `0x{record.ByteAddress / 2:X4}`{(record.ByteAddress % 2 == 0 ? "" : ", its high byte")}"
            );

    private static string TypeOf(int type) =>
        type switch
        {
            0 => "data",
            1 => "the end of the file",
            2 => "a segment address, for the records that follow",
            3 => "a start address, which these chips do not use",
            4 => "the upper half of the address, for the records that follow",
            5 => "a start address, which these chips do not use",
            _ => "there is no such type",
        };

    private static string Character(int value) =>
        value is > ' ' and < 0x7F ? $", {MarkdownText.Code(((char)value).ToString())}" : "";

    private static string Chip(Device? chip) => chip is null ? "" : $", {chip.Name}";

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
