using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Tests.Devices;

/// <summary>Single facts compared with the document named beside them.</summary>
public sealed class KnownFactsTests
{
    // Memory maps and device tables: DS35007B, DS30445D, DS40300C, DS40044B, DS30292C, DS39582C, DS41190G, DS40039C,
    // DS41211D, DS39598E, DS40001291H, DS30325B.
    [Theory]
    [InlineData("16F84A", 1024, 68, 64, 2)]
    [InlineData("16C84", 1024, 36, 64, 2)]
    [InlineData("16F628", 2048, 224, 128, 4)]
    [InlineData("16F648A", 4096, 256, 256, 4)]
    [InlineData("16F877", 8192, 368, 256, 4)]
    [InlineData("16F873A", 4096, 192, 128, 4)]
    [InlineData("12F675", 1024, 64, 128, 2)]
    [InlineData("16F676", 1024, 64, 128, 2)]
    [InlineData("12F683", 2048, 128, 256, 2)]
    [InlineData("16F819", 2048, 256, 256, 4)]
    [InlineData("16F887", 8192, 368, 256, 4)]
    [InlineData("16F77", 8192, 368, 0, 4)]
    public void Sizes_are_those_of_the_data_sheet(string chip, int words, int bytes, int eeprom, int banks)
    {
        Device device = DeviceCatalog.Find(chip)!;
        Assert.Equal(words, device.ProgramWords);
        Assert.Equal(bytes, device.DataMemory.GeneralPurposeBytes);
        Assert.Equal(eeprom, device.EepromBytes);
        Assert.Equal(banks, device.DataMemory.BankCount);
    }

    // DS35007B, register file map and special function register summary.
    [Theory]
    [InlineData("STATUS", 0x03)]
    [InlineData("PORTB", 0x06)]
    [InlineData("EEDATA", 0x08)]
    [InlineData("INTCON", 0x0B)]
    [InlineData("OPTION_REG", 0x81)]
    [InlineData("OPTION", 0x81)]
    [InlineData("TRISB", 0x86)]
    [InlineData("EECON1", 0x88)]
    [InlineData("Z", 2)]
    [InlineData("NOT_TO", 4)]
    [InlineData("RP0", 5)]
    [InlineData("T0IF", 2)]
    [InlineData("TMR0IF", 2)]
    [InlineData("RBPU", 7)]
    [InlineData("NOT_RBPU", 7)]
    [InlineData("RA4", 4)]
    [InlineData("TRISB7", 7)]
    [InlineData("W", 0)]
    [InlineData("F", 1)]
    [InlineData("_CONFIG", 0x2007)]
    [InlineData("__16F84A", 1)]
    public void Built_in_names_of_the_16F84A_have_the_values_of_its_data_sheet(string name, int value) =>
        Assert.Equal(value, DeviceCatalog.Find("16F84A")!.Symbols.Find(name)?.Value);

    // DS41190G: GPIO, A/D control, comparator; the spellings are common practice in published programs.
    [Theory]
    [InlineData("GP5", 5)]
    [InlineData("GPIO5", 5)]
    [InlineData("TRISIO2", 2)]
    [InlineData("ANS3", 3)]
    [InlineData("GO", 1)]
    [InlineData("GO_DONE", 1)]
    [InlineData("NOT_DONE", 1)]
    [InlineData("GO_NOT_DONE", 1)]
    [InlineData("EEDATA", 0x9A)]
    [InlineData("EEDAT", 0x9A)]
    [InlineData("OSCCAL", 0x90)]
    [InlineData("CMCON", 0x19)]
    public void Built_in_names_of_the_12F675_have_the_values_of_its_data_sheet(string name, int value) =>
        Assert.Equal(value, DeviceCatalog.Find("12F675")!.Symbols.Find(name)?.Value);

