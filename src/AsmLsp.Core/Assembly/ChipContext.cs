using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>The chip that a program is for, as far as the lines read so far say, and its built-in names.</summary>
internal sealed class ChipContext(AssemblyPass pass, ChipContext? before)
{
    /// <summary>Word address of the first configuration word on every chip of the family.</summary>
    public const int FirstConfigurationAddress = 0x2007;

    /// <summary>Word address of the first ID word: what lies below is program memory.</summary>
    public const int FirstIdAddress = 0x2000;

    /// <summary>The most bytes of EEPROM that a chip of the family has.</summary>
    public const int MostEepromBytes = 256;

    private readonly List<SourcePlace> configurationPlaces = [];

    // Built-in names that the program used, with the places where two chips were named: whether two chips matter
    // is only known at the end.
    private readonly HashSet<string> used = new(StringComparer.Ordinal);
    private readonly HashSet<string> unknown = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<Disagreement> disagreements = [];

    // What the pass before came to: many authors write the configuration line first and name the chip below it.
    private readonly Device? foreseen = before?.named;
    private readonly Device? foreseenIncluded = before?.included;
    private Device? named;
    private Device? included;
    private bool namedByHeader;
    private bool isForced;
    private bool isSupposed;
    private bool includeNoted;
    private bool wasAskedEarly;
    private bool asksForFacts;

    /// <summary>The chip, or null where none is named or the named one is not known; a line further down counts too.</summary>
    public Device? Device
    {
        get
        {
            wasAskedEarly |= named is null;
            return named ?? foreseen;
        }
    }

    /// <summary>The chip whose names are in force: the one whose header was included, else the chip itself.</summary>
    public Device? NamesDevice => isForced ? Device : Included ?? Device;

    /// <summary>The chip whose header is included, or null.</summary>
    public Device? Included
    {
        get
        {
            wasAskedEarly |= included is null;
            return included ?? foreseenIncluded;
        }
    }

    /// <summary>Whether a line was assembled with another chip in mind than the program names in the end.</summary>
    public bool WasWrong => wasAskedEarly && (named != foreseen || included != foreseenIncluded);

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
        named = DeviceCatalog.Find(spelling);
        isForced = named is not null;
        IsUnknown = named is null;
    }

    /// <summary>Takes a chip for as long as the program names none.</summary>
    public void Suppose(string spelling)
    {
        named = DeviceCatalog.Find(spelling);
        isSupposed = named is not null;
    }

    /// <summary>Takes the chip that a line names.</summary>
    public void Name(string spelling, SourcePlace place, Expansion? via)
    {
        if (DeviceCatalog.Find(spelling) is not { } device)
        {
            if (named is null)
                IsUnknown = true;
            ReportUnknown(spelling, place, via);
            return;
        }

        Take(device, place, via);
    }

    /// <summary>Takes the built-in names of a chip, as if its header were there; it also names the chip where nothing else does.</summary>
    public void IncludeNames(Device? device, string spelling, SourcePlace place, Expansion? via)
    {
        if (device is null)
        {
            if (named is null)
                IsUnknown = true;
            ReportUnknown(spelling, place, via);
            if (isForced)
            {
                included = named;
                return;
            }

            pass.NoteIncludeMissing($"the names of {spelling}, which are not known");
            return;
        }

        Take(device, place, via, isHeader: true);
        included = device;
    }

    // One problem for a chip, however many lines name it: it is an error, so nothing is built before somebody looks.
    private void ReportUnknown(string spelling, SourcePlace place, Expansion? via)
    {
        if (!unknown.Add(spelling.StartsWith("PIC", StringComparison.OrdinalIgnoreCase) ? spelling[3..] : spelling))
            return;
        // Who asks for another chip has seen that this one is not known.
        if (isForced && named is { } forced)
            pass.Report(Catalogue.ChipForced, place, via, spelling, forced.Name);
        else
            pass.Report(Catalogue.UnknownChip, place, via, spelling, Relatives(spelling));
    }

    /// <summary>Compares the chip of a header file that lies beside the program with the chip that is named.</summary>
    public void NoteHeader(Device device, SourcePlace place, Expansion? via)
    {
        if (named is not null && named != device && !isSupposed)
            disagreements.Add(new Disagreement(device, named, place, via));
    }

    private void Take(Device device, SourcePlace place, Expansion? via, bool isHeader = false)
    {
        if (isSupposed)
        {
            named = null;
            isSupposed = false;
        }

        if (named is not null && named != device)
            disagreements.Add(new Disagreement(device, named, place, via));
        // A line that names the chip goes before a header that brings its names.
        if (named is null || (namedByHeader && !isHeader))
            (named, namedByHeader) = (device, isHeader);
        NamedAt ??= place;
        IsUnknown = false;
    }

    /// <summary>
    /// Reports two different chips: an error, unless everything that the program uses is the same on both, so that
    /// the words are right for either.
    /// </summary>
    public void ReportDisagreements()
    {
        foreach (Disagreement found in disagreements)
        {
            ProblemKind kind =
                isForced ? Catalogue.ChipForced
                : Alike(found.Here, found.Before) ? Catalogue.ChipsAlike
                : Catalogue.ChipsDisagree;
            pass.Report(kind, found.Place, found.Via, found.Here.Name, found.Before.Name);
        }
    }

    private bool Alike(Device one, Device other)
    {
        if (
            one.DataMemory.BankCount != other.DataMemory.BankCount
            || one.ProgramPages != other.ProgramPages
            || (asksForFacts && one.EepromBytes != other.EepromBytes)
        )
            return false;
        foreach (string name in used)
            if (one.Symbols.FindAnyCase(name)?.Value != other.Symbols.FindAnyCase(name)?.Value)
                return false;
        foreach ((int address, ushort word, WordOrigin _) in pass.Placer.Image.Words)
        {
            if (address >= Math.Min(one.ProgramWords, other.ProgramWords) && address < 0x2000)
                return false;
            if (address >= FirstConfigurationAddress && address < Device.EepromAddress && !MeansTheSame(one, other))
                return false;
        }

        return true;
    }

    // The same bits in the configuration word must do the same on both chips.
    private bool MeansTheSame(Device one, Device other)
    {
        WordMemory memory = pass.Placer.Image.Memory;
        ConfigurationReading here = ConfigurationReading.Read(one, memory),
            there = ConfigurationReading.Read(other, memory);
        foreach (ConfigRole role in Enum.GetValues<ConfigRole>())
        {
            ConfigSetting? first = here.Find(role)?.Setting,
                second = there.Find(role)?.Setting;
            if (first?.State != second?.State || first?.Oscillator != second?.Oscillator)
                return false;
        }

        return true;
    }

    /// <summary>The chip, for a line that cannot do without it; reported where there is none.</summary>
    public Device? Needed(in EffectiveLine line)
    {
        asksForFacts = true;
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
        return included?.Symbols.Find(name) is not null;
    }

    /// <summary>Says once that names of the chip are used though no line brings them.</summary>
    public void NoteUse(string name, SourcePlace place, Expansion? via)
    {
        used.Add(name);
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

    /// <summary>Whether a name that is not known may be one of a chip that is not known either: those are written in capital letters.</summary>
    public bool MayBeOfUnknownChip(string name) =>
        IsUnknown && (!name.Any(char.IsAsciiLetterLower) || LooksLikeChipName(name));

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

    private readonly record struct Disagreement(Device Here, Device Before, SourcePlace Place, Expansion? Via);
}
