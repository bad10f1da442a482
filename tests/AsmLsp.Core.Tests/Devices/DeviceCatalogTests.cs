using AsmLsp.Core.Devices;
using CsCheck;

namespace AsmLsp.Core.Tests.Devices;

public sealed class DeviceCatalogTests
{
    [Fact]
    public void Names_are_sorted_and_each_names_its_chip()
    {
        Assert.Equal(DeviceCatalog.Names.Order(StringComparer.Ordinal), DeviceCatalog.Names);
        Assert.True(DeviceCatalog.Names.Length >= 84);
        Assert.All(DeviceCatalog.Names, name => Assert.Equal(name, DeviceCatalog.Find(name)?.Name));
    }

    [Theory]
    [InlineData("16F84", "PIC16F84")]
    [InlineData("PIC16F84", "PIC16F84")]
    [InlineData("p16f84", "PIC16F84")]
    [InlineData("P16F84A", "PIC16F84A")]
    [InlineData("Pic16f84a", "PIC16F84A")]
    [InlineData("PIC 16F84", "PIC16F84")]
    [InlineData(" 16f628a ", "PIC16F628A")]
    [InlineData("PIC16F84-04/P", "PIC16F84")]
    [InlineData("PIC16F84A-20I/P", "PIC16F84A")]
    [InlineData("16F628A-I/SO", "PIC16F628A")]
    [InlineData("16F628AT-I/SO", "PIC16F628A")]
    [InlineData("16C71/JW", "PIC16C71")]
    [InlineData("PIC16F84-04P", "PIC16F84")]
    [InlineData("PIC16F84A -04/P", "PIC16F84A")]
    [InlineData("16C84-04I/SO", "PIC16C84")]
    [InlineData("16F877-20", "PIC16F877")]
    [InlineData("16LF84A", "PIC16F84A")]
    [InlineData("PIC16LC84-04/P", "PIC16C84")]
    [InlineData("16HV616", "PIC16HV616")]
    [InlineData("16F84-delay", null)]
    [InlineData("16C84/F84", null)]
    [InlineData("16F84/16F84A", null)]
    [InlineData("12ce673", null)]
    [InlineData("16CR84", null)]
    [InlineData("16F85", null)]
    [InlineData("F84", null)]
    [InlineData("84", null)]
    [InlineData("16F84 on a board", null)]
    [InlineData("", null)]
    public void Find_knows_the_spellings_that_are_printed(string spelling, string? name) =>
        Assert.Equal(name, DeviceCatalog.Find(spelling)?.Name);

    [Fact]
    public void Nearest_offers_relatives_with_the_fewest_differences_first()
    {
        Assert.Equal("PIC16F88 PIC16F87 PIC16F84", string.Join(' ', DeviceCatalog.Nearest("16F89")));
        Assert.Equal("PIC16F628A PIC16F628 PIC16F627A", string.Join(' ', DeviceCatalog.Nearest("p16f628b")));
        Assert.All(
            DeviceCatalog.Nearest("12F635"),
            name => Assert.StartsWith("PIC12F6", name, StringComparison.Ordinal)
        );
        Assert.NotEmpty(DeviceCatalog.Nearest("12F635"));
        Assert.Empty(DeviceCatalog.Nearest("18F4550"));
        Assert.Empty(DeviceCatalog.Nearest("resistor"));
    }

    [Theory]
    [InlineData("p16f84.inc", "PIC16F84")]
    [InlineData("P16F84A.INC", "PIC16F84A")]
    [InlineData("p16f84a", "PIC16F84A")]
    [InlineData(@"C:\lib\P16C84.inc", "PIC16C84")]
    [InlineData("../inc/p12f675.inc", "PIC12F675")]
    [InlineData("p16lf628a.inc", "PIC16F628A")]
    [InlineData("p16f1827.inc", "PIC16F1827")]
    public void Header_names_say_the_chip_even_an_unknown_one(string file, string chip)
    {
        Assert.True(DeviceCatalog.IsHeaderName(file, out string device));
        Assert.Equal(chip, device);
    }

    [Theory]
    [InlineData("macros.inc")]
    [InlineData("p16f84-delay.inc")]
    [InlineData("p16f84delays.inc")]
    [InlineData("port.inc")]
    [InlineData("p16.inc")]
    [InlineData("p16f84.asm")]
    [InlineData("16f84")]
    [InlineData("")]
    public void Other_file_names_are_no_headers(string file)
    {
        Assert.False(DeviceCatalog.IsHeaderName(file, out string device));
        Assert.Equal("", device);
    }

    [Fact]
    public void Any_text_is_taken_without_a_fault() =>
        Gen
            .String.Array[1, 4]
            .Draw(parts =>
            {
                foreach (
                    string text in new[]
                    {
                        string.Concat(parts),
                        "PIC" + parts[0],
                        "16F" + parts[0],
                        "p16f84" + parts[0],
                    }
                )
                {
                    _ = DeviceCatalog.Find(text);
                    _ = DeviceCatalog.Nearest(text);
                    Assert.Equal(DeviceCatalog.IsHeaderName(text, out string device), device.Length > 0);
                }
            });

    [Fact]
    public void What_is_embedded_is_one_small_file_a_chip()
    {
        string[] resources =
        [
            .. typeof(Device)
                .Assembly.GetManifestResourceNames()
                .Where(name => name.StartsWith("device/", StringComparison.Ordinal)),
        ];
        Assert.Equal(DeviceCatalog.Names.Length, resources.Length);
        foreach (string resource in resources)
        {
            using Stream json = typeof(Device).Assembly.GetManifestResourceStream(resource)!;
            Assert.InRange(json.Length, 1, 16 * 1024);
        }
    }

    [Fact]
    public void A_chip_is_read_once() =>
        Assert.Same(DeviceCatalog.Find("16F84A"), DeviceCatalog.Find("pic16lf84a-20/p"));
}
