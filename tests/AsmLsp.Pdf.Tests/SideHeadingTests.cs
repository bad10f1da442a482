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

    private const string Pump = """
                list    p=16f84a
                org     0
        start   clrf    0x0c
        fill    btfss   0x05,1
                goto    fill
                bsf     0x06,0
                call    delay
                bcf     0x06,0
                goto    start
        delay   nop
                return
                end
        """;

    [Fact]
    public void Headings_in_the_margin_in_the_type_of_the_listing_are_none_of_its_labels()
    {
        using var paper = new Paper();
        paper.Listing(Pump, 160, 100);
        paper.Write("Sleep", 40, 112).Write("Filling the", 40, 136).Write("trough", 40, 148).Write("Delay", 40, 208);
        PrintedDocument document = paper.Read();
        Assert.Equal(
            ["Sleep", "Filling the", "trough", "Delay"],
            document.Pages[0].SetAside.Select(static l => l.Text)
        );
        RecoveryResult result = DocumentRecovery.Run(document);
        Assert.Equal(9, result.Program.Image.ProgramWords);
        // What could be an instruction is reported at its page.
        Assert.Contains(
            result.Entries,
            static e =>
                e.Severity != Core.Problems.Severity.Information
                && e.Message.Contains("Sleep", StringComparison.Ordinal)
        );
        Assert.Contains(result.Entries, static e => e.Message.Contains("trough", StringComparison.Ordinal));
    }

    [Fact]
    public void Labels_that_are_printed_far_to_the_left_stay()
    {
        using var paper = new Paper();
        string[] rows = Pump.Split('\n');
        for (int i = 0; i < rows.Length; i++)
        {
            paper.Write(rows[i][8..], 160, 100 + 12 * i);
            if (rows[i][0] != ' ')
                paper.Write(rows[i][..8].Trim(), 40, 100 + 12 * i);
        }

        PrintedDocument document = paper.Read();
        Assert.Empty(document.Pages[0].SetAside);
        Assert.Equal(9, DocumentRecovery.Run(document).Program.Image.ProgramWords);
    }

    [Fact]
    public void Short_rests_of_comments_at_the_left_edge_stay()
    {
        using var paper = new Paper();
        paper.Listing(
            """
                    list    p=16f84a
                    clrf    0x0c    ; nothing was pumped on the
            first day
                    btfss   0x05,1
                    goto    0
                    bsf     0x06,0  ; open the valve of the
            second one
                    bcf     0x06,0
                    goto    0
                    nop
                    return
                    end
            """
        );
        PrintedDocument document = paper.Read();
        Assert.Empty(document.Pages[0].SetAside);
        Assert.Equal(8, DocumentRecovery.Run(document).Program.Image.ProgramWords);
    }
}