    // The joined words were worked out by hand from the configuration word registers of the data sheets named.
    [Theory]
    [InlineData("16F84A", "_CP_OFF _WDT_OFF _PWRTE_ON _XT_OSC", 0x3FF1)] // DS35007B
    [InlineData("16F84A", "_CP_ON _WDT_OFF _PWRTE_OFF _HS_OSC", 0x000A)] // DS35007B
    [InlineData(
        "16F628A",
        "_INTOSC_OSC_NOCLKOUT _WDT_OFF _PWRTE_ON _MCLRE_OFF _BODEN_OFF _LVP_OFF _CPD_OFF _CP_OFF",
        0x3F10
    )] // DS40044B
    [InlineData("16F877A", "_CP_OFF _WDT_OFF _BODEN_ON _PWRTE_ON _HS_OSC _LVP_OFF", 0x3F72)] // DS39582C
    [InlineData("12F675", "_INTRC_OSC_NOCLKOUT _WDT_OFF _PWRTE_ON _MCLRE_OFF _CP_OFF _CPD_OFF _BODEN_OFF", 0x3F84)] // DS41190G
    [InlineData("16C84", "_CP_OFF _WDT_OFF _PWRTE_ON _RC_OSC", 0x3FFB)] // DS30445D: the delay bit is active high there
    public void Configuration_names_join_to_the_word_of_the_data_sheet(string chip, string names, int word)
    {
        Device device = DeviceCatalog.Find(chip)!;
        int joined = 0x3FFF;
        foreach (string name in names.Split(' '))
            joined &= device.Symbols.Find(name)?.Value ?? throw new InvalidOperationException(name);
        Assert.Equal(word, joined);
    }

    [Fact]
    public void Case_is_needed_by_the_exact_look_up_only()
    {
        DeviceSymbols symbols = DeviceCatalog.Find("16F84A")!.Symbols;
        Assert.Null(symbols.Find("status"));
        Assert.Equal(3, symbols.FindAnyCase("status")!.Value);
        Assert.Equal("STATUS", symbols.FindAnyCase("status")!.Register!.Name);
    }

    [Fact]
    public void Memory_of_the_16F84A_shows_in_both_banks()
    {
        // DS35007B, register file map.
        DataMemory memory = DeviceCatalog.Find("16F84A")!.DataMemory;
        Assert.Equal(0x0C, memory.FirstGeneralPurpose);
        Assert.Equal(0x0C, memory.Canonical(0x8C));
        Assert.Equal(0x4F, memory.Canonical(0xCF));
        Assert.Equal(0x03, memory.Canonical(0x83));
        Assert.Equal(0x86, memory.Canonical(0x86));
        Assert.False(memory.IsImplemented(0x50));
        Assert.False(memory.IsImplemented(0x100));
        Assert.False(memory.IsImplemented(-1));
        Assert.True(memory.IsSameInEveryBank(0x0B));
        Assert.False(memory.IsSameInEveryBank(0x06));
        Assert.Equal(1, DataMemory.BankOf(0x86));
        Assert.Equal(3, DataMemory.BankOf(0x18C));
    }

    [Fact]
    public void An_erased_16F84A_runs_from_a_resistor_with_the_watchdog_on()
    {
        // DS35007B, configuration word: erased bits are 1.
        Device device = DeviceCatalog.Find("16F84A")!;
        ConfigurationReading reading = ConfigurationReading.Read(device, device.BlankConfiguration);
        Assert.True(reading.IsComplete);
        Assert.Equal(OscillatorKind.ExternalRc, reading.Oscillator!.Kind);
        Assert.Equal("OSC2", reading.Oscillator.ClockOutPin); // from memory
        Assert.Equal(
            [ConfigurationConcernKind.WatchdogOn, ConfigurationConcernKind.ExternalRcOscillator],
            reading.Concerns.Select(concern => concern.Kind)
        );
    }

