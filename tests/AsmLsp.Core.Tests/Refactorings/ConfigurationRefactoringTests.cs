using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

/// <summary>Bits of the configuration word: data sheet DS35007B, register 6-1 (PIC16F84A); DS39582B, register 14-1 (PIC16F877A).</summary>
public class ConfigurationRefactoringTests
{
    private const string Head = " list p=16f84a\n include <p16f84a.inc>\n";

    [Fact]
    public void Number_becomes_the_names_of_its_settings() =>
        Makes(
            "configuration-as-names/names",
            Head + " __config {|}0x3FF1 ; xt\n nop\n end",
            Head + " __config _CP_OFF & _PWRTE_ON & _WDT_OFF & _XT_OSC ; xt\n nop\n end",
            "Write the configuration by names: _CP_OFF & _PWRTE_ON & _WDT_OFF & _XT_OSC (same words)"
        );

    [Fact]
    public void Bits_that_have_no_name_stay_as_a_number() =>
        // Bit 12 of the PIC16F877A is not there; an author has written it as 0 all the same.
        Makes(
            "configuration-as-names/names",
            " list p=16f877a\n include <p16f877a.inc>\n __config {|}0x2F32\n nop\n end",
            " list p=16f877a\n include <p16f877a.inc>\n __config _CP_OFF & _DEBUG_OFF & _WRT_OFF & _CPD_OFF & _LVP_OFF & _BODEN_OFF & _PWRTE_ON & _WDT_OFF & _HS_OSC & 0x2FFF\n nop\n end"
        );

    [Fact]
    public void Names_become_a_number_with_its_meaning()
    {
        string after = RefactoredBy(
            "configuration-as-number/number",
            Head + "        __config {|}_CP_OFF & _WDT_OFF & _XT_OSC ; mine\n nop\n end"
        );
        string[] lines = after.Split('\n');
        Assert.Equal(
            "        __config 0x3FF9 ; mine",
            lines.Single(l => l.Contains("__config", StringComparison.Ordinal))
        );
        Assert.Equal(
            4,
            lines.Count(l => l.StartsWith("; ", StringComparison.Ordinal) && l.Contains(':', StringComparison.Ordinal))
        );
    }

    [Fact]
    public void Number_is_not_made_of_a_number() =>
        OffersNo("configuration-as-number", Head + " __config {|}0x3FF1\n nop\n end");

    [Theory]
    [InlineData(" list p=16f84a\n __config {|}0x3FF1 ;? was 3FFI\n nop\n end")]
    [InlineData(" __config {|}0x3FF1\n nop\n end")]
    [InlineData(" list p=16f84a\n if 0\n __config {|}0x3FF1\n endif\n nop\n end")]
    public void Configuration_is_left_alone(string source) => OffersNo("configuration-as-names", source);

    [Fact]
    public void Setting_is_changed_for_another_of_its_field()
    {
        const string source = Head + " __config _CP_OFF & _WDT{|}_OFF & _XT_OSC\n nop\n end";
        Makes("change-setting/_WDT_ON", source, Head + " __config _CP_OFF & _WDT_ON & _XT_OSC\n nop\n end");
        Assert.Single(Find(source), r => r.Id.StartsWith("change-setting/", StringComparison.Ordinal));
        Assert.Contains("(changes the program's words)", Titles(source), StringComparison.Ordinal);
    }

    [Fact]
    public void Code_protection_carries_a_caution() =>
        Assert.Contains(
            Find(Head + " __config _CP{|}_OFF & _WDT_OFF\n nop\n end"),
            r => r.Id == "change-setting/_CP_ON" && r.Title.Contains("can't be read back", StringComparison.Ordinal)
        );

    private static string RefactoredBy(string id, string source)
    {
        var edits = Assert.Single(Find(source).Single(r => r.Id == id).Compute());
        return edits.File.Text.WithEdits(edits.Edits).ToString();
    }
}
