using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Readouts;

/// <summary>What a read-out holds, looked at by itself.</summary>
/// <param name="Memory">The words.</param>
/// <param name="Device">The chip: the one that was named, else the one that the device ID names; null where neither is there.</param>
/// <param name="ProgrammedWords">Words of program memory that are not erased.</param>
/// <param name="LastProgrammed">The highest of their addresses, or -1.</param>
/// <param name="EepromBytes">Bytes of the EEPROM that are not erased.</param>
/// <param name="DeviceId">The device ID word, or null where the file has none.</param>
/// <param name="Notes">What else a person should know, in sentences.</param>
/// <param name="Verdict">What it is.</param>
public sealed record ReadoutContent(
    WordMemory Memory,
    Device? Device,
    int ProgrammedWords,
    int LastProgrammed,
    int EepromBytes,
    int? DeviceId,
    ImmutableArray<string> Notes,
    ReadoutVerdict Verdict
)
{
    internal static ReadoutVerdict Swapped { get; } =
        new(
            VerdictKind.BytesSwapped,
            "The byte order is swapped: each word has its two bytes the wrong way round. Save the read-out in the other byte order."
        );

    internal static ReadoutVerdict Half(string half) =>
        new(
            VerdictKind.OneHalf,
            $"The file holds the {half} bytes of the words only. Join both halves: relist readout LOW.hex --high HIGH.hex"
        );

    /// <summary>Looks at a read-out.</summary>
    /// <param name="memory">The words.</param>
    /// <param name="device">The chip that it should be, or null.</param>
    public static ReadoutContent Of(WordMemory memory, Device? device = null)
    {
        ArgumentNullException.ThrowIfNull(memory);
        ushort? identity = memory[HexAreas.DeviceIdentity];
        Device[] known = identity is { } word ? [.. ProgramWords.ChipsOf(word)] : [];
        Device? chip = device ?? (known is [var only] ? only : null);
        var words = ProgramWords.Of(memory);
        ProgramWords own =
            chip?.Calibration is { } calibration && IsFactoryValue(words, calibration)
                ? ProgramWords.Of(WordMemory.From(memory.Where(c => c.Key != calibration.Address)))
                : words;
        return new ReadoutContent(
            memory,
            chip,
            own.Programmed,
            own.LastProgrammed,
            memory.Count(c => HexAreas.Of(c.Key) == HexArea.Eeprom && !MemoryComparison.IsErased(c.Key, c.Value)),
            identity,
            NotesOn(memory, words, chip),
            Judge(memory, words, own, chip, known)
        );
    }

    /// <summary>The chip that the device ID of a read-out names, or null where it names none, or several.</summary>
    public static Device? ChipOf(WordMemory memory)
    {
        ArgumentNullException.ThrowIfNull(memory);
        return memory[HexAreas.DeviceIdentity] is { } word && ProgramWords.ChipsOf(word).Take(2).ToArray() is [var only]
            ? only
            : null;
    }

    private static ReadoutVerdict Judge(
        WordMemory memory,
        ProgramWords words,
        ProgramWords own,
        Device? chip,
        Device[] known
    )
    {
        if (memory.Count == 0)
            return new(VerdictKind.NoWords, "The file holds no word: nothing was read.");
        if (words.Present > 0 && words.Zero == words.Present)
            return new(VerdictKind.AllZero, "All zero: a protected read. Nothing is known of its content.");
        if (known.Length > 0 && chip is not null && !known.Contains(chip))
            return new(
                VerdictKind.OtherChip,
                Text(
                    $"A read-out of another chip type: its device ID 0x{memory[HexAreas.DeviceIdentity]:X4} is that of {string.Join(" or ", known.Select(static d => d.Name))}, not {chip.Name}."
                )
            );
        if (chip is not null && WordLayout.LooksLikeHalf(words, chip.ProgramWords) is { } half)
            return Half(half);
        if (OfSize(words, chip) is { } size)
            return size;
        if (own.Programmed == 0)
        {
            int rest = memory.Count(c =>
                c.Key >= HexAreas.Identification
                && c.Key != HexAreas.DeviceIdentity
                && !IsErasedOutside(c.Key, c.Value, chip)
            );
            string but = words.Programmed == 0 ? "" : " but the calibration word, which the factory sets";
            return rest == 0 ? new(VerdictKind.Blank, $"Blank: every word is erased{but}.")
                : words.Present == 0
                    ? new(VerdictKind.Program, "The file holds no program, only what lies outside program memory.")
                : new(
                    VerdictKind.Blank,
                    Text(
                        $"The program memory is blank{but}, but {rest} word{(rest == 1 ? "" : "s")} outside it {(rest == 1 ? "is" : "are")} programmed."
                    )
                );
        }

        if (WordLayout.LooksSwapped(memory))
            return Swapped;
        if (IsProtected(memory, chip))
            return new(
                VerdictKind.Protected,
                "A protected read: the configuration turns code protection on, so these words do not show the content."
            );
        return new(
            VerdictKind.Program,
            Text(
                $"A program of {own.Programmed} word{(own.Programmed == 1 ? "" : "s")}, up to 0x{own.LastProgrammed:X4}{(chip is null ? "" : ", for " + chip.Name)}."
            )
        );
    }

    private static ReadoutVerdict? OfSize(ProgramWords words, Device? chip)
    {
        if (words.RepeatsFrom() is var size and > 0)
            return new(
                VerdictKind.OtherChip,
                Text(
                    $"A read-out of another chip type (size): the words repeat from 0x{size:X4}, so the chip has {size} words and was read as a larger one."
                )
            );
        if (chip is null)
            return null;
        if (words.Last >= chip.ProgramWords)
            return new(
                VerdictKind.OtherChip,
                Text(
                    $"A read-out of another chip type (size): it has words up to 0x{words.Last:X4}, and {chip.Name} ends at 0x{chip.ProgramWords - 1:X4}."
                )
            );
        // Read-outs hold the whole chip, erased words included: one that ends at another chip's size was read as that chip.
        bool endsErased = words.IsWhole && words.Last + 1 < chip.ProgramWords && !words.IsProgrammed(words.Last);
        return endsErased && int.IsPow2(words.Last + 1) && words.Last + 1 >= 512
            ? new(
                VerdictKind.OtherChip,
                Text(
                    $"A read-out of another chip type (size): it holds {words.Last + 1} words, and {chip.Name} has {chip.ProgramWords}."
                )
            )
            : null;
    }

    private static bool IsFactoryValue(ProgramWords words, CalibrationWord calibration) =>
        words.Has(calibration.Address)
        && InstructionSet.Decode(words.At(calibration.Address)) is { Instruction.Name: "retlw" };

    private static bool IsProtected(WordMemory memory, Device? chip) =>
        chip?.FindField(ConfigRole.CodeProtection) is { } protection
        && memory[protection.Word.Address] is { } word
        && protection.Field.SettingFor(word) is { State: ConfigState.On };

    // The factory's bits of the configuration are no sign of programming.
    private static bool IsErasedOutside(int address, ushort word, Device? chip)
    {
        if (MemoryComparison.IsErased(address, word, chip))
            return true;
        ConfigurationWord? configuration = chip?.ConfigurationWords.FirstOrDefault(w => w.Address == address);
        int trim = configuration?.Field(ConfigRole.FactoryTrim)?.Mask ?? 0;
        return configuration is not null && ((word ^ configuration.Erased) & configuration.Implemented & ~trim) == 0;
    }

    private static ImmutableArray<string> NotesOn(WordMemory memory, ProgramWords words, Device? chip)
    {
        var notes = ImmutableArray.CreateBuilder<string>();
        if (
            chip?.Calibration is { } calibration
            && words.Has(calibration.Address)
            && !IsFactoryValue(words, calibration)
        )
            notes.Add(
                Text(
                    $"The calibration word at 0x{calibration.Address:X4} is 0x{words.At(calibration.Address):X4}, which is not a RETLW: the factory's value is lost."
                )
            );
        int wide = memory.Count(static c => c.Value is > 0x3FFF and < 0xFFFF);
        if (wide > 0)
            notes.Add(
                Text($"{wide} word{(wide == 1 ? " has" : "s have")} more than the 14 bits that these chips have.")
            );
        if (
            chip is not null
            && chip.EepromBytes is var bytes
            && memory.Any(c => HexAreas.Of(c.Key) == HexArea.Eeprom && c.Key - HexAreas.Eeprom >= bytes)
        )
            notes.Add(
                bytes == 0
                    ? $"The file holds EEPROM bytes, and {chip.Name} has no EEPROM."
                    : Text($"The file holds EEPROM bytes beyond the {bytes} that {chip.Name} has.")
            );
        return notes.ToImmutable();
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
