using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using UglyToad.PdfPig.Core;

namespace AsmLsp.Pdf.Tests;

/// <summary>Drawings beside and between the rows of a listing, and frames around them.</summary>
public class FigureTests
{
    private const string Program = """
                list    p=16f84a
        lamp    equ     0x0c
                org     0
                clrf    lamp
        again   incf    lamp,f
                btfss   lamp,3
                goto    again
                bsf     0x06,0
                call    wait
                bcf     0x06,0
                goto    again
        wait    nop
                return
                end
        """;
    private const int Words = 10;

    // A picture of one white point (PNG, 1 x 1).
    private static readonly byte[] Dot = Convert.FromBase64String(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4//8/AAX+Av4N70a4AAAAAElFTkSuQmCC"
    );

    [Fact]
    public void Words_of_a_flow_chart_beside_the_rows_are_none_of_the_program()
    {
        using var paper = new Paper();
        paper.Listing(Program);
        Box(paper, 330, 93, 90, 20);
        paper.Write("COUNT=COUNT+1", 336, 104);
        Line(paper, 375, 113, 375, 129);
        Box(paper, 330, 129, 90, 20);
        paper.Write("LAMP ON", 350, 140);
        Line(paper, 375, 149, 375, 177);
        paper.Page.DrawEllipsis(new PdfPoint(375, 842 - 188), 90, 22);
        paper.Write("CALL BEEP", 348, 188);
        RecoveryResult result = Recover(paper);
        IsWhole(result);
        Assert.DoesNotContain("LAMP ON", Text(result), StringComparison.Ordinal);
        // What may be an instruction is quoted beside the row at its height.
        Assert.Contains(
            result.Entries,
            static e =>
                e.Severity != Severity.Information
                && e.Message.Contains("COUNT=COUNT+1", StringComparison.Ordinal)
                && e.Message.Contains("CALL BEEP", StringComparison.Ordinal)
        );
        Assert.Contains(result.Entries, static e => e.Message.Contains("LAMP ON", StringComparison.Ordinal));
        Assert.Single(paper.Read().Pages[0].Figures);
    }

    [Fact]
    public void Short_rows_right_of_a_flow_chart_stay_in_the_program()
    {
        using var paper = new Paper();
        paper.Listing(Program, x: 240);
        Box(paper, 130, 74, 100, 20);
        paper.Write("START", 150, 86);
        Line(paper, 180, 94, 180, 140);
        Box(paper, 130, 140, 100, 20);
        paper.Write("COUNT=COUNT+1", 136, 152);
        Line(paper, 180, 160, 180, 224);
        Box(paper, 130, 224, 100, 20);
        paper.Write("STOP", 150, 236);
        IsWhole(Recover(paper));
    }

    [Theory]
    [InlineData("four lines")]
    [InlineData("a rectangle")]
    [InlineData("a filled rectangle")]
    public void Frame_around_a_listing_takes_nothing_out_of_it_on_whatever_page(string frame)
    {
        using var paper = new Paper();
        string[] rows = Program.Split('\n');
        paper.Listing(string.Join('\n', rows[..11]));
        Frame(paper, frame, 50, 66, 400, 144);
        paper.NextPage();
        paper.Listing(string.Join('\n', rows[11..]));
        Frame(paper, frame, 50, 66, 400, 60);
        IsWhole(Recover(paper));
    }

    [Theory]
    [InlineData("four lines")]
    [InlineData("a rectangle")]
    [InlineData("a filled rectangle")]
    public void Rows_with_a_frame_each_stay(string frame)
    {
        using var paper = new Paper();
        paper.Listing(Program);
        for (int i = 0; i < Program.Split('\n').Length; i++)
            if (frame != "a filled rectangle" || i % 2 == 0)
                Frame(paper, frame, 50, 80 + 12 * i - 9, 300, 12);
        IsWhole(Recover(paper));
    }

    [Fact]
    public void Cells_of_a_table_that_holds_the_listing_stay()
    {
        using var paper = new Paper();
        string[] rows = Program.Split('\n');
        for (int i = 0; i < rows.Length; i++)
        {
            paper.Write($"{i + 1}", 56, 80 + 12 * i);
            paper.Write(rows[i], 90, 80 + 12 * i);
            Box(paper, 50, 71 + 12 * i, 30, 12);
            Box(paper, 80, 71 + 12 * i, 300, 12);
        }

        IsWhole(Recover(paper));
    }

    [Fact]
    public void Line_around_an_operand_leaves_the_row_as_it_is()
    {
        using var paper = new Paper();
        paper.Listing(Program);
        // The operand of the fifth row is in the columns 16 to 22.
        Box(paper, 60 + 16 * 6 - 2, 80 + 4 * 12 - 9, 6 * 6 + 4, 12);
        IsWhole(Recover(paper));
    }

