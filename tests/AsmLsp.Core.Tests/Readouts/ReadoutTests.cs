using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;

namespace AsmLsp.Core.Tests.Readouts;

/// <summary>
/// One read-out for each thing that a read-out can be (tests/fixtures/readouts, where make.py says how each was made), against the
/// build of build.asm for PIC12F629: 1024 words, calibration word at 0x3FF, band-gap bits 13 and 12 (data sheet DS41190G).
/// </summary>
public class ReadoutTests
{
    private static readonly string Folder = Path.Combine(FixturePrograms.Root, "tests", "fixtures", "readouts");

    private static readonly ProgramAnalysis Program = Assembler.Assemble(
        FixturePrograms.Read(Path.Combine(Folder, "build.asm")),
        new FixturePrograms.Beside()
    );

    [Theory]
    [InlineData("blank", VerdictKind.Blank, "Blank: every word is erased.")]
    [InlineData("blank-with-calibration", VerdictKind.Blank, "Blank: every word is erased but the calibration word")]
    [InlineData("all-zero", VerdictKind.AllZero, "All zero: a protected read. Nothing is known of its content.")]
    [InlineData("protected", VerdictKind.Protected, "A protected read: the configuration turns code protection on")]
    [InlineData("same", VerdictKind.SameBuild, "This is the build: all 52 words match.")]
    [InlineData("same-padded", VerdictKind.SameBuild, "This is the build: all 52 words match.")]
    [InlineData("calibration-differs", VerdictKind.FactoryDiffers, "Only the calibration word differs: expected")]
    [InlineData("factory-differs", VerdictKind.FactoryDiffers, "Only what the factory sets for each chip differs")]
    [InlineData("stopped", VerdictKind.Stopped, "This is the build, but programming stopped at 0x0023")]
    [InlineData(
        "shortened",
        VerdictKind.Shortened,
        "This is the build up to 0x0022, but the read-out holds no word from 0x0023"
    )]
    [InlineData(
        "watchdog-on",
        VerdictKind.ConfigurationDiffers,
        "Only the configuration differs: watchdog on in the chip, off in the build."
    )]
    [InlineData("no-configuration", VerdictKind.ConfigurationDiffers, "the read-out has no configuration word")]
    [InlineData("eeprom-differs", VerdictKind.EepromDiffers, "Only the EEPROM differs: 2 bytes.")]
    [InlineData(
        "eeprom-and-watchdog-differ",
        VerdictKind.AreasDiffer,
        "watchdog on in the chip, off in the build; 1 byte of the EEPROM"
    )]
    [InlineData(
        "other-version",
        VerdictKind.OtherVersion,
        "The same program, one version apart: 2 words in glow differ."
    )]
    [InlineData(
        "inserted",
        VerdictKind.OtherVersion,
        "one version apart: 2 words in brighter differ. The read-out is 2 words longer."
    )]
    [InlineData("other-program", VerdictKind.OtherProgram, "This is another program: 0 of 41 words")]
    [InlineData("other-chip-size", VerdictKind.OtherChip, "the words repeat from 0x0400, so the chip has 1024 words")]
    [InlineData("other-chip-larger", VerdictKind.OtherChip, "it has words up to 0x07FF, and PIC12F629 ends at 0x03FF")]
    [InlineData("other-chip-smaller", VerdictKind.OtherChip, "it holds 512 words, and PIC12F629 has 1024")]
    [InlineData("other-chip-id", VerdictKind.OtherChip, "its device ID 0x0FC1 is that of PIC12F675, not PIC12F629")]
    [InlineData("shifted-up", VerdictKind.Shifted, "The words are shifted by one: the read-out holds each word higher")]
    [InlineData(
        "shifted-down",
        VerdictKind.Shifted,
        "The words are shifted by one: the read-out holds each word lower"
    )]
    [InlineData("twice-the-addresses", VerdictKind.Shifted, "The words lie at twice their addresses")]
    [InlineData("swapped", VerdictKind.BytesSwapped, "The byte order is swapped")]
    [InlineData("low-half", VerdictKind.OneHalf, "The file holds the low bytes of the words only.")]
    [InlineData("high-half", VerdictKind.OneHalf, "The file holds the high bytes of the words only.")]
    public void One_sentence_says_what_a_read_out_is(string name, VerdictKind kind, string sentence)
    {
        var comparison = ReadoutComparison.Of(Program.Image.Memory, Read(name), null, Program);
        Assert.Contains(sentence, comparison.Verdict.Sentence, StringComparison.Ordinal);
        Assert.Equal(kind, comparison.Verdict.Kind);
        Assert.Equal(kind is VerdictKind.SameBuild or VerdictKind.FactoryDiffers, comparison.IsSame);
    }

