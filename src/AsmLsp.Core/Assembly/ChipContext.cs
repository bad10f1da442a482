using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>The chip that a program is for, as far as the lines read so far tell, and its built-in names.</summary>
internal sealed class ChipContext(AssemblyPass pass)
{
    /// <summary>Word address of the first configuration word on every chip of the family.</summary>
    public const int FirstConfigurationAddress = 0x2007;

    private readonly List<SourcePlace> configurationPlaces = [];
    private bool isForced;
    private bool isSupposed;
    private bool includeNoted;

    /// <summary>The chip, or null where none is named or the named one is not known.</summary>
    public Device? Device { get; private set; }

    /// <summary>The chip whose names are in force: the one whose header was included, else the chip itself.</summary>
    public Device? NamesDevice => Included ?? Device;

    /// <summary>The chip whose header was included, or null.</summary>
    public Device? Included { get; private set; }

    /// <summary>Whether a chip is named that is not known here.</summary>
    public bool IsUnknown { get; private set; }

    /// <summary>Where the chip was named first.</summary>
    public SourcePlace? NamedAt { get; private set; }

    public IReadOnlyList<SourcePlace> ConfigurationPlaces => configurationPlaces;

    /// <summary>All built-in names in force.</summary>
    public IEnumerable<string> Names => NamesDevice?.Symbols.All.Select(s => s.Name) ?? [];

    /// <summary>Takes a chip that the surroundings give, whatever the program says.</summary>
    public void Force(string spelling)
    {
        Device = DeviceCatalog.Find(spelling);
        isForced = Device is not null;
        IsUnknown = Device is null;
    }

    /// <summary>Takes a chip for as long as the program names none.</summary>
    public void Suppose(string spelling)
    {
        Device = DeviceCatalog.Find(spelling);
        isSupposed = Device is not null;
    }

    /// <summary>Takes the chip that a line names.</summary>
    public void Name(string spelling, SourcePlace place, Expansion? via)
    {
        if (DeviceCatalog.Find(spelling) is not { } device)
        {
            if (Device is null)
                IsUnknown = true;
            pass.Report(Catalogue.UnknownChip, place, via, spelling, Relatives(spelling));
            return;
        }

        if (isSupposed)
        {
            Device = null;
            isSupposed = false;
        }

        if (Device is not null && Device != device)
        {
            pass.Report(
                Catalogue.ChipsDisagree,
                place,
                via,
                device.Name,
                Device.Name,
                (isForced || !namedByHeader ? Device : device).Name
            );
            if (isForced || !namedByHeader)
                return;
        }

        namedByHeader = false;
        if (!isForced)
            Device = device;
        NamedAt ??= place;
        IsUnknown = false;
    }

    private bool namedByHeader;

    /// <summary>Takes the built-in names of a chip, as if its header were there; it also names the chip where nothing else does.</summary>
    public void IncludeNames(Device? device, string spelling, SourcePlace place, Expansion? via)
    {
        if (device is null)
        {
            if (Device is null)
                IsUnknown = true;
            pass.Report(Catalogue.UnknownChip, place, via, spelling, Relatives(spelling));
            pass.NoteIncludeMissing($"the names of {spelling}, which are not known");
            return;
        }

        if (isSupposed)
        {
            Device = null;
            isSupposed = false;
        }

        if (Device is not null && Device != device)
            pass.Report(Catalogue.ChipsDisagree, place, via, device.Name, Device.Name, Device.Name);
        Included = device;
        if (Device is null)
        {
            Device = device;
            namedByHeader = true;
        }

        NamedAt ??= place;
        IsUnknown = false;
    }

    /// <summary>The chip, for a line that cannot do without it; reported where there is none.</summary>
    public Device? Needed(in EffectiveLine line)
    {
        if (Device is null && !IsUnknown)
            pass.Report(Catalogue.ChipNeeded, line.OperationPlace, line.Via, line.Syntax.Operation!);
        return Device;
    }

