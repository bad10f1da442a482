using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Disassembly;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Replacement;

/// <summary>A configuration word of the new chip that does what the old one did; what the old chip did not have is set so that the new one behaves like it.</summary>
/// <param name="Word">The word.</param>
/// <param name="Value">Its value.</param>
/// <param name="Text">As source: names, or a number.</param>
/// <param name="Notes">What was chosen, in words.</param>
/// <param name="Doubts">Fields for which the new chip has no such setting.</param>
internal sealed record NewConfiguration(
    ConfigurationWord Word,
    int Value,
    string Text,
    ImmutableArray<string> Notes,
    ImmutableArray<string> Doubts
)
{
    public static ImmutableArray<NewConfiguration> Of(Device from, WordMemory memory, Device to)
    {
        ConfigurationReading old = ConfigurationReading.Read(from, memory);
        return [.. to.ConfigurationWords.Select(word => One(old, to, word))];
    }

    private static NewConfiguration One(ConfigurationReading old, Device to, ConfigurationWord word)
    {
        int value = 0x3FFF;
        var notes = ImmutableArray.CreateBuilder<string>();
        var doubts = ImmutableArray.CreateBuilder<string>();
        foreach (ConfigField field in word.Fields)
        {
            if (field.Role == ConfigRole.FactoryTrim)
                continue;
            DecodedField? before = old.Find(field.Role);
            ConfigSetting? setting = before is { Setting: { } wanted } ? Like(field, wanted) : null;
            if (before is null)
            {
                setting = Unfelt(field);
                if (setting is not null)
                    notes.Add($"{field.Name}: {setting.Meaning} ({old.Device.Name} does not have it)");
            }
            else if (setting is null)
            {
                setting = Unfelt(field);
                doubts.Add(
                    $"{field.Name}: {to.Name} has no setting for '{before.Meaning}'{(setting is null ? "" : $"; now {setting.Meaning}")}"
                );
            }

            setting ??= field.SettingFor(word.Erased);
            if (setting is not null)
                value = (value & ~field.Mask) | setting.Value;
        }

        return new NewConfiguration(
            word,
            value,
            ConfigurationText.ByNames(to, word, value) ?? FormattableString.Invariant($"0x{value:X4}"),
            notes.ToImmutable(),
            doubts.ToImmutable()
        );
    }

    private static ConfigSetting? Like(ConfigField field, ConfigSetting wanted)
    {
        if (field.Role == ConfigRole.Oscillator)
            return wanted.Oscillator is not { } oscillator
                ? null
                : field
                    .Settings.Where(s => s.Oscillator?.Kind == oscillator.Kind)
                    .OrderBy(s => s.Oscillator!.ClockOutPin is null == oscillator.ClockOutPin is null ? 0 : 1)
                    .FirstOrDefault();
        if (field.Role is ConfigRole.InternalSpeed)
            return field.Settings.FirstOrDefault(s => s.InternalHertz == wanted.InternalHertz);
        if (wanted.State == ConfigState.Unspecified)
            return field.Settings.FirstOrDefault(s => s.Meaning == wanted.Meaning);
        return field.Settings.FirstOrDefault(s => s.State == wanted.State)
            // Half of the memory protected: the nearest that does not protect less is all of it.
            ?? (
                wanted.State == ConfigState.Partly && field.Role == ConfigRole.CodeProtection
                    ? field.Settings.FirstOrDefault(static s => s.State == ConfigState.On)
                    : null
            );
    }

    // What a chip without the field would do.
    private static ConfigSetting? Unfelt(ConfigField field) =>
        field.Role switch
        {
            ConfigRole.ResetPin or ConfigRole.SelfWrite => field.Settings.FirstOrDefault(static s =>
                s.State == ConfigState.On
            ),
            ConfigRole.Oscillator or ConfigRole.InternalSpeed or ConfigRole.PeripheralPin or ConfigRole.BrownOutLevel =>
                null,
            _ => field.Settings.FirstOrDefault(static s => s.State == ConfigState.Off),
        };
}
