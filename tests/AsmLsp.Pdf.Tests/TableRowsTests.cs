using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Pdf.Tests;

/// <summary>Programs set as tables whose narrow cells hold several lines.</summary>
public class TableRowsTests
{
    private const double Row = 13,
        Line = 10;

    // Label, operation, operands, comment; '/' is the end of a line in a cell.
    private static readonly string[] Table =
    [
        "|list|p=16f84a|",
        "|__config|_CP_OFF & _WDT_OFF &/_XT_OSC & _PWRTE_ON|",
        "lamp|equ|6|; the port",
        "|org|0|",
        "start|movlw|1|; one, which is the/lamp beside the/door",
        "|movwf|lamp|",
        "long_la/bel|clrw||",
        "|btfss|lamp,1|; still?",
        "|goto|long_label|",
        "|call|start|",
        "|goto|start|",
        "|end||",
    ];

    private const string Program = """
                list     p=16f84a
                __config _CP_OFF & _WDT_OFF & _XT_OSC & _PWRTE_ON
        lamp    equ      6                        ; the port
                org      0
        start   movlw    1                        ; one, which is the lamp beside the door
                movwf    lamp
        long_label clrw
                btfss    lamp,1                   ; still?
                goto     long_label
                call     start
                goto     start
                end
        """;

    private static string[] Words(string line) => line.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Lines_of_a_cell_are_put_together_wherever_its_text_stands(bool inTheMiddle)
    {
        PrintedDocument document = Print(Table, inTheMiddle);
        Assert.Equal(Program.Split('\n').Select(Words), document.Pages[0].Lines.Select(l => Words(l.Text)));
        Assert.All(document.Pages[0].Lines, l => Assert.Equal(1, l.Confidence));
        RecoveryResult result = DocumentRecovery.Run(document);
        Assert.True(result.IsClean, string.Join('\n', result.Entries));
    }

    [Fact]
    public void Word_that_was_printed_in_two_pieces_and_stands_nowhere_else_is_a_doubt()
    {
        string[] table = [.. Table.Select(l => l.Replace("long_label", "start", StringComparison.Ordinal))];
        RecoveryResult result = DocumentRecovery.Run(Print(table, false));
        Assert.Contains(
            result.Source.Lines,
            l =>
                l.Text.Contains("clrw", StringComparison.Ordinal)
                && l.Text.Contains(";? 'long_label' was printed in two pieces", StringComparison.Ordinal)
        );
        Assert.Single(result.Source.Lines, l => l.Text.Contains(";?", StringComparison.Ordinal));
    }

    [Fact]
    public void Long_name_in_the_column_of_operations_is_no_second_operation()
    {
        PrintedDocument document = Print([.. Table[..2], "#define|STRIKE_/TIME|.40|", .. Table[2..]], true);
        Assert.Contains(
            "#define STRIKE_TIME .40",
            document.Pages[0].Lines.Select(l => string.Join(' ', Words(l.Text)))
        );
    }

    [Fact]
    public void Lines_that_stand_close_and_have_operations_of_their_own_stay_apart()
    {
        using var paper = new Paper();
        double y = 80;
        for (int i = 0; i < 14; i++)
        {
            paper.Write(i % 2 == 0 ? "movlw" : "movwf", 110, y).Write("lamp", 160, y).Write("; a", 300, y);
            if (i % 3 == 0)
                paper.Write($"l{i}", 60, y);
            y += i is 3 or 8 ? Line : Row;
        }

        Assert.Equal(14, paper.Read().Pages[0].Lines.Length);
    }

    // The text of a cell is at the top of its row, or in the middle.
    private static PrintedDocument Print(string[] table, bool inTheMiddle)
    {
        double[] columns = [60, 111.5, 175.3, 340.1];
        using var paper = new Paper();
        double y = 80;
        foreach (string row in table)
        {
            string[] cells = row.Split('|');
            int most = cells.Max(c => c.Split('/').Length);
            for (int i = 0; i < cells.Length; i++)
            {
                string[] lines = cells[i].Split('/');
                double top = y + (inTheMiddle ? (most - lines.Length) * Line / 2 : 0);
                foreach (string line in lines)
                {
                    if (line.Length > 0)
                        paper.Write(line, columns[i], top);
                    top += Line;
                }
            }

            y += Row + (most - 1) * Line;
        }

        return paper.Read();
    }

    // 7.5 points on a screen of 0.75 points: the rows are put on the nearest dots.
    [Theory]
    [InlineData(7.43)]
    [InlineData(7.9)]
    [InlineData(6.6)]
    public void Distances_that_were_rounded_to_dots_are_one_distance(double step)
    {
        string[] names =
        [
            "vane",
            "gust",
            "calm",
            "gale",
            "east",
            "west",
            "mast",
            "cups",
            "hail",
            "snow",
            "rime",
            "thaw",
        ];
        using var paper = new Paper();
        for (int i = 0; i < names.Length; i++)
        {
            double y = 80 + 0.75 * Math.Round(i * step / 0.75);
            paper.Write(names[i] + "  equ " + (32 + i), 40, y, size: 5.5);
            paper.Write($";what it holds, line {i}", 120, y, size: 5.5);
        }

        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(names, page.Lines.Select(static l => l.Text.Split(' ')[0]));
    }
}
