using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>What a built-in name means.</summary>
public enum DeviceSymbolKind
{
    /// <summary>The address of a register.</summary>
    Register,

    /// <summary>A bit number, 0..7.</summary>
    Bit,

    /// <summary>A configuration setting: ones everywhere but in its own field, to be joined by <c>&amp;</c>.</summary>
    ConfigurationSetting,

    /// <summary>The address of a configuration word.</summary>
    ConfigurationAddress,

    /// <summary>The destination of an instruction: W (0) or the register (1).</summary>
    Destination,

    /// <summary>The name of the chip, defined for <c>ifdef</c>.</summary>
    ChipName,
}

/// <summary>A name that is built in once the chip is known.</summary>
public sealed class DeviceSymbol
{
    internal DeviceSymbol(string name, DeviceSymbolKind kind, int value)
    {
        Name = name;
        Kind = kind;
        Value = value;
    }

    /// <summary>The spelling.</summary>
    public string Name { get; }

    /// <summary>What it means.</summary>
    public DeviceSymbolKind Kind { get; }

    /// <summary>What it is worth in an expression.</summary>
    public int Value { get; }

    /// <summary>The register, for <see cref="DeviceSymbolKind.Register"/>.</summary>
    public Register? Register { get; internal init; }

    /// <summary>The bits of this name, for <see cref="DeviceSymbolKind.Bit"/>; several where several registers have a bit so named.</summary>
    public ImmutableArray<BitField> Bits { get; internal set; } = [];

    /// <summary>The field, for <see cref="DeviceSymbolKind.ConfigurationSetting"/>.</summary>
    public ConfigField? Field { get; internal init; }

    /// <summary>The setting, for <see cref="DeviceSymbolKind.ConfigurationSetting"/>.</summary>
    public ConfigSetting? Setting { get; internal init; }

    /// <summary>The word, for configuration settings and addresses.</summary>
    public ConfigurationWord? Word { get; internal init; }
}

/// <summary>All built-in names of a chip.</summary>
public sealed class DeviceSymbols
{
    private const int AllOnes = 0x3FFF;

    private readonly Dictionary<string, DeviceSymbol> exact;
    private readonly Dictionary<string, DeviceSymbol> anyCase;

    private DeviceSymbols(Dictionary<string, DeviceSymbol> exact, ImmutableArray<string> ambiguous)
    {
        this.exact = exact;
        AmbiguousNames = ambiguous;
        anyCase = new Dictionary<string, DeviceSymbol>(exact.Count, StringComparer.OrdinalIgnoreCase);
        foreach (DeviceSymbol symbol in exact.Values)
            anyCase.TryAdd(symbol.Name, symbol);
    }

    /// <summary>Every name, in no order that means anything.</summary>
    public IReadOnlyCollection<DeviceSymbol> All => exact.Values;

    /// <summary>Names left out because they would mean two different values; empty for every chip that is shipped.</summary>
    public ImmutableArray<string> AmbiguousNames { get; }

    /// <summary>The built-in name spelled exactly so, or null.</summary>
    public DeviceSymbol? Find(string name) => exact.GetValueOrDefault(name);

    /// <summary>The built-in name that differs at most by case, or null.</summary>
    public DeviceSymbol? FindAnyCase(string name) => anyCase.GetValueOrDefault(name);

    internal static DeviceSymbols Of(Device device)
    {
        var building = new Builder();
        foreach (Register register in device.Registers)
        {
            building.Add(
                new DeviceSymbol(register.Name, DeviceSymbolKind.Register, register.Address) { Register = register }
            );
            foreach (string other in register.OtherNames)
                building.Add(
                    new DeviceSymbol(other, DeviceSymbolKind.Register, register.Address) { Register = register }
                );
        }

        foreach (Register register in device.Registers)
        {
            foreach (BitField bit in register.Bits)
            {
                foreach (string spelling in bit.Spellings)
                    building.Add(new DeviceSymbol(spelling, DeviceSymbolKind.Bit, bit.Number) { Bits = [bit] });
            }
        }

        for (int i = 0; i < device.ConfigurationWords.Length; i++)
        {
            ConfigurationWord word = device.ConfigurationWords[i];
            if (i == 0)
                building.Add(
                    new DeviceSymbol("_CONFIG", DeviceSymbolKind.ConfigurationAddress, word.Address) { Word = word }
                );
            building.Add(
                new DeviceSymbol($"_CONFIG{i + 1}", DeviceSymbolKind.ConfigurationAddress, word.Address) { Word = word }
            );
            foreach (ConfigField field in word.Fields)
            {
                foreach (ConfigSetting setting in field.Settings)
                {
                    int value = (AllOnes & ~field.Mask) | setting.Value;
                    foreach (string name in setting.Names)
                    {
                        building.Add(
                            new DeviceSymbol(name, DeviceSymbolKind.ConfigurationSetting, value)
                            {
                                Field = field,
                                Setting = setting,
                                Word = word,
                            }
                        );
                    }
                }
            }
        }

        building.Add(new DeviceSymbol("W", DeviceSymbolKind.Destination, 0));
        building.Add(new DeviceSymbol("F", DeviceSymbolKind.Destination, 1));
        building.Add(new DeviceSymbol("__" + device.Name["PIC".Length..], DeviceSymbolKind.ChipName, 1));
        return building.Finish();
    }

    /// <summary>Collects names; one that comes twice with different meanings is taken out rather than guessed.</summary>
    private sealed class Builder
    {
        private readonly Dictionary<string, DeviceSymbol> names = new(StringComparer.OrdinalIgnoreCase);
        private readonly SortedSet<string> ambiguous = new(StringComparer.OrdinalIgnoreCase);

        public void Add(DeviceSymbol symbol)
        {
            if (names.TryAdd(symbol.Name, symbol))
                return;
            DeviceSymbol first = names[symbol.Name];
            bool same =
                first.Kind == symbol.Kind
                && first.Value == symbol.Value
                && first.Word == symbol.Word
                && string.Equals(first.Name, symbol.Name, StringComparison.Ordinal);
            if (!same)
                ambiguous.Add(symbol.Name);
            else if (symbol.Kind == DeviceSymbolKind.Bit)
                first.Bits = [.. first.Bits, .. symbol.Bits];
        }

        public DeviceSymbols Finish()
        {
            foreach (string name in ambiguous)
                names.Remove(name);
            var exact = new Dictionary<string, DeviceSymbol>(names.Count, StringComparer.Ordinal);
            foreach (DeviceSymbol symbol in names.Values)
                exact.Add(symbol.Name, symbol);
            return new DeviceSymbols(exact, [.. ambiguous]);
        }
    }
}
