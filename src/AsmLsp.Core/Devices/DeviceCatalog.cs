using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>The chips that the tool knows. A chip's file is read when that chip is asked for, and only then.</summary>
public static class DeviceCatalog
{
    private const string ResourcePrefix = "device/PIC";

    private static readonly Lazy<Dictionary<string, Lazy<Device>>> Chips = new(ListChips);
    private static readonly Lazy<ImmutableArray<string>> SortedNames = new(() =>
        [.. Chips.Value.Keys.Order(StringComparer.Ordinal)]
    );

    /// <summary>The name of every chip (<c>PIC16F84A</c>), sorted; reads no chip file.</summary>
    public static ImmutableArray<string> Names => SortedNames.Value;

    /// <summary>
    /// The chip meant by a spelling, or null. <c>16F84</c>, <c>PIC16F84</c>, <c>p16f84</c> and <c>PIC 16F84</c> are
    /// the same in any case; the marking of a speed grade and a package may follow (<c>-04/P</c>); the low-voltage
    /// (LF, LC) versions of a chip are that chip, and so is a regulated (HV) one that is not known by itself.
    /// </summary>
    public static Device? Find(string spelling) =>
        DeviceSpelling.TryParse(spelling, out DeviceSpelling parsed) ? Get(parsed) : null;

    /// <summary>
    /// Known chips whose names are nearest to a spelling, the nearest first, at most three: same family digits,
    /// fewest differing characters, then the nearest number. Empty where the spelling has no form of a chip's name or nothing is near.
    /// </summary>
    public static ImmutableArray<string> Nearest(string spelling)
    {
        if (!DeviceSpelling.TryParse(spelling, out DeviceSpelling wanted))
            return [];
        var near = new List<(int Distance, int Longer, int Apart, string Name)>();
        foreach (string name in Names)
        {
            _ = DeviceSpelling.TryParse(name, out DeviceSpelling known);
            if (known.Family == wanted.Family && known.Number[0] == wanted.Number[0])
            {
                near.Add(
                    (
                        DeviceSpelling.Distance(known, wanted),
                        Math.Abs(known.Number.Length - wanted.Number.Length),
                        Math.Abs(known.Digits - wanted.Digits),
                        name
                    )
                );
            }
        }

        near.Sort();
        return [.. near.Where(static chip => chip.Distance <= 3).Take(3).Select(static chip => chip.Name)];
    }

    /// <summary>
    /// Whether a file name has the form of a chip's header (<c>p16f84.inc</c>, <c>P16F84A.INC</c>, <c>p16f84a</c>),
    /// with or without folders before it. The chip need not be known.
    /// </summary>
    /// <param name="fileName">The name as written in the include line.</param>
    /// <param name="device">The chip's name as <see cref="Find"/> takes it, or an empty string.</param>
    public static bool IsHeaderName(string fileName, out string device)
    {
        ReadOnlySpan<char> name = fileName.AsSpan().Trim();
        int folder = name.LastIndexOfAny('/', '\\');
        if (folder >= 0)
            name = name[(folder + 1)..];
        bool extension = name.EndsWith(".inc", StringComparison.OrdinalIgnoreCase);
        if (extension)
            name = name[..^4];
        device = "";
        if (
            name.IsEmpty
            || name[0] is not ('p' or 'P')
            || !DeviceSpelling.TryParse(name.ToString(), out DeviceSpelling parsed)
            || parsed.HasMarking
        )
            return false;
        device = Get(parsed)?.Name ?? parsed.Name;
        return true;
    }

    private static Device? Get(in DeviceSpelling spelling)
    {
        if (Chips.Value.TryGetValue(spelling.Name, out Lazy<Device>? chip))
            return chip.Value;
        if (spelling.Unregulated is { } plain && Chips.Value.TryGetValue(plain, out chip))
            return chip.Value;

        // A T before the marking means tape and reel: 16F628AT-I/SO is a 16F628A.
        return spelling.HasMarking && spelling.Name[^1] == 'T' && Chips.Value.TryGetValue(spelling.Name[..^1], out chip)
            ? chip.Value
            : null;
    }

    private static Dictionary<string, Lazy<Device>> ListChips()
    {
        var chips = new Dictionary<string, Lazy<Device>>(StringComparer.Ordinal);
        foreach (string resource in typeof(DeviceCatalog).Assembly.GetManifestResourceNames())
        {
            if (resource.StartsWith(ResourcePrefix, StringComparison.Ordinal))
                chips.Add(resource["device/".Length..], new Lazy<Device>(() => Load(resource)));
        }

        return chips;
    }

    private static Device Load(string resource)
    {
        using Stream json =
            typeof(DeviceCatalog).Assembly.GetManifestResourceStream(resource)
            ?? throw new InvalidOperationException($"{resource} is missing from the program");
        return DeviceReader.Read(json);
    }
}
