using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Tests.Assembly;

namespace AsmLsp.Core.Tests.Devices;

/// <summary>
/// What published documents work out themselves, compared with this program. The examples are in worked-examples.json,
/// each with the document and the page that prints it.
/// </summary>
public sealed class WorkedExampleTests
{
    private static readonly JsonElement Root = Read();

    public static TheoryData<string> Checksums => Rows("checksums");

    public static TheoryData<string> Encodings => Rows("instruction_encodings");

    public static TheoryData<string> Effects => Rows("instruction_effects");

    public static TheoryData<string> Loops => Rows("delay_loops");

    [Theory, MemberData(nameof(Checksums))]
    public void A_printed_checksum_is_what_the_chip_gives_under_one_setting_of_its_protection(string row)
    {
        JsonElement example = Parse(row);
        ushort pattern = (ushort)Hex(example.GetProperty("pattern_word"));
        (int, int) printed = (
            Hex(example.GetProperty("blank")),
            Hex(example.GetProperty("with_pattern_at_0_and_last_address"))
        );
        bool isPrintedWrong = example.TryGetProperty("remark", out _);
        foreach (string name in example.GetProperty("devices").EnumerateArray().Select(d => d.GetString()!))
        {
            // Chips that are not described here have no rule that could be compared.
            if (DeviceCatalog.Find(name) is not { } device || device.Name != name)
                continue;
            bool given = Settings(device).Any(s => Pair(device, s, pattern) == printed);
            Assert.True(given != isPrintedWrong, $"{name} {row}");
        }
    }

    [Fact]
    public void Most_printed_checksums_are_of_chips_that_are_described() =>
        Assert.True(
            Root.GetProperty("checksums")
                .EnumerateArray()
                .Count(e =>
                    e.GetProperty("devices").EnumerateArray().Any(d => DeviceCatalog.Find(d.GetString()!) is not null)
                ) > 230
        );

    [Theory, MemberData(nameof(Encodings))]
    public void An_instruction_gives_the_word_of_its_printed_pattern(string row)
    {
        JsonElement example = Parse(row);
        string name = example.GetProperty("mnemonic").GetString()!;
        string pattern = example
            .GetProperty("encoding_as_printed")
            .GetString()!
            .Replace(" ", "", StringComparison.Ordinal);
        string operands = example.TryGetProperty("operands", out JsonElement given)
            ? given.GetString()!
            : Usual(pattern);
        ProgramAnalysis program = Check.Assemble(
            $" list p=16f84a\n include <p16f84a.inc>\n org 0\n {name} {operands}\n end\n"
        );
        Assert.True(program.Image.TryGet(0, out ushort word, out _), name);
        int at = 0;
        foreach (char c in pattern)
        {
            bool bit = (word >> (13 - at++) & 1) == 1;
            if (c is '0' or '1')
                Assert.True(bit == (c == '1'), $"{name}: bit {14 - at} of {word:X4} against {pattern}");
        }

        Assert.Equal(14, at);
        // CLRW is printed with don't-care bits; those of the data sheet's own table are used (0x0103).
        if (
            example.TryGetProperty("word_from_encoding_with_dont_care_bits_0", out JsonElement printed)
            && name != "CLRW"
        )
            Assert.Equal(Hex(printed), word);
    }

    [Theory, MemberData(nameof(Effects))]
    public void An_instruction_does_what_its_printed_example_does(string row)
    {
        JsonElement example = Parse(row);
        string source = example.GetProperty("instruction").GetString()!;
        ProgramAnalysis program = Check.Assemble(
            $" list p=16f84a\n include <p16f84a.inc>\nFLAG_REG equ 20h\nREG equ 20h\nREG1 equ 20h\nCNT equ 20h\nRESULT equ 20h\n org 0\n {source}\n end\n"
        );
        Assert.False(program.HasErrors);
        Processor chip = Processor.Of(program);
        foreach (JsonProperty value in example.GetProperty("before").EnumerateObject())
            SetValue(chip, value.Name, Number(value.Value));
        Assert.Equal(StepResult.Executed, chip.Step());
        foreach (JsonProperty value in example.GetProperty("after").EnumerateObject())
            Assert.True(
                Number(value.Value) == Value(chip, value.Name),
                $"{value.Name} is {Value(chip, value.Name):X2}: {row}"
            );
    }

