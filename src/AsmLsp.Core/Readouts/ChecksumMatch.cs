using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Readouts;

/// <summary>A checksum of a memory as the chip's programming specification computes it for one setting of code protection.</summary>
/// <param name="Value">Sixteen bits.</param>
/// <param name="Protection">What the setting does, for people.</param>
/// <param name="IsSelected">Whether it is the setting that the memory's own configuration selects.</param>
public sealed record ChecksumCase(int Value, string Protection, bool IsSelected);

/// <summary>The checksums that a programmer may show for a memory.</summary>
public static class ChecksumMatch
{
    /// <summary>
    /// One case for each setting of code protection for which the chip's programming specification has a rule; the one that
    /// the configuration selects is first. Empty where no rule is known.
    /// </summary>
    public static ImmutableArray<ChecksumCase> CasesOf(Device device, WordMemory memory)
    {
        ArgumentNullException.ThrowIfNull(device);
        ArgumentNullException.ThrowIfNull(memory);
        if (device.FindField(ConfigRole.CodeProtection) is not { } protection)
            return [];
        int now = memory[protection.Word.Address] ?? protection.Word.Erased;
        var cases = new List<ChecksumCase>();
        foreach (ConfigSetting setting in protection.Field.Settings)
        {
            int word = (now & ~protection.Field.Mask) | setting.Value;
            WordMemory other = WordMemory.From(
                memory.Append(KeyValuePair.Create(protection.Word.Address, (ushort)word))
            );
            if (DeviceChecksum.Compute(device, other) is { } value)
                cases.Add(new ChecksumCase(value, setting.Meaning, (now & protection.Field.Mask) == setting.Value));
        }

        return [.. cases.OrderByDescending(static c => c.IsSelected)];
    }

    /// <summary>Reads a checksum as people type it: <c>4E51</c>, <c>0x4E51</c>, <c>4E51h</c>; null where it is none.</summary>
    public static int? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        ReadOnlySpan<char> digits = text.AsSpan().Trim();
        if (digits.StartsWith("0x", StringComparison.OrdinalIgnoreCase))
            digits = digits[2..];
        else if (digits.EndsWith("h", StringComparison.OrdinalIgnoreCase))
            digits = digits[..^1];
        return
            digits.Length is > 0 and <= 4
            && int.TryParse(
                digits,
                System.Globalization.NumberStyles.AllowHexSpecifier,
                System.Globalization.CultureInfo.InvariantCulture,
                out int value
            )
            ? value
            : null;
    }
}