    [Theory]
    [InlineData("blank", VerdictKind.Blank, "Blank: every word is erased.")]
    [InlineData("all-zero", VerdictKind.AllZero, "All zero")]
    [InlineData("protected", VerdictKind.Protected, "A protected read")]
    [InlineData("factory-differs", VerdictKind.Program, "A program of 41 words, up to 0x002B, for PIC12F629.")]
    [InlineData("other-chip-size", VerdictKind.OtherChip, "repeat from 0x0400")]
    [InlineData("other-chip-id", VerdictKind.OtherChip, "PIC12F675")]
    [InlineData("swapped", VerdictKind.BytesSwapped, "swapped")]
    [InlineData("low-half", VerdictKind.OneHalf, "low bytes")]
    [InlineData("high-half", VerdictKind.OneHalf, "high bytes")]
    public void A_read_out_by_itself_is_judged_too(string name, VerdictKind kind, string sentence)
    {
        var content = ReadoutContent.Of(Read(name), DeviceCatalog.Find("12F629"));
        Assert.Contains(sentence, content.Verdict.Sentence, StringComparison.Ordinal);
        Assert.Equal(kind, content.Verdict.Kind);
    }

    [Fact]
    public void An_empty_memory_holds_no_word() =>
        Assert.Equal(VerdictKind.NoWords, ReadoutContent.Of(WordMemory.Empty).Verdict.Kind);

    [Fact]
    public void The_device_id_names_the_chip_where_nobody_does() =>
        Assert.Equal("PIC12F629", ReadoutContent.Of(Read("factory-differs")).Device?.Name);

    [Fact]
    public void A_lost_calibration_word_is_noted()
    {
        var content = ReadoutContent.Of(Read("blank"), DeviceCatalog.Find("12F629"));
        Assert.Contains("the factory's value is lost", Assert.Single(content.Notes), StringComparison.Ordinal);
        Assert.Empty(ReadoutContent.Of(Read("factory-differs"), DeviceCatalog.Find("12F629")).Notes);
    }

    [Fact]
    public void Areas_are_apart_and_neighbors_make_one_group()
    {
        var comparison = ReadoutComparison.Of(Program.Image.Memory, Read("eeprom-and-watchdog-differ"), null, Program);
        Assert.Equal(
            [HexArea.Program, HexArea.Configuration, HexArea.Eeprom, HexArea.Identification],
            comparison.Areas.Select(a => a.Area)
        );
        Assert.Equal([true, false, false, true], comparison.Areas.Select(a => !a.Matters));
        var stopped = ReadoutComparison.Of(Program.Image.Memory, Read("stopped"), null, Program);
        DifferenceGroup group = stopped.Areas[0].Groups[0];
        Assert.Equal((0x23, 0x2B), (group.First, group.Last));
        Assert.Equal(9, group.Words.Length);
    }

    [Fact]
    public void A_routine_is_named_by_its_address_where_there_is_no_source() =>
        Assert.Contains(
            "2 words in the routine at 0x0021 differ",
            ReadoutComparison
                .Of(Program.Image.Memory, Read("other-version"), DeviceCatalog.Find("12F629"))
                .Verdict.Sentence,
            StringComparison.Ordinal
        );

    [Fact]
    public void Two_halves_make_the_words_again()
    {
        WordMemory joined = ReadoutHalves.Join(Read("low-half"), Read("high-half"));
        foreach ((int address, ushort word) in Program.Image.Memory.Where(c => c.Key < 0x2000))
            Assert.Equal(word, joined[address]);
    }

    // Where programming stopped inside a word, some of its bits are still ones: cells are only cleared.
    [Fact]
    public void A_word_that_is_programmed_in_part_is_where_programming_stopped()
    {
        WordMemory stopped = Read("stopped");
        int built = Program.Image.Memory[0x23]!.Value;
        var comparison = ReadoutComparison.Of(
            Program.Image.Memory,
            WordMemory.From(stopped.Append(KeyValuePair.Create(0x23, (ushort)(built | 0x0700)))),
            null,
            Program
        );
        Assert.Equal(VerdictKind.Stopped, comparison.Verdict.Kind);
        Assert.Contains("in part", comparison.Verdict.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_checksum_is_computed_for_each_protection_that_a_published_rule_is_known_for()
    {
        // The rule of DS41196G: the sum of all 2048 words, and the configuration masked with 0x21FF.
        Device chip = DeviceCatalog.Find("16F628A")!;
        System.Collections.Immutable.ImmutableArray<ChecksumCase> cases = ChecksumMatch.CasesOf(chip, WordMemory.Empty);
        Assert.Equal(2, cases.Length);
        Assert.True(cases[0].IsSelected);
        Assert.Equal(DeviceChecksum.Compute(chip, WordMemory.Empty), cases[0].Value);
        Assert.Equal((2048 * 0x3FFF + 0x21FF) & 0xFFFF, cases[0].Value);
    }

    [Theory]
    [InlineData("4E51", 0x4E51)]
    [InlineData(" 0x4e51 ", 0x4E51)]
    [InlineData("4E51h", 0x4E51)]
    [InlineData("", null)]
    [InlineData("4E511", null)]
    [InlineData("-1", null)]
    [InlineData("xyz", null)]
    public void A_checksum_is_read_as_people_type_it(string text, int? value) =>
        Assert.Equal(value, ChecksumMatch.Read(text));

    private static WordMemory Read(string name) =>
        IntelHexReader.Read(File.ReadAllText(Path.Combine(Folder, name + ".hex"))).Memory;
}