    [Theory, MemberData(nameof(Loops))]
    public void A_delay_takes_the_printed_time(string row)
    {
        JsonElement example = Parse(row);
        string[] lines = [.. example.GetProperty("source_lines").EnumerateArray().Select(l => l.GetString()!)];
        bool calls = lines[0].Contains("call", StringComparison.Ordinal);
        string routine = string.Join("\n", calls ? lines[1..] : lines);
        ProgramAnalysis program = Check.Assemble(
            $" list p=16f84a\n include <p16f84a.inc>\nL1 equ 20h\nL2 equ 21h\n org 0\n call DitTime\n goto $\n{routine}\n end\n"
        );
        Assert.False(program.HasErrors);
        Processor chip = Processor.Of(program);
        do chip.Step();
        while (chip.ProgramCounter != 1);
        long cycles = example.GetProperty("cycles").GetInt64();
        Assert.Equal(cycles, chip.Cycles);
        Assert.Equal(new CycleRange(cycles, cycles), FlowGraph.Of(program).Times.Call(0));
    }

    [Fact]
    public void A_printed_sum_of_a_PIC16F726_is_worked_out_alike()
    {
        JsonElement example = Root.GetProperty("checksum_arithmetic")[0];
        JsonElement inputs = example.GetProperty("inputs");
        Device device = DeviceCatalog.Find("PIC16F726")!;
        var cells = new List<KeyValuePair<int, ushort>>
        {
            new(0x2007, (ushort)Hex(inputs.GetProperty("config1"))),
            new(0x2008, (ushort)Hex(inputs.GetProperty("config2"))),
        };
        // Words whose sum is the printed one: all 0 but the first.
        for (int i = 0; i < device.ProgramWords; i++)
            cells.Add(new(i, i == 0 ? (ushort)Hex(inputs.GetProperty("sum_of_program_words_0000_1FFF")) : (ushort)0));
        Assert.Equal(Hex(example.GetProperty("result")), DeviceChecksum.Compute(device, WordMemory.From(cells)));
    }

    [Fact]
    public void On_a_protected_PIC16F726_the_ID_words_count_in_another_way_so_no_sum_is_shown()
    {
        var memory = WordMemory.From([KeyValuePair.Create(0x2007, (ushort)0x2A83)]);
        Assert.Null(DeviceChecksum.Compute(DeviceCatalog.Find("PIC16F726")!, memory));
    }

    [Theory]
    [InlineData("12F635", 2, 0x0000)]
    [InlineData("16C62A", 3, 0x0000)]
    public void The_low_digits_of_the_ID_words_make_one_number(string chip, int index, int protection)
    {
        JsonElement example = Root.GetProperty("checksum_arithmetic")[index];
        Device device = DeviceCatalog.Find(chip)!;
        (ConfigurationWord word, ConfigField field) = device.FindField(ConfigRole.CodeProtection)!.Value;
        ushort closed = (ushort)(word.Erased & ~field.Mask | protection);
        int Sum(params ushort[] ids) =>
            DeviceChecksum
                .Compute(
                    device,
                    WordMemory.From([
                        new(word.Address, closed),
                        .. ids.Select((id, i) => KeyValuePair.Create(device.UserId.First + i, id)),
                    ])
                )!
                .Value;
        ushort[] printed =
        [
            .. example.GetProperty("inputs").GetProperty("id_words").EnumerateArray().Select(i => (ushort)Hex(i)),
        ];
        Assert.Equal(Hex(example.GetProperty("result")), Sum(printed) - Sum(0, 0, 0, 0) & 0xFFFF);
    }

    [Fact]
    public void Words_stand_in_the_HEX_file_where_the_documents_say()
    {
        JsonElement example = Root.GetProperty("hex_file")[0];
        Assert.Equal(0x2007, Hex(example.GetProperty("word_address")));
        string hex = IntelHexWriter.Write(
            WordMemory.From([KeyValuePair.Create(0x2007, (ushort)0x1234), KeyValuePair.Create(0x2100, (ushort)0x4D)])
        );
        // Two bytes a word, low byte first, at twice the word address (DS41332B, page 23); EEPROM one byte a word (DS41287C, page 31).
        Assert.Contains(":02400E003412", hex, StringComparison.Ordinal);
        Assert.Contains(":024200004D00", hex, StringComparison.Ordinal);
    }

    [Fact]
    public void A_text_for_the_EEPROM_in_the_printed_form_gives_its_bytes() =>
        Check.Gives(
            "0:2800; 2100:004D 0079 0020 0050 0072 006F 0067 0072 0061 006D 002C 0020 0076 0031 002E 0030 0000",
            " list p=16f887\n org 0\n goto $\n org 0x2100\n de \"My Program, v1.0\", 0\n end\n"
        );