    [Fact]
    public void An_erased_16F628_takes_RB4_for_low_voltage_programming()
    {
        // DS40300C, configuration word.
        Device device = DeviceCatalog.Find("16F628")!;
        ConfigurationReading reading = ConfigurationReading.Read(device, WordMemory.Empty);
        Assert.False(reading.IsComplete);
        ConfigurationConcern concern = Assert.Single(
            reading.Concerns,
            concern => concern.Kind == ConfigurationConcernKind.LowVoltageProgrammingOn
        );
        Assert.Equal("RB4", concern.Pin);
        Assert.Contains("RB4", concern.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Code_protection_on_a_chip_programmed_once_is_reported_as_final()
    {
        Device device = DeviceCatalog.Find("16C71")!;
        Assert.True(device.IsOneTimeProgrammable);
        var memory = WordMemory.From([KeyValuePair.Create(0x2007, (ushort)0x3FEF)]);
        ConfigurationConcern concern = Assert.Single(
            ConfigurationReading.Read(device, memory).Concerns,
            concern => concern.Kind == ConfigurationConcernKind.CodeProtectionOn
        );
        Assert.Contains("never", concern.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Bits_without_a_named_setting_are_reported_not_guessed()
    {
        // DS35007B: the protection bits 13-4 carry one value; a mixture has no meaning there.
        Device device = DeviceCatalog.Find("16F84A")!;
        var memory = WordMemory.From([KeyValuePair.Create(0x2007, (ushort)0x1FF1)]);
        ConfigurationReading reading = ConfigurationReading.Read(device, memory);
        Assert.Null(reading.Find(ConfigRole.CodeProtection)!.Setting);
        Assert.Equal("no named setting", reading.Find(ConfigRole.CodeProtection)!.Meaning);
        Assert.Contains(reading.Concerns, concern => concern.Kind == ConfigurationConcernKind.NoNamedSetting);
        Assert.Null(DeviceChecksum.Compute(device, memory));
    }

    // DS41190G, DS41211D, DS40044B: power-on values of OSCCON and PCON; which rate their bits mean, and DS41302, from memory.
    [Theory]
    [InlineData("12F675", 0x3FFC, 4_000_000, 4_000_000)]
    [InlineData("12F675", 0x3FF9, null, null)]
    [InlineData("12F683", 0x3FFC, null, 4_000_000)]
    [InlineData("16F628A", 0x3FFC, null, 4_000_000)]
    [InlineData("16F819", 0x3FFC, null, 31_250)]
    [InlineData("12F615", 0x3FFC, 8_000_000, null)]
    [InlineData("12F615", 0x3F7C, 4_000_000, null)]
    [InlineData("16F84A", 0x3FF1, null, null)]
    public void Internal_rates_are_those_of_the_data_sheet(string chip, int word, int? fixedRate, int? start)
    {
        ConfigurationReading reading = ConfigurationReading.Read(
            DeviceCatalog.Find(chip)!,
            WordMemory.From([KeyValuePair.Create(0x2007, (ushort)word)])
        );
        Assert.Equal(fixedRate, reading.FixedClockHertz);
        Assert.Equal(start, reading.Oscillator!.StartHertz);
    }

    [Fact]
    public void Kinds_of_program_memory_are_distinguished()
    {
        Assert.Equal(ProgramMemoryKind.Flash, DeviceCatalog.Find("16F84")!.ProgramMemory);
        Assert.Equal(ProgramMemoryKind.Eeprom, DeviceCatalog.Find("16C84")!.ProgramMemory); // DS30445D
        Assert.Equal(ProgramMemoryKind.Eprom, DeviceCatalog.Find("16C74A")!.ProgramMemory);
    }

    [Fact]
    public void Every_bit_of_the_16F84A_and_the_16F877A_has_a_few_words()
    {
        foreach (string chip in new[] { "16F84A", "16F877A" })
        {
            Assert.All(
                DeviceCatalog.Find(chip)!.Registers.SelectMany(register => register.Bits),
                bit => Assert.True(bit.Description.Length > 5, bit.ToString())
            );
        }
    }
}
