using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Programs in parts, several programs, and columns that change within a page.</summary>
public class ListingPartsTests
{
    private const string Main = """
                list    p=16f84a
                __config 0x3ff1
        LEVEL   equ     0x0c
                org     0
        loop    call    show
                incf    LEVEL,f
                goto    loop
        """;

    private const string Show = """
        show    movf    LEVEL,w
                movwf   6
                clrwdt
                return
        """;

    private const string Other = """
                list    p=16f84a
                __config 0x3ff1
                org     0
        begin   bsf     3,5
                clrf    6
                bcf     3,5
        turn    incf    6,f
                goto    turn
                end
        """;

    private static readonly string Prose = string.Join(
        '\n',
        Enumerable.Repeat("|The lamp of the porch shows how long the door was open on that day.", 10)
    );

    private static bool IsChoice(RecoveryResult result) =>
        result.Entries.Any(static e => e is { Code: DocumentCodes.SeveralListings, Severity: Severity.Error });

    [Fact]
    public void Program_that_continues_past_its_end_is_whole_and_not_passed_over_for_another_one()
    {
        string first = $"{Main}\n        end\n{Prose}\n{Show}";
        Assert.Equal(7, PrintedPages.Recover(first).Program.Image.ProgramWords);
        RecoveryResult result = PrintedPages.Recover(first, $"{Prose}\n{Other}");
        Assert.True(IsChoice(result));
        Assert.All(
            DocumentListings.Find(PrintedPages.Of(first, $"{Prose}\n{Other}")),
            static l => Assert.True(l.IsWhole && l.Lacking.IsEmpty)
        );
    }

    [Fact]
    public void Program_that_lost_its_end_is_not_passed_over_for_a_shorter_one()
    {
        string longer = string.Concat(
            Enumerable.Range(0, 9).Select(static i => $"next{i}   incf    0x0d,f\n        movwf   6\n")
        );
        Assert.True(IsChoice(PrintedPages.Recover($"{Main}\n{Show}\n{longer}{Prose}", $"{Prose}\n{Other}\n{Prose}")));
        // A short piece with a head is a piece.
        Assert.False(
            IsChoice(
                PrintedPages.Recover(
                    $"        list    p=16f84a\n        org     0\n        nop\n        nop\n        sleep\n{Prose}",
                    $"{Prose}\n{Other}"
                )
            )
        );
    }

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public void Text_of_the_left_column_beside_a_gap_of_the_right_one_leaves_the_order_in_doubt(
        bool isFilled,
        bool isDoubt
    )
    {
        string[] head =
            ["        list    p=16f84a", "        __config 0x3ff1", "        org     0", "begin   clrf    6"],
            leftBelow = ["        movlw   3", "        movwf   0x0d", "        clrw", "        goto    begin"],
            rightAbove = ["again   incf    6,f", "        movlw   5", "        movwf   0x0c", "        nop"],
            rightBelow = ["        decf    6,f", "        clrwdt", "        goto    again", "        end"];
        var lines = new List<PrintedLine>();
        Add(head, 0, 100);
        foreach (int row in (int[])[0, 1, 2])
            lines.Add(
                new PrintedLine(
                    "The lamp is on as long as the door",
                    1,
                    lines.Count + 1,
                    60,
                    160 + 12 * row,
                    "Times-Roman",
                    11,
                    false
                )
            );
        Add(leftBelow, 0, 210);
        Add(rightAbove, 1, 100);
        if (isFilled)
            Add(["        nop", "        nop", "        nop", "        nop"], 1, 148);
        Add(rightBelow, 1, 210);
        RecoveryResult result = AsmLsp.Core.Recovery.DocumentRecovery.Run(
            new PrintedDocument([new PrintedPage(1, 595, 842, [.. lines], [])])
        );
        Assert.Equal(
            isDoubt,
            result.Entries.Any(e =>
                e.Code == DocumentCodes.NotAsPrinted
                && result.Source[e.Line].Text.Contains("movlw   3", StringComparison.Ordinal)
                && e.Message.Contains("may part the page", StringComparison.Ordinal)
            )
        );

        void Add(string[] rows, int column, double y)
        {
            foreach (string text in rows)
            {
                double x = (column == 0 ? 60 : 320) + 6 * (text.Length - text.TrimStart().Length);
                lines.Add(new PrintedLine(text, 1, lines.Count + 1, x, y, "Courier", 10, true) { TextColumn = column });
                y += 12;
            }
        }
    }
}
