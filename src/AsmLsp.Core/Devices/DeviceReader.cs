using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;

namespace AsmLsp.Core.Devices;

/// <summary>Reads a chip file. The form of the file is reported in <c>Data/README.md</c>.</summary>
internal static class DeviceReader
{
    /// <summary>Reads one chip.</summary>
    /// <exception cref="JsonException">The text is no JSON.</exception>
    /// <exception cref="FormatException">A fact is missing or written in another form.</exception>
    internal static Device Read(Stream json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        JsonElement root = document.RootElement;
        JsonElement program = Get(root, "program");
        JsonElement userId = Get(root, "userId");
        ImmutableArray<Register> registers = Each(Get(root, "registers"), ReadRegister);
        ImmutableArray<string> openDrain = Each(Get(root, "openDrain"), Text);
        ImmutableArray<string> inputOnly = Each(Get(root, "inputOnly"), Text);
        return new Device
        {
            Name = Text(Get(root, "device")),
            DataSheet = Text(Get(root, "dataSheet")),
            ProgrammingSpecification = Text(Get(root, "programmingSpecification")),
            ProgramWords = Get(program, "words").GetInt32(),
            ProgramPages = Get(program, "pages").GetInt32(),
            ProgramMemory = Text(Get(program, "kind")) switch
            {
                "flash" => ProgramMemoryKind.Flash,
                "eeprom" => ProgramMemoryKind.Eeprom,
                "eprom" => ProgramMemoryKind.Eprom,
                var other => throw new FormatException($"unknown kind of program memory '{other}'"),
            },
            ResetVector = Hex(Get(root, "reset")),
            InterruptVector = Hex(Get(root, "interrupt")),
            StackDepth = Get(root, "stack").GetInt32(),
            DataMemory = ReadDataMemory(Get(root, "data"), registers),
            EepromBytes = Get(root, "eeprom").GetInt32(),
            Registers = registers,
            ConfigurationWords = Each(Get(root, "configuration"), ReadConfigurationWord),
            ChecksumRules = Each(Get(root, "checksums"), ReadChecksumRule),
            Identity = Optional(root, "deviceId") is { } id
                ? new DeviceIdentity(Hex(Get(id, "address")), Hex(Get(id, "value")), Hex(Get(id, "mask")))
                : null,
            UserId = Range(Text(Get(userId, "addresses"))),
            UserIdBits = Get(userId, "bits").GetInt32(),
            Calibration = Optional(root, "calibration") is { } word
                ? new CalibrationWord(
                    Hex(Get(word, "address")),
                    Text(Get(word, "register")),
                    Text(Get(word, "content")),
                    Text(Get(word, "use"))
                )
                : null,
            Package = OptionalText(root, "package"),
            Pins = Each(Get(root, "pins"), pin => ReadPin(pin, openDrain, inputOnly)),
            OpenDrainPins = openDrain,
            InputOnlyPins = inputOnly,
            Supply = Text(Get(root, "supply")),
            MaxClockHertz = Get(root, "maxHz").GetInt32(),
            NotDigitalAtReset = Each(
                Get(root, "notDigitalAtReset"),
                static fact => new NotDigitalAtReset(
                    Text(Get(fact, "what")),
                    [.. Words(Get(fact, "pins"))],
                    Each(Get(fact, "code"), Text)
                )
            ),
            LowVoltageProgramming = Optional(root, "lowVoltageProgramming") is { } low
                ? new LowVoltageProgramming(Text(Get(low, "pin")), Text(Get(low, "bit")))
                : null,
            Pitfalls = Each(Get(root, "pitfalls"), Text),
        };
    }

    private static DataMemory ReadDataMemory(JsonElement data, ImmutableArray<Register> registers) =>
        new(
            Get(data, "banks").GetInt32(),
            Each(Get(data, "general"), static range => Range(Text(range))),
            Each(
                Get(data, "mirrored"),
                static text =>
                {
                    string[] sides = Text(text).Split(" = ");
                    return new MirroredRange(Range(sides[0]), Hex(sides[1]));
                }
            ),
            OptionalText(data, "common") is { } common ? Range(common) : null,
            Each(Get(data, "unimplemented"), static range => Range(Text(range))),
            registers
        );

    // ["STATUS", "003 083", "0001 1xxx", "IRP RP1 RP0 /TO /PD Z DC C", "words of its own"]
    private static Register ReadRegister(JsonElement row)
    {
        string[] names = Words(row[0]);
        string[] addresses = Words(row[1]);
        var at = ImmutableArray.CreateBuilder<int>(addresses.Length);
        foreach (string address in addresses)
            at.Add(int.Parse(address, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture));
        string powerOn = Text(row[2]).Replace(" ", "", StringComparison.Ordinal);
        string[] bits = Words(row[3]);
        if (powerOn.Length != 8 || bits.Length is not (0 or 8))
            throw new FormatException($"register {names[0]} needs eight bits");
        return new Register(
            names[0],
            [.. names.AsSpan(1)],
            at.MoveToImmutable(),
            powerOn,
            bits,
            row.GetArrayLength() > 4 ? Text(row[4]) : null
        );
    }

    private static ConfigurationWord ReadConfigurationWord(JsonElement word) =>
        new(
            Hex(Get(word, "address")),
            Hex(Get(word, "implemented")),
            Hex(Get(word, "erased")),
            Each(
                Get(word, "fields"),
                static field => new ConfigField(
                    Text(Get(field, "name")),
                    Hex(Get(field, "mask")),
                    RoleOf(Text(Get(field, "role"))),
                    Each(Get(field, "settings"), ReadSetting),
                    OptionalText(field, "pin"),
                    OptionalText(field, "note")
                )
            ),
            OptionalText(word, "note")
        );

