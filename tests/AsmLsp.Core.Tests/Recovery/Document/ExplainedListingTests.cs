using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Programs of lessons: a paragraph between every few lines, captions over the pieces, sentences that name instructions.</summary>
public class ExplainedListingTests
{
    private const string Words =
        "0:2810 10:1683 11:0186 12:1283 13:3033 14:008C 15:0B8C 16:2815 17:0063 18:2813 19:0008";

    private static readonly string[] Program =
    [
        "        list    p=16f84a",
        "        include <p16f84a.inc>",
        "        cblock  0x0c",
        "        ticks",
        "        endc",
        "        org     0",
        "        goto    feed",
        "        org     0x10",
        "feed    bsf     STATUS,RP0",
        "        clrf    TRISB",
        "        bcf     STATUS,RP0",
        "again",
        "        movlw   0x33",
        "        movwf   ticks   ; how long the hopper shakes",
        "        decfsz  ticks,f",
        "        goto    $-1",
        "        sleep",
        "        goto    again",
        "        return",
        "        end",
    ];

    private static RecoveryResult Recover(params (int Below, string Text)[] said)
    {
        var page = new List<string>();
        for (int i = 0; i < Program.Length; i++)
        {
            page.Add(Program[i]);
            foreach ((int below, string text) in said)
                if (below == i)
                    page.AddRange(["", .. text.Split('\n').Select(static t => "|" + t), ""]);
        }

        RecoveryResult result = PrintedPages.Recover(string.Join('\n', page));
        Assert.Equal(Words, PrintedPages.Words(result));
        return result;
    }

    [Fact]
    public void Sentence_about_an_instruction_in_the_type_of_the_text_is_no_row_of_the_listing()
    {
        RecoveryResult result = Recover(
            (8, "So bsf is used once more, and RP0 keeps its meaning."),
            (12, "With movlw the value gets where it is wanted; the rest\nwas said in\nchapter 4."),
            (13, "The instruction\nnop was left out\nhere.")
        );
        Assert.Empty(PrintedPages.DoubtsOf(result));
        Assert.DoesNotContain("chapter", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.DoesNotContain("used once", PrintedPages.Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Bare_operation_below_a_paragraph_is_code_in_the_type_of_the_listing()
    {
        RecoveryResult result = Recover(
            (15, "Then the hopper rests until the next heron comes by,\nand nothing is wasted in the night."),
            (17, "The last lines are never reached. They are here for the\nsake of those who take the program apart."),
            (18, "That is all.")
        );
        Assert.Empty(PrintedPages.DoubtsOf(result));
        Assert.EndsWith("end", PrintedPages.Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Caption_of_the_next_piece_is_no_variable_and_no_label()
    {
        RecoveryResult result = Recover(
            (2, "All cells are named\nhere.\n\nListing 2 (continued)"),
            (10, "Listing 2 (continued): feed.asm"),
            (14, "Listing 2\n(continued)")
        );
        Assert.Empty(PrintedPages.DoubtsOf(result));
        Assert.DoesNotContain("Listing", PrintedPages.Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Included_files_below_the_last_paragraph_are_of_the_program()
    {
        string page = string.Join('\n', Program[..^2]);
        RecoveryResult result = PrintedPages.Recover(
            page
                + "\n\n|What is left to do is done by the files of the club, which\n|everybody has.\n\n"
                + "        include <club\\turn.inc>\n        include \"lid.inc\"\n        end"
        );
        Assert.EndsWith(
            "        include <club\\turn.inc>\n        include \"lid.inc\"\n        end",
            PrintedPages.Source(result).Replace(" ;? ", "\n", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
    }
}