    [Theory]
    [InlineData(
        "16F639",
        "_HS_OSC & _WDT_ON & _PWRTE_OFF & _MCLRE_ON & _CP_OFF & _CPD_OFF & _BOD_OFF & _IESO_OFF & _FCMEN_ON & _WUREN_ON",
        0x28FA,
        0x1FFF
    )]
    [InlineData(
        "12F635",
        "_INTRC_OSC_NOCLKOUT & _WDT_OFF & _PWRTE_OFF & _MCLRE_OFF & _CP_OFF & _CPD_OFF & _BOD_OFF & _IESO_OFF & _FCMEN_OFF & _WUREN_OFF",
        0x30D4,
        0x1FFF
    )]
    public void Settings_of_a_published_program_give_its_configuration_word(
        string chip,
        string settings,
        int word,
        int mask
    )
    {
        ProgramAnalysis program = Check.Assemble(
            $" list p={chip}\n include <p{chip}.inc>\n __config {settings}\n org 0\n goto $\n end\n"
        );
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        Assert.Equal(word & mask, program.Image.Memory[0x2007] & mask);
        Assert.Contains(
            Root.GetProperty("configuration_words").EnumerateArray(),
            e => e.GetProperty("device").GetString() == "PIC" + chip && Hex(e.GetProperty("word")) == word
        );
    }

    private static string Usual(string pattern) =>
        pattern.Contains('b') ? "20h,3"
        : pattern.Contains('d') ? "20h,1"
        : pattern.Contains('f')
            ? pattern.Contains("fff") && pattern.Count(c => c == 'f') == 3 ? "5"
                : "20h"
        : pattern.Contains('k') ? "12h"
        : "";

    // Every value of the fields that protect the program and its data.
    private static IEnumerable<(int Word, int Value)> Settings(Device device)
    {
        (ConfigurationWord word, ConfigField code) = device.FindField(ConfigRole.CodeProtection)!.Value;
        foreach (ConfigSetting setting in code.Settings)
            yield return (word.Address, word.Erased & ~code.Mask | setting.Value);
    }

    private static (int, int)? Pair(Device device, (int Address, int Value) configuration, ushort pattern)
    {
        int last = device.ChecksumRules[0].Sum!.Value.Last;
        int? erased = Sum(device, configuration, []);
        int? marked = Sum(device, configuration, [new(0, pattern), new(last, pattern)]);
        return erased is null || marked is null ? null : (erased.Value, marked.Value);
    }

    // The documents assume that the ID words hold the sum of the open chip, one digit a word.
    private static int? Sum(Device device, (int Address, int Value) configuration, KeyValuePair<int, ushort>[] program)
    {
        int open = DeviceChecksum.Compute(device, WordMemory.From(program))!.Value;
        return DeviceChecksum.Compute(
            device,
            WordMemory.From([
                .. program,
                new(configuration.Address, (ushort)configuration.Value),
                .. Enumerable
                    .Range(0, 4)
                    .Select(i => new KeyValuePair<int, ushort>(
                        device.UserId.First + i,
                        (ushort)(open >> (12 - 4 * i) & 0xF)
                    )),
            ])
        );
    }

    private static int Number(JsonElement value) =>
        value.ValueKind == JsonValueKind.Number ? value.GetInt32() : Hex(value);

    private static int Hex(JsonElement value) =>
        int.Parse(value.GetString()!.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);

    private static TheoryData<string> Rows(string group) =>
        [.. Root.GetProperty(group).EnumerateArray().Select(row => row.GetRawText())];

    private static JsonElement Parse(string row) => JsonDocument.Parse(row).RootElement;

    private static JsonElement Read([CallerFilePath] string here = "") =>
        JsonDocument
            .Parse(File.ReadAllText(Path.Combine(Path.GetDirectoryName(here)!, "worked-examples.json")))
            .RootElement;

    // W, the flags and the registers that the printed examples name.
    private static int Value(Processor chip, string name) =>
        name switch
        {
            "W" => chip.W,
            "C" => chip.Status & 1,
            "Z" => chip.Status >> 2 & 1,
            _ => chip.Peek(name == "FSR" ? 4 : 0x20),
        };

    private static void SetValue(Processor chip, string name, int value)
    {
        if (name == "W")
            chip.W = value;
        else if (name is "C" or "Z")
            chip.Status = chip.Status & ~(name == "C" ? 1 : 4) | value * (name == "C" ? 1 : 4);
        else
            chip.Poke(name == "FSR" ? 4 : 0x20, value);
    }
}
