using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

public class HyphenationTests
{
    private const string Parted = """
                list    p=16f84a
                __config _CP_OFF & _WDT_OFF & _PW~
                RTE_ON & _XT_OSC
        counter equ     0x0c
                org     0
        start   clrf    coun~
        ter
                goto    start
                end
        """;

    [Fact]
    public void Names_that_typesetting_has_parted_are_joined()
    {
        RecoveryResult result = Recover(Parted.Replace('~', '\u2010'));
        // By hand (DS35007B, table 7-2): CLRF 00 0001 1f, GOTO 10 1k; the configuration is all bits but WDTE, PWRTE, and the oscillator's (register 6-1).
        Assert.Equal("0:018C 1:2800", Words(result));
        Assert.Equal(0x3FF1, result.Program.Image.Words.Single(w => w.Address == 0x2007).Word);
        // The name that is elsewhere in one piece is certain; the other one is a doubt.
        Assert.Contains(";? '_PWRTE_ON' was parted by a hyphen", Source(result), StringComparison.Ordinal);
        Assert.Single(result.Source.Lines, l => l.Text.Contains(";?", StringComparison.Ordinal));
    }

    [Fact]
    public void A_minus_at_the_end_of_a_line_joins_nothing() =>
        Assert.DoesNotContain("clrf    counter", Source(Recover(Parted.Replace('~', '-'))), StringComparison.Ordinal);
}
