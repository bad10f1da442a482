using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Pdf.Tests;

/// <summary>Headings that a text prints beside a listing, on the base lines of its rows.</summary>
public class SideHeadingTests
{
    [Fact]
    public void Heading_beside_a_listing_is_a_row_of_its_own_and_none_of_the_program()
    {
        using var paper = new Paper();
        paper.Write("Filling the", 40, 100, paper.Roman, 11);
        paper.Write("trough", 40, 112, paper.Roman, 11);
        paper.Listing(
            """
                    list    p=16f84a
                    clrf    0x0c
            ;-----------------------------------
            fill    btfss   0x05,1
                    goto    fill
                    bsf     0x06,0
                    end
            """,
            160,
            100
        );
        PrintedDocument document = paper.Read();
        Assert.Contains(document.Pages[0].Lines, static l => l.Text.Trim() == "trough" && !l.IsMonospaced);
        RecoveryResult result = DocumentRecovery.Run(document);
        string source = result.Source.ToString();
        Assert.DoesNotContain("trough", source, StringComparison.Ordinal);
        Assert.Contains("clrf    0x0c", source, StringComparison.Ordinal);
        Assert.Equal(4, result.Program.Image.ProgramWords);
    }

    [Fact]
    public void Note_in_the_type_of_the_text_after_a_row_of_a_listing_is_no_operand_of_it()
    {
        string[] rows =
        [
            "        list    p=16f84a",
            "        clrf    0x06",
            "tend    btfss   0x05,1",
            "        goto    tend",
            "        bsf     0x06,0     ; open the sluice",
            "        sleep",
            "        end",
        ];
        using var paper = new Paper();
        for (int i = 0; i < rows.Length; i++)
            paper.Write(rows[i], 60, 100 + 12 * i);
        paper.Write("all gates shut, then call the warden", 350, 112, paper.Roman, 11);
        paper.Write("goto does the rest.", 350, 136, paper.Roman, 11);
        paper.Write("The sluice is open,", 350, 148, paper.Roman, 11);
        paper.Write("so 5 is enough", 350, 160, paper.Roman, 11);
        PrintedDocument document = paper.Read();
        Assert.Contains(
            "        bsf     0x06,0     ; open the sluice",
            document.Pages[0].Lines.Select(static l => l.Text)
        );
        RecoveryResult result = DocumentRecovery.Run(document);
        Assert.Equal(rows, result.Source.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries));
    }

    [Fact]
    public void Number_of_a_row_in_the_type_of_the_text_stays_in_front_of_it()
    {
        using var paper = new Paper();
        string[] rows = ["        list    p=16f84a", "        clrf    0x0c", "        goto    0", "        end"];
        for (int i = 0; i < rows.Length; i++)
        {
            paper.Write($"{i + 1}", 40, 100 + 12 * i, paper.Roman, 7);
            paper.Write(rows[i], 60, 100 + 12 * i);
        }

        Assert.Equal(rows.Length, paper.Read().Pages[0].Lines.Length);
    }

    [Fact]
    public void Remarks_in_boxes_that_are_drawn_last_stay_in_the_rows_that_they_stand_beside()
    {
        using var paper = new Paper();
        string[] rows =
        [
            "        list    p=16f84a",
            "        clrf    0x06",
            "fill    btfss   0x05,1",
            "        goto    fill",
            "        bsf     0x06,0",
            "        call    wait",
            "        bcf     0x06,0",
            "        goto    fill",
            "wait    nop",
            "        return",
            "        end",
        ];
        for (int i = 0; i < rows.Length; i++)
            paper.Write(rows[i], 60, 100 + 12 * i, paper.Roman, 11);
        paper.Write("the valve is shut", 300, 112, paper.Roman, 11);
        paper.Write("as long as the", 300, 124, paper.Roman, 11);
        paper.Write("float is down", 300, 136, paper.Roman, 11);
        Assert.Equal(rows.Length, paper.Read().Pages[0].Lines.Length);
    }
}
