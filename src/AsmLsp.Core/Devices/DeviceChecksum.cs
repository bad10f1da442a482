using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Devices;

/// <summary>The checksum that device programmers show for a chip: sixteen bits over program and configuration words.</summary>
public static class DeviceChecksum
{
    private const int ErasedWord = 0x3FFF;

    /// <summary>
    /// Reckons the checksum by the rule for the code protection that the configuration word selects. Words that the
    /// memory lacks count as erased (0x3FFF), a missing configuration word as that of an erased chip.
    /// </summary>
    /// <returns>0..0xFFFF, or null where no rule is known for that protection.</returns>
    public static int? Compute(Device device, WordMemory memory)
    {
        ArgumentNullException.ThrowIfNull(device);
        ArgumentNullException.ThrowIfNull(memory);
        if (device.FindField(ConfigRole.CodeProtection) is not { } protection)
            return null;
        int bits = ConfigurationOf(protection.Word, memory) & protection.Field.Mask;
        ChecksumRule? rule = null;
        foreach (ChecksumRule candidate in device.ChecksumRules)
        {
            if (candidate.ProtectionBits == bits)
                rule = candidate;
        }

        if (rule is null || rule.ConfigurationMasks.Length != device.ConfigurationWords.Length)
            return null;

        int sum = rule.Constant;
        for (int i = 0; i < rule.ConfigurationMasks.Length; i++)
            sum +=
                (ConfigurationOf(device.ConfigurationWords[i], memory) & rule.ConfigurationMasks[i])
                | (i == 0 ? rule.ConfigurationSet : 0);
        if (rule.Sum is { } plain)
            sum += Words(memory, plain, static word => word);
        if (rule.Scrambled is { } scrambled)
            sum += Words(memory, scrambled, static word => ~((word >> 7) ^ word) & 0x7F);
        if (rule.WithUserId)
            sum += UserId(device, memory);
        return sum & 0xFFFF;
    }

    private static int ConfigurationOf(ConfigurationWord word, WordMemory memory) =>
        memory[word.Address] ?? word.Erased;

    private static int Words(WordMemory memory, MemoryRange range, Func<int, int> counted)
    {
        int sum = range.Length * counted(ErasedWord);
        foreach ((int address, ushort word) in memory)
        {
            if (address > range.Last)
                break;
            if (address >= range.First)
                sum += counted(word & ErasedWord) - counted(ErasedWord);
        }

        return sum;
    }

    // The low digits of the four ID words side by side, the first word highest.
    private static int UserId(Device device, WordMemory memory)
    {
        int id = 0;
        for (int address = device.UserId.First; address <= device.UserId.Last; address++)
            id = (id << 4) | ((memory[address] ?? ErasedWord) & 0xF);
        return id;
    }
}