    [Fact]
    public void Lines_around_two_operands_with_an_arrow_between_them_leave_the_rows_as_they_are()
    {
        using var paper = new Paper();
        paper.Listing(Program);
        foreach (int row in (int[])[4, 10])
            Box(paper, 60 + 16 * 6 - 2, 80 + row * 12 - 9, 6 * 6 + 4, 12);
        Line(paper, 160, 80 + 4 * 12 + 3, 160, 80 + 10 * 12 - 9);
        IsWhole(Recover(paper));
    }

    [Fact]
    public void Table_of_pins_beside_the_rows_is_none_of_the_program()
    {
        using var paper = new Paper();
        paper.Listing(Program);
        string[] pins = ["RA0", "RA1", "VSS", "RB0"],
            uses = ["key", "lamp", "0 V", "INT"];
        for (int i = 0; i < pins.Length; i++)
        {
            Box(paper, 330, 95 + 12 * i, 40, 12);
            Box(paper, 370, 95 + 12 * i, 60, 12);
            paper.Write(pins[i], 334, 104 + 12 * i).Write(uses[i], 374, 104 + 12 * i);
        }

        paper.Write("Table 2. The pins of the lamp", 330, 158, paper.Roman, 9);
        RecoveryResult result = Recover(paper);
        IsWhole(result);
        Assert.DoesNotContain("RA1", Text(result), StringComparison.Ordinal);
        Assert.DoesNotContain("Table", Text(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            static e => e.Message.Contains("The pins of the lamp", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Instruction_in_a_note_between_the_rows_is_left_out_with_a_mark()
    {
        using var paper = new Paper();
        string[] rows = Program.Split('\n');
        paper.Listing(string.Join('\n', rows[..8]));
        Box(paper, 80, 190, 250, 40);
        paper.Write("In the first print of this program a line was missing:", 84, 204, paper.Roman, 9);
        paper.Write("GOTO AGAIN", 84, 218, paper.Roman, 9);
        paper.Listing(string.Join('\n', rows[8..]), fromTop: 260);
        RecoveryResult result = Recover(paper);
        IsWhole(result);
        Assert.Contains(
            result.Entries,
            static e => e.Severity != Severity.Information && e.Message.Contains("GOTO AGAIN", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Words_over_a_picture_beside_the_rows_are_none_of_the_program()
    {
        using var paper = new Paper();
        paper.Page.AddPng(Dot, new PdfRectangle(330, 842 - 160, 450, 842 - 90));
        paper.Listing(Program);
        paper.Write("START", 340, 104).Write("SLEEP", 340, 116).Write("RA1 = 1", 340, 128).Write("RETURN", 340, 140);
        IsWhole(Recover(paper));
    }

    [Fact]
    public void Ground_below_a_whole_page_is_no_drawing()
    {
        using var paper = new Paper();
        paper.Page.AddPng(Dot, new PdfRectangle(0, 0, 595, 842));
        Assert.Empty(paper.Listing(Program).Read().Pages[0].Figures);
    }

    private static RecoveryResult Recover(Paper paper) => DocumentRecovery.Run(paper.Read());

    private static string Text(RecoveryResult result) => result.Source.ToString();

    private static void IsWhole(RecoveryResult result)
    {
        Assert.Equal(Words, result.Program.Image.ProgramWords);
        Assert.Empty(result.Program.Problems.Where(static p => p.Kind.Severity == Severity.Error));
        Assert.Contains("again   incf    lamp,f", Text(result), StringComparison.Ordinal);
    }

    private static void Frame(Paper paper, string how, double x, double top, double width, double height)
    {
        switch (how)
        {
            case "four lines":
                Line(paper, x, top, x + width, top);
                Line(paper, x, top + height, x + width, top + height);
                Line(paper, x, top, x, top + height);
                Line(paper, x + width, top, x + width, top + height);
                break;
            case "a rectangle":
                Box(paper, x, top, width, height);
                break;
            default:
                paper.Page.SetTextAndFillColor(220, 220, 220);
                paper.Page.DrawRectangle(new PdfPoint(x, 842 - top - height), width, height, 0.1, fill: true);
                paper.Page.ResetColor();
                break;
        }
    }

    private static void Box(Paper paper, double x, double top, double width, double height) =>
        paper.Page.DrawRectangle(new PdfPoint(x, 842 - top - height), width, height);

    private static void Line(Paper paper, double x, double top, double toX, double toTop) =>
        paper.Page.DrawLine(new PdfPoint(x, 842 - top), new PdfPoint(toX, 842 - toTop));
}
