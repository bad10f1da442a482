using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Pastes;

/// <summary>Programs that send pages themselves hold the same names and tags in quotes as a page that a listing was copied from.</summary>
public class QuotedNamesTests
{
    [Fact]
    public void Name_of_a_character_that_is_in_quotes_alone_stays_with_a_doubt()
    {
        RecoveryResult result = Recover("\"1&lt;2\"", "");
        Assert.Contains("\"1&lt;2\"", result.Source.ToString(), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            static e => e.Severity != Severity.Information && e.Message.Contains("'&lt;'", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Names_around_the_quotes_show_that_those_in_quotes_are_of_the_page()
    {
        RecoveryResult result = Recover("\"1&lt;2\"", " ; 3 &gt; 2");
        Assert.Contains("\"1<2\"", result.Source.ToString(), StringComparison.Ordinal);
        Assert.Contains("; 3 > 2", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Name_that_the_program_sends_is_read_once_only()
    {
        RecoveryResult result = Recover("\"1&amp;lt;2\"", " ; 3 &gt; 2");
        Assert.Contains("\"1&lt;2\"", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"<b>on</b>\"")]
    [InlineData("\"a<br>b\"")]
    [InlineData("\"[code]\"")]
    public void Tags_in_quotes_alone_stay(string text) =>
        Assert.Contains(text, Recover(text, "").Source.ToString(), StringComparison.Ordinal);

    private static RecoveryResult Recover(string text, string remark) =>
        PasteRecovery.Run(
            SourceText.From(
                $"""
                        list p=16f84a
                        __config 0x3ff1
                        org 0
                start   movlw 3{remark}
                        movwf 6
                        call again
                        goto start
                again   addwf 2,f
                        dt {text},0
                        end
                """
            )
        );
}
