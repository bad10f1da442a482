using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Replacement;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Replacement;

/// <summary>Programs put onto other chips; addresses and bits are those of the data sheets that the chip files name.</summary>
public class ChipReplacementTests
{
    private const string Counter =
        " org 0\n goto start\nstart bsf STATUS,RP0\n clrf TRISB\n bcf STATUS,RP0\nloop incf count,f\n movf count,w\n movwf PORTB\n goto loop\n end\n";

    [Fact]
    public void The_demo_moves_to_a_larger_chip_and_both_programs_do_the_same()
    {
        ProgramAnalysis demo = Assembler.Assemble(
            FixturePrograms.Read(Path.Combine(FixturePrograms.Root, "docs", "demo", "crossing.asm")),
            new FixturePrograms.Beside()
        );
        var moved = ChipReplacement.Of(demo, DeviceCatalog.Find("16F628A")!);
        Assert.True(moved.IsClean, string.Join("\n", moved.Findings.Select(f => $"{f.Kind} {f.Text}")));
        Assert.True(moved.Words.Holds);
        Assert.Equal(89, moved.Words.Same + moved.Words.Moved + moved.Words.Jumps + moved.Words.Values);
        Assert.Null(moved.Run!.Difference);
        Assert.True(moved.Run.Changes > 0);
        string source = moved.Source.Text.ToString();
        // Common memory of PIC16F628A is 0x70 to 0x7F; EEADR and EEDATA are in bank 1 (data sheet DS40044B).
        Assert.Contains("cblock  0x70", source, StringComparison.Ordinal);
        Assert.Contains("_LVP_OFF", source, StringComparison.Ordinal);
        Assert.Contains("movwf CMCON", source, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("16c84", "16F84", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF", 0x0C)]
    [InlineData("16f84", "16F84A", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF", 0x0C)]
    [InlineData("16f84a", "16F628A", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF", 0x0C)]
    [InlineData(
        "16f627",
        "16F627A",
        "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF & _LVP_OFF & _MCLRE_ON & _BODEN_OFF",
        0x20
    )]
    [InlineData(
        "16f628",
        "16F628A",
        "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF & _LVP_OFF & _MCLRE_ON & _BODEN_OFF",
        0x20
    )]
    [InlineData("16f873", "16F873A", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF & _LVP_OFF & _BODEN_OFF", 0x20)]
    [InlineData("16f877", "16F877A", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF & _LVP_OFF & _BODEN_OFF", 0x20)]
    public void A_plain_program_moves_without_a_decision(string from, string to, string configuration, int memory)
    {
        ChipReplacement moved = Move(from, to, configuration, memory, Counter);
        Assert.True(moved.IsClean, string.Join("\n", moved.Findings.Select(f => $"{f.Kind} {f.Text}")));
        Assert.True(moved.Words.Holds);
        Assert.Null(moved.Run!.Difference);
        Assert.Equal(DeviceCatalog.Find(to), moved.Program.Device);
    }

    [Theory]
    [InlineData("12f629", "12F675")]
    [InlineData("16f630", "16F676")]
    public void Pins_that_are_analog_on_the_new_chip_are_made_digital_at_the_start(string from, string to)
    {
        string ports = from == "12f629" ? "GPIO" : "PORTA",
            directions = from == "12f629" ? "TRISIO" : "TRISA";
        ChipReplacement moved = Move(
            from,
            to,
            "_INTRC_OSC_NOCLKOUT & _WDT_OFF",
            0x20,
            $" org 0\n goto start\nstart call 0x3FF\n bsf STATUS,RP0\n movwf OSCCAL\n bcf {directions},0\n bcf STATUS,RP0\nloop bsf {ports},0\n bcf {ports},0\n goto loop\n end\n"
        );
        Assert.True(moved.IsClean, string.Join("\n", moved.Findings.Select(f => $"{f.Kind} {f.Text}")));
        Assert.Contains("clrf ANSEL", moved.Source.Text.ToString(), StringComparison.Ordinal);
        Assert.Null(moved.Run!.Difference);
    }

    [Fact]
    public void Power_up_delay_keeps_its_meaning_where_its_bit_is_inverted()
    {
        // PIC16C84: PWRTE 1 is on (data sheet DS30445D); PIC16F84: 0 is on (DS30430C).
        ChipReplacement moved = Move("16c84", "16F84", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF", 0x0C, Counter);
        Assert.Equal(0, moved.Program.Image.Memory[HexAreas.Configuration]!.Value & 0x0008);
    }

    [Fact]
    public void A_pin_that_no_longer_lets_go_is_left_to_a_person()
    {
        ChipReplacement moved = Move("16f84a", "16F88", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF", 0x0C, Counter);
        ReplacementFinding open = Assert.Single(
            moved.Findings,
            f => f.Kind is FindingKind.Doubt or FindingKind.Impossible
        );
        Assert.Contains("RA4", open.Text, StringComparison.Ordinal);
        Assert.True(moved.Words.Holds);
    }

    [Fact]
    public void A_bit_with_another_meaning_is_doubted_on_its_line()
    {
        // Bit 6 of INTCON is EEIE on PIC16F84A, PEIE on PIC16F628A; bit 4 of EECON1 is EEIF on the one and not there on the other.
        ChipReplacement moved = Move(
            "16f84a",
            "16F628A",
            "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF",
            0x0C,
            " org 0\n bsf INTCON,EEIE\n bsf STATUS,RP0\n bcf EECON1,4\n bcf STATUS,RP0\nloop goto loop\n end\n"
        );
        Assert.Contains(
            moved.Findings,
            f => f.Kind == FindingKind.Doubt && f.Text.Contains("EECON1", StringComparison.Ordinal)
        );
        Assert.Contains(";?", moved.Source.Text.ToString(), StringComparison.Ordinal);
        Assert.False(moved.IsClean);
    }

    [Fact]
    public void Registers_that_the_source_equates_itself_get_the_new_address()
    {
        ChipReplacement moved = Of(
            " list p=16f84a\nSTATUS equ 3\nPORTB equ 6\nEEADR equ 9\nRP0 equ 5\n __config 0x3ff1\n org 0\n movlw 5\n movwf EEADR\nloop goto loop\n end\n",
            "16F628A"
        );
        string source = moved.Source.Text.ToString();
        Assert.Contains("EEADR equ 0x9B", source, StringComparison.Ordinal);
        Assert.True(moved.Words.Holds, moved.Words + "\n" + source);
    }

    [Fact]
    public void A_skip_before_a_register_that_changed_its_bank_is_left_to_a_person()
    {
        ChipReplacement moved = Move(
            "16f84a",
            "16F628A",
            "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF",
            0x0C,
            " org 0\n btfsc PORTB,0\n clrf EEADR\nloop goto loop\n end\n"
        );
        Assert.Contains(
            moved.Findings,
            f => f.Kind == FindingKind.Doubt && f.Text.Contains("EEADR is in bank 1", StringComparison.Ordinal)
        );
        Assert.False(moved.Words.Holds);
    }

    [Fact]
    public void Pins_of_the_crystal_and_of_the_reset_are_no_ports_that_get_lost()
    {
        ChipReplacement moved = Move(
            "16f628a",
            "16F84A",
            "_XT_OSC & _WDT_OFF & _PWRTE_ON & _LVP_OFF & _MCLRE_ON & _CP_OFF & _BOREN_ON",
            0x20,
            Counter
        );
        Assert.DoesNotContain(moved.Findings, f => f.Text.Contains("the board must change", StringComparison.Ordinal));
        moved = Move(
            "16f628a",
            "16F84A",
            "_INTRC_OSC_NOCLKOUT & _WDT_OFF & _PWRTE_ON & _LVP_OFF & _MCLRE_ON & _CP_OFF & _BOREN_ON",
            0x20,
            Counter
        );
        Assert.Equal(2, moved.Findings.Count(f => f.Text.Contains("the board must change", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_register_that_the_new_chip_lacks_is_one_decision_a_line()
    {
        ChipReplacement moved = Move(
            "16f628a",
            "16F84A",
            "_XT_OSC & _WDT_OFF & _PWRTE_ON & _LVP_OFF & _MCLRE_ON & _CP_OFF & _BOREN_ON",
            0x20,
            " org 0\n movlw 7\n movwf CMCON\nloop goto loop\n"
        );
        ReplacementFinding open = Assert.Single(moved.Findings, static f => f.Area == "registers");
        Assert.Equal("PIC16F84A has no register CMCON", open.Text);
    }

    [Fact]
    public void A_chip_that_does_not_fit_the_socket_is_said_to_be_impossible()
    {
        ChipReplacement moved = Move("16f84a", "12F675", "_XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF", 0x0C, Counter);
        Assert.Contains(
            moved.Findings,
            f => f.Kind == FindingKind.Impossible && f.Text.Contains("PDIP-8", StringComparison.Ordinal)
        );
        Assert.Equal(FindingKind.Impossible, moved.Findings[0].Kind);
    }

    [Fact]
    public void Any_pair_of_chips_gives_a_report_and_never_fails()
    {
        string[] names = [.. DeviceCatalog.Names];
        for (int i = 0; i < names.Length; i++)
        {
            string from = names[i][3..],
                to = names[(i * 37 + 11) % names.Length][3..];
            ChipReplacement moved = Of(
                $" list p={from}\n org 0\n sleep\n movwf STATUS\n end\n",
                to,
                mayHaveErrors: true
            );
            Assert.NotEmpty(moved.Findings);
        }
    }

    private static ChipReplacement Move(string from, string to, string configuration, int memory, string body) =>
        Of(
            $" list p={from}\n include <p{from}.inc>\n __config {configuration}\n; clock 4 MHz\n cblock 0x{memory:x2}\ncount\n endc\n{body}",
            to
        );

    private static ChipReplacement Of(string source, string to, bool mayHaveErrors = false)
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("main.asm", SourceText.From(source)),
            new FixturePrograms.Beside()
        );
        Assert.True(mayHaveErrors || !program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return ChipReplacement.Of(program, DeviceCatalog.Find(to)!);
    }
}
