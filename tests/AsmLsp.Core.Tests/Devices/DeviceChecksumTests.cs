using System.Globalization;
using System.Runtime.CompilerServices;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Tests.Devices;

/// <summary>The table says for each value whether it is remembered from a programming specification or only computed apart.</summary>
public sealed class DeviceChecksumTests
{
    public static TheoryData<string, int, int, int, int> Cases
    {
        get
        {
            var cases = new TheoryData<string, int, int, int, int>();
            foreach (
                string line in File.ReadLines(TablePath())
                    .Where(line => line.StartsWith("PIC", StringComparison.Ordinal))
            )
            {
                string[] cells = line.Split(',');
                cases.Add(cells[0], Hex(cells[1]), Hex(cells[2]), Hex(cells[3]), Hex(cells[5]));
            }

            return cases;
        }
    }

    [Theory, MemberData(nameof(Cases))]
    public void Erased_and_marked_chips_give_the_values_of_the_table(
        string chip,
        int protection,
        int erased,
        int marked,
        int last
    )
    {
        Device device = DeviceCatalog.Find(chip)!;
        Assert.Equal(erased, WithIdAsProgrammed(device, protection, []));
        Assert.Equal(marked, WithIdAsProgrammed(device, protection, [(0, 0x25E6), (last, 0x25E6)]));
    }

    [Fact]
    public void The_table_has_every_chip_and_every_rule()
    {
        var rows = Cases.Select(row => ((string)row[0], (int)row[1])).ToHashSet();
        foreach (string name in DeviceCatalog.Names)
        {
            Device device = DeviceCatalog.Find(name)!;
            Assert.NotEmpty(device.ChecksumRules);
            Assert.All(device.ChecksumRules, rule => Assert.Contains((name, rule.ProtectionBits), rows));
        }
    }

    [Fact]
    public void Words_that_are_not_there_count_as_erased()
    {
        // 1024 words of 0x3FFF and a configuration word of 0x3FFF, sixteen bits: 0x3BFF (PIC16F8X programming specification, from memory).
        Device device = DeviceCatalog.Find("16F84A")!;
        Assert.Equal(0x3BFF, DeviceChecksum.Compute(device, WordMemory.Empty));
        Assert.Equal(
            0x3BFF - 0x3FFF + 0x2805,
            DeviceChecksum.Compute(device, WordMemory.From([KeyValuePair.Create(0, (ushort)0x2805)])) switch
            {
                int sum => sum,
                null => -1,
            }
        );
    }

    [Fact]
    public void Words_outside_the_summed_ones_do_not_count()
    {
        Device device = DeviceCatalog.Find("12F675")!;
        var memory = WordMemory.From([
            KeyValuePair.Create(0x3FF, (ushort)0x3444),
            KeyValuePair.Create(0x2100, (ushort)0x55),
        ]);
        Assert.Equal(DeviceChecksum.Compute(device, WordMemory.Empty), DeviceChecksum.Compute(device, memory));
    }

    // Protected examples assume that the unprotected checksum was stored in the ID words, one hexadecimal digit a word.
    private static int? WithIdAsProgrammed(Device device, int protection, (int Address, int Word)[] program)
    {
        (ConfigurationWord word, ConfigField field) = device.FindField(ConfigRole.CodeProtection)!.Value;
        var cells = program.Select(cell => KeyValuePair.Create(cell.Address, (ushort)cell.Word)).ToList();
        int open = DeviceChecksum.Compute(device, WordMemory.From(cells))!.Value;
        if (protection == field.Mask)
            return open;
        for (int i = 0; i < 4; i++)
            cells.Add(KeyValuePair.Create(device.UserId.First + i, (ushort)(0x3FF0 | (open >> (12 - 4 * i) & 0xF))));
        cells.Add(KeyValuePair.Create(word.Address, (ushort)(word.Erased & ~field.Mask | protection)));
        return DeviceChecksum.Compute(device, WordMemory.From(cells));
    }

    private static int Hex(string text) =>
        int.Parse(text.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);

    private static string TablePath([CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "device-programmer-checksums.csv");
}
