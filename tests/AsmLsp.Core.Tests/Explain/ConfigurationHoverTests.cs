using AsmLsp.Core.Explain;

namespace AsmLsp.Core.Tests.Explain;

/// <summary>Bits of the words: data sheets DS35007B (PIC16F84A) and DS40300C (PIC16F62X), configuration word.</summary>
public class ConfigurationHoverTests
{
    [Theory]
    [InlineData("$0_CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC")]
    [InlineData("_CP_OFF & _WDT$0_OFF & _PWRTE_ON & _XT_OSC")]
    [InlineData("_CP_OFF & _WDT_OFF & _PWRTE_ON$0 & _XT_OSC")]
    [InlineData("_CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC$0")]
    [InlineData("0x3F$0F1")]
    [InlineData("H'3FF1$0'")]
    public void Any_symbol_or_number_of_a_configuration_line_shows_the_whole_word(string value) =>
        Assert.Equal(
            """
            Configuration word 0x3FF1 of PIC16F84A

              name         value   what it does
              CP           0x3FF0  program memory readable (no protection) (_CP_OFF)
              /PWRTE       0x0000  power-up delay timer on (about 72 ms) (_PWRTE_ON)
              WDTE         0x0000  watchdog off (_WDT_OFF)
              FOSC1:FOSC0  0x0001  clock: standard crystal or resonator, up to 4 MHz (_XT_OSC)

            - CP: all bits of this field carry the same value
            - /PWRTE: active low: the bit must be 0 to enable the delay
            """,
            ExplainCheck.At(
                $"""
                 list p=16f84a
                 #include <p16f84a.inc>
                 __config {value}
                 nop
                 end
                """
            )
        );

    [Fact]
    public void The_configuration_directive_itself_shows_the_word() =>
        Assert.StartsWith(
            "Configuration word 0x3FF1 of PIC16F84A",
            ExplainCheck.At(" list p=16f84a\n __con$0fig _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC\n nop\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_plain_word_at_the_configuration_address_is_one_too() =>
        Assert.StartsWith(
            "Configuration word 0x3FF1 of PIC16F84A",
            ExplainCheck.At(" list p=16f84a\n nop\n org 0x2007\n dw 3F$0F1\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_configuration_under_a_name_shows_the_word_at_its_definition() =>
        Assert.StartsWith(
            "Configuration word 0x3FF1 of PIC16F84A",
            ExplainCheck.At(
                " list p=16f84a\nsetup equ _CP_OFF & _WDT_$0OFF & _PWRTE_ON & _XT_OSC\n __config setup\n nop\n end"
            ),
            StringComparison.Ordinal
        );

    [Fact]
    public void What_bites_a_repairer_is_said_below_the_fields()
    {
        string text = ExplainCheck.At(" list p=16f628\n __config 0x3F$0FF\n nop\n end")!;
        Assert.Contains("The watchdog is on", text, StringComparison.Ordinal);
        Assert.Contains("Low-voltage programming is on: RB4", text, StringComparison.Ordinal);
        Assert.Contains("The clock is made by a resistor", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Code_protection_is_pointed_out() =>
        Assert.Contains(
            "Code protection is on",
            ExplainCheck.At(" list p=16f84a\n __config _CP_ON$0 & _XT_OSC\n nop\n end"),
            StringComparison.Ordinal
        );

    [Fact]
    public void Without_a_chip_the_word_stands_alone() =>
        Assert.Equal(
            "Configuration word 0x3FF1 at 0x2007. What its bits mean depends on the chip, which the program does not name.",
            ExplainCheck.At(" __config 0x3F$0F1\n nop\n end")
        );

    // Ranges of the crystal settings: data sheet DS35007B, section 6.2.
    [Theory]
    [InlineData("_XT_OSC", "; 20 MHz crystal", "The XT setting is for crystals up to 4 MHz")]
    [InlineData("_LP_OSC", "; 4 MHz crystal", "The LP setting drives slow crystals up to 200 kHz")]
    [InlineData("_HS_OSC", "; 32.768 kHz crystal", "The HS setting is for crystals from 4 MHz up")]
    [InlineData("_RC_OSC", "; 4 MHz crystal", "with a crystal fitted the chip does not run. XT is the setting for it.")]
    [InlineData("_HS_OSC", "; clock 40 MHz", "more than any PIC16F84A is made for (20 MHz)")]
    public void A_setting_that_does_not_fit_the_clock_is_reported(string setting, string comment, string expected) =>
        Assert.Contains(
            expected,
            ExplainCheck.At(
                $"{comment}\n list p=16f84a\n __config _CP_OFF & _WDT_OFF & _PWRTE_ON & {setting}$0\n nop\n end"
            ),
            StringComparison.Ordinal
        );

    [Theory]
    [InlineData("_XT_OSC", "; 4 MHz crystal")]
    [InlineData("_XT_OSC", "; 4.194304 MHz crystal")]
    [InlineData("_HS_OSC", "; 4 MHz crystal")]
    [InlineData("_HS_OSC", "; 20 MHz crystal")]
    [InlineData("_LP_OSC", "; 32.768 kHz crystal")]
    [InlineData("_RC_OSC", "; clock 4 MHz")]
    public void A_setting_that_fits_the_clock_is_left_alone(string setting, string comment)
    {
        string text = ExplainCheck.At(
            $"{comment}\n list p=16f84a\n __config _CP_OFF & _WDT_OFF & _PWRTE_ON & {setting}$0\n nop\n end"
        )!;
        Assert.DoesNotContain("setting for it", text, StringComparison.Ordinal);
        Assert.DoesNotContain("is made for", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_clock_of_the_settings_beats_the_comments() =>
        Assert.Contains(
            "The XT setting is for crystals up to 4 MHz: with 20 MHz",
            ExplainCheck.At(
                "; 4 MHz crystal\n list p=16f84a\n __config _XT_OSC$0\n nop\n end",
                new ExplainOptions { ClockHertz = 20e6 }
            ),
            StringComparison.Ordinal
        );
}
