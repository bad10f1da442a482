using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>A program that its document prints twice: the same, or with other lines.</summary>
public class NearCopyTests
{
    private const string Program = """
                list    p=16f84a
                __config 0x3ff1
        LAMP    equ     6
                org     0
        start   movlw   0x31
                movwf   LAMP
                clrf    0x0c
        wait    decfsz  0x0c,f
                goto    wait
                comf    LAMP,f
                nop
                goto    wait
                end
        """;

    private static string[] Pages(string other) =>
        [$"|The first edition.\n{Program}", $"|The second edition, with thanks to all readers.\n{other}"];

    private static RecoveryResult Pick(int number, string other) =>
        PrintedPages.Recover(new DocumentRecoveryOptions { Listing = number }, Pages(other));

    [Fact]
    public void Equal_prints_are_one_program_whatever_their_comments_and_room()
    {
        RecoveryResult result = PrintedPages.Recover(
            Pages(Program.Replace("nop", "nop    ; once more", StringComparison.Ordinal))
        );
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
        Assert.Contains(
            result.Entries,
            static e =>
                e.Code == DocumentCodes.SeveralListings && e.Message.Contains("page 2", StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("comf    LAMP,f", "comf    LAMP,w", "comf", "comf LAMP , w")]
    [InlineData("movlw   0x31", "movlw   0x37", "start", "movlw 0x37")]
    [InlineData("        nop\n", "", "nop", "does not have this line")]
    [InlineData("        nop\n", "        nop\n        clrwdt\n", "nop", "below this line")]
    public void Other_lines_are_reported_at_their_place_in_the_print_that_is_chosen(
        string from,
        string to,
        string line,
        string words
    )
    {
        string other = Program.Replace(from, to, StringComparison.Ordinal);
        Assert.Contains(
            PrintedPages.Recover(Pages(other)).Entries,
            static e => e is { Code: DocumentCodes.SeveralListings, Severity: Severity.Error }
        );
        FoundListing second = DocumentListings.Find(PrintedPages.Of(Pages(other)))[1];
        Assert.Equal(1, second.Like);
        Assert.Single(second.Differences);

        RecoveryResult result = Pick(1, other);
        RecoveryEntry entry = Assert.Single(PrintedPages.DoubtsOf(result));
        Assert.Equal(DocumentCodes.SeveralListings, entry.Code);
        Assert.Contains(line, result.Source[entry.Line].Text, StringComparison.Ordinal);
        Assert.Contains(words, entry.Message, StringComparison.Ordinal);
        Assert.Contains(";?", result.Source[entry.Line].Text, StringComparison.Ordinal);
        Assert.Single(PrintedPages.DoubtsOf(Pick(2, other)));
    }

    [Fact]
    public void Text_in_quotes_that_differs_in_blanks_or_behind_a_semicolon_is_another_line()
    {
        foreach (
            (string here, string there) in (ReadOnlySpan<(string, string)>)
                [("dt \"a b\"", "dt \"ab\""), ("dt \";x\"", "dt \";y\""), ("dt \"A\"", "dt \"a\"")]
        )
        {
            string[] pages =
            [
                $"|The first edition.\n{Program.Replace("nop", here, StringComparison.Ordinal)}",
                $"|The second edition.\n{Program.Replace("nop", there, StringComparison.Ordinal)}",
            ];
            Assert.Equal(2, DocumentListings.Find(PrintedPages.Of(pages)).Length);
        }
    }

    [Fact]
    public void Programs_that_share_a_few_lines_are_no_copies()
    {
        const string other = """
                    list    p=16f84a
                    __config 0x3ff1
            MOTOR   equ     5
                    org     0
            begin   bsf     3,5
                    clrf    MOTOR
                    bcf     3,5
            turn    bsf     MOTOR,0
                    nop
                    bcf     MOTOR,0
                    goto    turn
                    end
            """;
        Assert.All(DocumentListings.Find(PrintedPages.Of(Pages(other))), static l => Assert.Null(l.Like));
        Assert.Empty(PrintedPages.DoubtsOf(Pick(1, other)));
    }
}
