using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

public class ScatteredConfigurationTests
{
    private const string Rest =
        "lamp    equ     6\n        org     0\nstart   movlw   1\n        movwf   lamp\n        goto    start\n        end";

    [Theory]
    [InlineData("lamp2   equ     7\n& _PWRTE_ON & _XT_OSC\n")]
    [InlineData("lamp2   equ     7\n_XT_OSC\n")]
    [InlineData("lamp2   equ     7\n|_PWRTE_ON &\n")]
    public void Settings_apart_from_the_configuration_make_it_doubtful(string between)
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        __config _CP_OFF & _WDT_OFF\n" + between + Rest
        );
        int line = Enumerable
            .Range(0, result.Source.LineCount)
            .Single(i => result.Source[i].Text.Contains("__config", StringComparison.Ordinal));
        Assert.Contains(";? are more settings printed?", result.Source[line].Text, StringComparison.Ordinal);
        RecoveryEntry entry = Assert.Single(
            result.Entries,
            e => e.Code == DocumentCodes.ScatteredConfiguration && e.Line == line
        );
        Assert.Equal((line, Severity.Warning, 1), (entry.Line, entry.Severity, entry.Page));
    }

    [Theory]
    [InlineData("lamp    equ     6\n_XT_OSC\n        org     0\n        movwf   lamp\n        end\n", "_XT_OSC")]
    [InlineData("        org     0\n        movwf   6\n & _XT_OSC & _PWRTE_ON\n        end\n", "_XT_OSC")]
    public void Settings_in_a_paste_that_nothing_can_use_are_doubted_with_the_configuration(string rest, string stray)
    {
        RecoveryResult result = TextRecovery.Run(
            AsmLsp.Core.Text.SourceText.From("        list    p=16f84a\n        __config _CP_OFF & _WDT_OFF\n" + rest)
        );
        string[] marked =
        [
            .. result.Source.ToString().Split('\n').Where(static l => l.Contains(";?", StringComparison.Ordinal)),
        ];
        Assert.Contains(marked, static l => l.Contains("__config", StringComparison.Ordinal));
        Assert.Contains(marked, l => l.Contains(stray, StringComparison.Ordinal));
        Assert.False(result.IsClean);
    }

    [Theory]
    [InlineData("        __config _CP_OFF & _WDT_OFF &\n_PWRTE_ON & _XT_OSC\n")]
    [InlineData("        __config _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC\n; _CP_OFF & _WDT_ON\n")]
    public void A_whole_configuration_is_not_doubted(string configuration)
    {
        RecoveryResult result = Recover("        list    p=16f84a\n" + configuration + Rest);
        Assert.DoesNotContain(result.Entries, e => e.Code == DocumentCodes.ScatteredConfiguration);
        // PIC16F84A data sheet DS35007B, register 6-1: CP off, PWRTE (active low) on, WDT off, XT.
        Assert.Equal<ushort?>(0x3FF1, result.Program.Image.Memory[0x2007]);
    }
}