    private static ConfigSetting ReadSetting(JsonElement setting) =>
        new(
            Hex(Get(setting, "value")),
            OptionalText(setting, "is") switch
            {
                null => ConfigState.Unspecified,
                "off" => ConfigState.Off,
                "on" => ConfigState.On,
                "partly" => ConfigState.Partly,
                "while-awake" => ConfigState.WhileAwake,
                "by-program" => ConfigState.ByProgram,
                var other => throw new FormatException($"unknown state '{other}'"),
            },
            OptionalText(setting, "oscillator") is { } kind
                ? new Oscillator(
                    OscillatorOf(kind),
                    OptionalText(setting, "clockOut"),
                    Optional(setting, "hz")?.GetInt32(),
                    (Optional(setting, "startHz") ?? Optional(setting, "hz"))?.GetInt32()
                )
                : null,
            Optional(setting, "hz")?.GetInt32(),
            Text(Get(setting, "means")),
            [.. Words(Get(setting, "names"))]
        );

    private static OscillatorKind OscillatorOf(string kind) =>
        kind switch
        {
            "rc" => OscillatorKind.ExternalRc,
            "lp" => OscillatorKind.CrystalLp,
            "xt" => OscillatorKind.CrystalXt,
            "hs" => OscillatorKind.CrystalHs,
            "internal" => OscillatorKind.Internal,
            "external-clock" => OscillatorKind.ExternalClock,
            _ => throw new FormatException($"unknown oscillator '{kind}'"),
        };

    private static ConfigRole RoleOf(string role) =>
        role switch
        {
            "oscillator" => ConfigRole.Oscillator,
            "watchdog" => ConfigRole.Watchdog,
            "power-up-delay" => ConfigRole.PowerUpDelay,
            "brown-out" => ConfigRole.BrownOut,
            "brown-out-level" => ConfigRole.BrownOutLevel,
            "reset-pin" => ConfigRole.ResetPin,
            "low-voltage-programming" => ConfigRole.LowVoltageProgramming,
            "code-protection" => ConfigRole.CodeProtection,
            "data-protection" => ConfigRole.DataProtection,
            "self-write" => ConfigRole.SelfWrite,
            "debugger" => ConfigRole.Debugger,
            "two-speed-start" => ConfigRole.TwoSpeedStart,
            "clock-monitor" => ConfigRole.ClockMonitor,
            "internal-speed" => ConfigRole.InternalSpeed,
            "peripheral-pin" => ConfigRole.PeripheralPin,
            "factory-trim" => ConfigRole.FactoryTrim,
            _ => throw new FormatException($"unknown role '{role}'"),
        };

    private static ChecksumRule ReadChecksumRule(JsonElement rule) =>
        new(
            Hex(Get(rule, "when")),
            OptionalText(rule, "sum") is { } sum ? Range(sum) : null,
            OptionalText(rule, "scrambled") is { } scrambled ? Range(scrambled) : null,
            Each(Get(rule, "configuration"), static mask => Hex(mask)),
            OptionalText(rule, "set") is { } set ? Hex(set) : 0,
            OptionalText(rule, "add") is { } add ? Hex(add) : 0,
            Optional(rule, "userId")?.GetBoolean() ?? false
        );

    // "4 RA5 /MCLR VPP"
    private static Pin ReadPin(JsonElement text, ImmutableArray<string> openDrain, ImmutableArray<string> inputOnly)
    {
        string[] words = Words(text);
        return new Pin(
            int.Parse(words[0], NumberStyles.None, CultureInfo.InvariantCulture),
            [.. words.AsSpan(1)],
            openDrain.Contains(words[1]),
            inputOnly.Contains(words[1])
        );
    }

    private static JsonElement Get(JsonElement from, string name) =>
        from.TryGetProperty(name, out JsonElement value) ? value : throw new FormatException($"'{name}' is missing");

    private static JsonElement? Optional(JsonElement from, string name) =>
        from.TryGetProperty(name, out JsonElement value) && value.ValueKind != JsonValueKind.Null ? value : null;

    private static string? OptionalText(JsonElement from, string name) => Optional(from, name)?.GetString();

    private static string Text(JsonElement element) =>
        element.GetString() ?? throw new FormatException("text is missing");

    private static string[] Words(JsonElement element) =>
        Text(element).Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private static int Hex(JsonElement element) => Hex(Text(element));

    private static int Hex(string text) =>
        text.StartsWith("0x", StringComparison.Ordinal)
            ? int.Parse(text.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture)
            : throw new FormatException($"'{text}' must begin with 0x");

    private static MemoryRange Range(string text)
    {
        int dash = text.IndexOf('-', StringComparison.Ordinal);
        return dash < 0
            ? new MemoryRange(Hex(text), Hex(text))
            : new MemoryRange(Hex(text[..dash]), Hex(text[(dash + 1)..]));
    }

    private static ImmutableArray<T> Each<T>(JsonElement array, Func<JsonElement, T> read)
    {
        var made = ImmutableArray.CreateBuilder<T>(array.GetArrayLength());
        foreach (JsonElement element in array.EnumerateArray())
            made.Add(read(element));
        return made.MoveToImmutable();
    }
}