    /// <summary>Whether a name is one of the chip's, in this spelling.</summary>
    public bool Knows(string name) => TryValue(name, out _);

    public bool TryValue(string name, out int value)
    {
        // W and F name the destination whether a chip is named or not.
        if (name is "W" or "w" or "F" or "f")
        {
            value = name is "W" or "w" ? 0 : 1;
            return true;
        }

        if (NamesDevice?.Symbols.Find(name) is { } symbol)
        {
            value = symbol.Value;
            return true;
        }

        value = 0;
        return false;
    }

    public bool TryValueByAnyCase(string name, [NotNullWhen(true)] out string? spelling, out int value)
    {
        if (NamesDevice?.Symbols.FindAnyCase(name) is { } symbol)
        {
            (spelling, value) = (symbol.Name, symbol.Value);
            return true;
        }

        (spelling, value) = (null, 0);
        return false;
    }

    /// <summary>Whether <c>ifdef</c> takes a name as known: the chip's own name once it is named, its registers once they are included.</summary>
    public bool IsDefined(string name)
    {
        if (Device?.Symbols.Find(name) is { Kind: DeviceSymbolKind.ChipName })
            return true;
        return Included?.Symbols.Find(name) is not null;
    }

    /// <summary>Says once that names of the chip are used though no line brings them.</summary>
    public void NoteUse(string name, SourcePlace place, Expansion? via)
    {
        if (Included is not null || includeNoted || Device is not { } device || name is "W" or "w" or "F" or "f")
            return;
        includeNoted = true;
        pass.Report(
            Catalogue.ChipNamesNotIncluded,
            place,
            via,
            name,
            device.Name,
            $"{device.Name[3..].ToLowerInvariant()}.inc".Insert(0, "p")
        );
    }

    public void NoteConfiguration(SourcePlace place) => configurationPlaces.Add(place);

    /// <summary>Whether an expression is a configuration setting's name.</summary>
    public bool NamesSetting(Expression expression) =>
        expression is NameExpression name
        && NamesDevice?.Symbols.Find(name.Name) is { Kind: DeviceSymbolKind.ConfigurationSetting };

    /// <summary>Whether a name is a register or bit of common chips, so that a missing chip line is the likely cause.</summary>
    public static bool LooksLikeChipName(string name)
    {
        // The two chips that most printed programs of the years are for; their names cover what is common.
        foreach (string chip in (ReadOnlySpan<string>)["PIC16F84A", "PIC16F877A"])
            if (DeviceCatalog.Find(chip)?.Symbols.FindAnyCase(name) is not null)
                return true;
        return false;
    }

    /// <summary>What an unprogrammed configuration word means for a repairer.</summary>
    public static string BlankMeaning(Device device)
    {
        ConfigurationReading blank = ConfigurationReading.Read(device, device.BlankConfiguration);
        string clock = blank.Find(ConfigRole.Oscillator)?.Meaning ?? "no clock source that is known";
        string concerns = string.Join(", ", blank.Concerns.Select(ShortConcern).OfType<string>());
        return concerns.Length == 0 ? clock : $"{clock}, {concerns}";
    }

    private static string? ShortConcern(ConfigurationConcern concern) =>
        concern.Kind switch
        {
            ConfigurationConcernKind.WatchdogOn => "watchdog on",
            ConfigurationConcernKind.LowVoltageProgrammingOn => $"low-voltage programming on (takes {concern.Pin})",
            ConfigurationConcernKind.CodeProtectionOn => "code protection on",
            ConfigurationConcernKind.ResetPinIsInput => "reset pin is a plain input",
            _ => null,
        };

    private static string Relatives(string spelling)
    {
        ImmutableArray<string> near = DeviceCatalog.Nearest(spelling);
        return near.Length == 0 ? "" : $" Known chips with a similar name: {string.Join(", ", near)}.";
    }
}
