using System.Numerics;
using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Tests.Devices;

/// <summary>What must hold for the facts of every chip, whatever they are.</summary>
public sealed class EveryDeviceTests
{
    public static TheoryData<string> Chips => [.. DeviceCatalog.Names];

    [Theory, MemberData(nameof(Chips))]
    public void Registers_lie_inside_the_banks_and_share_no_address(string name)
    {
        Device device = Load(name);
        var taken = new Dictionary<int, string>();
        foreach (Register register in device.Registers)
        {
            Assert.NotEmpty(register.Addresses);
            Assert.Equal(register.Addresses.Order(), register.Addresses);
            foreach (int address in register.Addresses)
            {
                Assert.InRange(address, 0, device.DataMemory.BankCount * 128 - 1);
                Assert.Equal(register.Address, device.DataMemory.Canonical(address));

                // DS40001291H: SSPMSK is read and written at the address of SSPADD while SSPM<3:0> is 1001.
                if (register.Name == "SSPMSK")
                {
                    Assert.Equal("SSPADD", taken[address]);
                    continue;
                }

                Assert.True(
                    taken.TryAdd(address, register.Name),
                    $"{register.Name} and {taken[address]} are both at 0x{address:X3}"
                );
                Assert.Same(register, device.DataMemory.RegisterAt(address));
            }
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Every_data_address_is_exactly_one_of_register_memory_mirror_or_nothing(string name)
    {
        DataMemory memory = Load(name).DataMemory;
        var kinds = new string?[memory.BankCount * 128];
        void Take(int address, string kind)
        {
            Assert.True(kinds[address] is null, $"0x{address:X3} is {kinds[address]} and {kind}");
            kinds[address] = kind;
        }

        foreach (Register register in Load(name).Registers.Where(register => register.Name != "SSPMSK"))
        {
            foreach (int address in register.Addresses)
                Take(address, register.Name);
        }

        foreach (MemoryRange range in memory.GeneralPurposeRanges)
        {
            for (int address = range.First; address <= range.Last; address++)
                Take(address, "memory");
        }

        foreach (MirroredRange mirror in memory.Mirrors)
        {
            for (int address = mirror.Range.First; address <= mirror.Range.Last; address++)
                Take(address, "mirror");
        }

        foreach (MemoryRange range in memory.Unimplemented)
        {
            for (int address = range.First; address <= range.Last; address++)
                Take(address, "nothing");
        }

        for (int address = 0; address < kinds.Length; address++)
        {
            Assert.True(kinds[address] is not null, $"0x{address:X3} is not reported");
            Assert.Equal(kinds[address] != "nothing", memory.IsImplemented(address));
            Assert.Equal(kinds[address] is "memory" or "mirror", memory.IsGeneralPurpose(address));
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Mirrors_repeat_general_purpose_memory_that_repeats_nothing_else(string name)
    {
        DataMemory memory = Load(name).DataMemory;
        foreach (MirroredRange mirror in memory.Mirrors)
        {
            for (int i = 0; i < mirror.Range.Length; i++)
            {
                int source = mirror.SameAs + i;
                Assert.Contains(memory.GeneralPurposeRanges, range => range.Contains(source));
                Assert.Equal(source, memory.Canonical(source));
                Assert.Equal(source, memory.Canonical(mirror.Range.First + i));
                Assert.Equal(source & 0x7F, (mirror.Range.First + i) & 0x7F);
            }
        }

        if (memory.CommonRam is { } common)
        {
            for (int address = common.First; address <= common.Last; address++)
                Assert.True(memory.IsSameInEveryBank(address), $"0x{address:X3}");
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Power_on_values_agree_with_the_bits_that_are_there(string name)
    {
        foreach (Register register in Load(name).Registers)
        {
            Assert.Matches("^[01xqr-]{8}$", register.PowerOn);
            foreach (BitField bit in register.Bits)
                Assert.True((register.PresentMask >> bit.Number & 1) == 1, $"{bit} has no value after power-on");
            Assert.NotEqual("", register.Description);
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Configuration_fields_fit_the_word_and_each_other(string name)
    {
        foreach (ConfigurationWord word in Load(name).ConfigurationWords)
        {
            int used = 0;
            foreach (ConfigField field in word.Fields)
            {
                Assert.Equal(0, field.Mask & used);
                Assert.Equal(field.Mask, field.Mask & word.Implemented);
                used |= field.Mask;
                Assert.NotEmpty(field.Settings);
                foreach (ConfigSetting setting in field.Settings)
                    Assert.Equal(setting.Value, setting.Value & field.Mask);
                Assert.Equal(field.Settings.Length, field.Settings.Select(setting => setting.Value).Distinct().Count());
            }

            Assert.Equal(word.Implemented, used);
            Assert.Equal(word.Implemented, word.Erased & word.Implemented);
            Assert.All(word.Decode(word.Erased), field => Assert.NotNull(field.Setting));
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Switching_fields_have_a_state_for_each_setting_that_works(string name)
    {
        foreach (ConfigField field in Load(name).ConfigurationWords.SelectMany(word => word.Fields))
        {
            foreach (ConfigSetting setting in field.Settings)
            {
                bool works =
                    !setting.Meaning.Contains("not used", StringComparison.Ordinal)
                    && !setting.Meaning.Contains("not a valid", StringComparison.Ordinal);
                Assert.Equal(field.Role == ConfigRole.Oscillator && works, setting.Oscillator is not null);
                bool choice =
                    field.Role
                    is ConfigRole.Oscillator
                        or ConfigRole.BrownOutLevel
                        or ConfigRole.InternalSpeed
                        or ConfigRole.PeripheralPin
                        or ConfigRole.FactoryTrim;
                Assert.Equal(!choice && works, setting.State != ConfigState.Unspecified);
            }

            if (field.Role is ConfigRole.ResetPin or ConfigRole.LowVoltageProgramming)
                Assert.NotNull(field.Pin);
        }

        Assert.NotNull(Load(name).FindField(ConfigRole.Watchdog));
        Assert.NotNull(Load(name).FindField(ConfigRole.Oscillator));
        Assert.NotNull(Load(name).FindField(ConfigRole.CodeProtection));
        Assert.Equal(
            Load(name).LowVoltageProgramming?.Pin,
            Load(name).FindField(ConfigRole.LowVoltageProgramming)?.Field.Pin
        );
    }

    [Theory, MemberData(nameof(Chips))]
    public void Every_internal_oscillator_has_a_rate_to_start_with(string name)
    {
        Device device = Load(name);
        foreach (ConfigSetting setting in device.FindField(ConfigRole.Oscillator)!.Value.Field.Settings)
        {
            bool known =
                setting.Oscillator?.StartHertz is not null || device.FindField(ConfigRole.InternalSpeed) is not null;
            if (setting.Oscillator is { Kind: OscillatorKind.Internal })
                Assert.True(known, setting.Meaning);
            else
                Assert.Null(setting.Oscillator?.StartHertz);
            if (setting.Oscillator is { ClockOutPin: { } pin } && device.Package is not null)
                Assert.Single(
                    device.Pins,
                    at => at.Functions.Contains(pin) && at.Functions.Any(function => function is "CLKOUT" or "CLKO")
                );
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Pins_are_numbered_once_each_and_named_where_they_are_mentioned(string name)
    {
        Device device = Load(name);
        if (device.Package is null)
        {
            Assert.Empty(device.Pins);
            return;
        }

        Assert.Equal(Enumerable.Range(1, device.Pins.Length), device.Pins.Select(pin => pin.Number));
        Assert.EndsWith($"-{device.Pins.Length}", device.Package, StringComparison.Ordinal);
        var names = device.Pins.SelectMany(pin => pin.Functions).ToHashSet();
        Assert.Contains("VDD", names);
        Assert.Contains("VSS", names);
        IEnumerable<string> mentioned = device
            .OpenDrainPins.Concat(device.InputOnlyPins)
            .Concat(device.NotDigitalAtReset.SelectMany(fact => fact.Pins));
        Assert.All(mentioned, pin => Assert.Contains(pin, names));
    }

    [Theory, MemberData(nameof(Chips))]
    public void Every_port_bit_is_on_one_pin(string name)
    {
        Device device = Load(name);
        foreach (
            BitField bit in device
                .Registers.Where(register =>
                    register.Name.StartsWith("PORT", StringComparison.Ordinal) || register.Name == "GPIO"
                )
                .SelectMany(register => register.Bits)
        )
        {
            if (device.Package is not null)
                Assert.Single(device.Pins, pin => pin.Functions.Contains(bit.Spellings[0]));
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void No_name_has_two_values(string name)
    {
        DeviceSymbols symbols = Load(name).Symbols;
        Assert.Empty(symbols.AmbiguousNames);
        Assert.All(
            symbols.All,
            symbol =>
            {
                Assert.Same(symbol, symbols.Find(symbol.Name));
                Assert.Same(symbol, symbols.FindAnyCase(symbol.Name.ToLowerInvariant()));
                Assert.InRange(symbol.Value, 0, 0x3FFF);
            }
        );
    }

    [Theory, MemberData(nameof(Chips))]
    public void Names_of_settings_join_to_the_setting_they_say(string name)
    {
        Device device = Load(name);
        foreach (ConfigurationWord word in device.ConfigurationWords)
        {
            foreach (ConfigField field in word.Fields)
            {
                foreach (ConfigSetting setting in field.Settings)
                {
                    foreach (string spelling in setting.Names)
                    {
                        int value = device.Symbols.Find(spelling)!.Value;
                        Assert.Same(setting, field.SettingFor(0x3FFF & value));
                        Assert.Equal(0x3FFF & ~field.Mask, value & ~field.Mask);
                    }
                }
            }
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Settings_of_a_switch_are_spelled_on_where_they_are_on(string name)
    {
        // SelfWrite is left out: programs say _WRT_OFF for "protection off", that is writing allowed. Fields that choose a pin
        // or a voltage switch nothing.
        foreach (
            ConfigField field in Load(name)
                .ConfigurationWords.SelectMany(word => word.Fields)
                .Where(field =>
                    field.Role is not (ConfigRole.SelfWrite or ConfigRole.PeripheralPin or ConfigRole.BrownOutLevel)
                )
        )
        {
            foreach (ConfigSetting setting in field.Settings)
            {
                if (setting.Names.Any(spelling => spelling.EndsWith("_OFF", StringComparison.Ordinal)))
                    Assert.True(
                        setting.State is ConfigState.Off or ConfigState.ByProgram,
                        $"{field.Name}: {setting.Meaning}"
                    );
                if (
                    setting.Names.Any(spelling =>
                        spelling.EndsWith("_ON", StringComparison.Ordinal) || spelling == "_CP_ALL"
                    )
                )
                    Assert.True(
                        setting.State is ConfigState.On
                            || setting.Meaning.Contains("first 64", StringComparison.Ordinal),
                        $"{field.Name}: {setting.Meaning}"
                    );
                if (setting.Names.Any(spelling => spelling.EndsWith("NOCLKOUT", StringComparison.Ordinal)))
                    Assert.Null(setting.Oscillator!.ClockOutPin);
                else if (setting.Names.Any(spelling => spelling.EndsWith("CLKOUT", StringComparison.Ordinal)))
                    Assert.NotNull(setting.Oscillator!.ClockOutPin);
            }
        }
    }

    [Theory, MemberData(nameof(Chips))]
    public void Memory_sizes_and_pages_fit_together(string name)
    {
        Device device = Load(name);
        Assert.Equal((device.ProgramWords + 2047) / 2048, device.ProgramPages);
        Assert.True(BitOperations.IsPow2(device.ProgramWords));
        Assert.Contains(device.DataMemory.BankCount, new[] { 1, 2, 4 });
        Assert.Equal(8, device.StackDepth);
        Assert.Equal((0, 4), (device.ResetVector, device.InterruptVector));
        Assert.Equal(
            device.EepromBytes > 0,
            device.FindRegister("EECON1") is not null && device.FindRegister("EECON2") is not null
        );
        if (device.Calibration is { } calibration)
        {
            Assert.Equal(device.ProgramWords - 1, calibration.Address);
            Assert.NotNull(device.FindRegister(calibration.Register));
        }

        Assert.Equal(new MemoryRange(0x2000, 0x2003), device.UserId);
        if (device.Identity is { } identity)
            Assert.Equal(0, identity.Value & ~identity.Mask);
    }

    [Theory, MemberData(nameof(Chips))]
    public void Only_facts_for_names_that_exist_are_given(string name)
    {
        Device device = Load(name);
        foreach (string line in device.NotDigitalAtReset.SelectMany(fact => fact.Code))
        {
            string[] words = line.Split(';')[0].Split([' ', ','], StringSplitOptions.RemoveEmptyEntries);
            foreach (string operand in words.Skip(1).Where(word => !word.StartsWith("0x", StringComparison.Ordinal)))
                Assert.True(device.Symbols.Find(operand) is not null, $"{line}: {operand}");
        }
    }

    private static Device Load(string name) => DeviceCatalog.Find(name)!;
}
