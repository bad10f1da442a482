using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Audit;

/// <summary>Headings in the margin beside a listing that are the names of instructions.</summary>
public class MarginWordsTests
{
    private const string Rows = """
        ; bell of the ferry
                list p=16f84a
                include <p16f84a.inc>
                __config 0x3FF1
                org 0
        start   bsf STATUS,RP0
                bcf TRISB,3
                bcf STATUS,RP0
        ; nobody rings at night
        ring    bsf PORTB,3     ; strike
                nop
                bcf PORTB,3
                btfsc PORTA,1
                goto ring
                sleep
                goto ring
                end
        """;

    [Fact]
    public void Instruction_in_the_margin_of_a_listing_is_doubted()
    {
        string[] lines = [.. Rows.ReplaceLineEndings("\n").Split('\n').Select(static l => new string(' ', 16) + l)];
        lines[8] = "Sleep" + lines[8][5..];
        RecoveryResult result = PasteRecovery.Run(SourceText.From(string.Join('\n', lines)));
        Assert.Contains(
            result.Entries,
            static e => e.Severity != Severity.Information && e.Message.Contains("Sleep", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Instruction_at_the_place_of_the_others_is_not()
    {
        RecoveryResult result = PasteRecovery.Run(SourceText.From(Rows));
        Assert.DoesNotContain(result.Entries, static e => e.Severity != Severity.Information);
    }
}
