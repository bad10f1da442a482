using System.Text.RegularExpressions;
using AsmLsp.Core.Printed;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Graphics.Operations.SpecialGraphicsState;

namespace AsmLsp.Pdf.Tests;

public class PdfLayoutTests
{
    private const string Listing = """
        ; lamp on while the key is down
                list    p=16f84a
        lamp    equ     0x06            ; port B
        start   movlw   0x1f
                movwf   lamp            ; all off

        wait    btfsc   lamp,0          ; key?
                goto    wait
                bsf     lamp,7
                goto    start           ; and again
                end
        """;

    private const string Words =
        "The crossing keeper sets the lamps alight when a train comes near and lets them flash until the last wagon has gone by";

    private static string Lines(string text) => string.Join('\n', text.Split('\n').Where(l => l.Length > 0));

    [Fact]
    public void Courier_listing_comes_back_column_for_column()
    {
        PrintedDocument document = new Paper().Listing(Listing).Read();
        PrintedPage page = Assert.Single(document.Pages);
        Assert.Equal(Lines(Listing), Paper.Text(page));
        Assert.All(page.Lines, l => Assert.True(l.IsMonospaced));
        Assert.All(page.Lines, l => Assert.Equal(10, l.FontSize));
        Assert.All(page.Lines, l => Assert.Equal("Courier", l.FontFamily));
        Assert.Equal([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], page.Lines.Select(l => l.Number));
        Assert.Equal((60, 80), (page.Lines[0].X, page.Lines[0].Y));
        // Courier is 600/1000 of its size wide (Adobe font metrics of the standard 14 fonts).
        Assert.Equal((60 + 8 * 6, 92), (page.Lines[1].X, page.Lines[1].Y));
        Assert.Equal((595, 842), ((int)page.Width, (int)page.Height));
    }

    [Fact]
    public void Listing_reads_as_another_reader_of_the_same_pages_does()
    {
        using Paper paper = new Paper().Listing(Listing);
        string[] outside = Paper
            .Outside(paper.Bytes())
            .Split('\n', '\f')
            .Where(l => l.Trim().Length > 0)
            .Select(l => l.TrimEnd())
            .ToArray();
        string[] ours = paper.Read().Pages[0].Lines.Select(l => l.Text).ToArray();
        Assert.Equal(outside, ours);
    }

    [Fact]
    public void Page_on_which_every_line_is_indented_keeps_its_indent()
    {
        using Paper paper = new Paper().Listing(Listing);
        paper.NextPage().Listing("        movlw   1\n        movwf   2");
        Assert.Equal("        movlw   1\n        movwf   2", Paper.Text(paper.Read().Pages[1]));
    }

    [Fact]
    public void Comment_column_stays_on_the_lines_of_its_instructions()
    {
        string listing = string.Join(
            '\n',
            Enumerable
                .Range(1, 30)
                .Select(i => $"        bsf     lamp,{i % 8}                  ; a remark that is long enough, {i}")
        );
        Assert.Equal(listing.Replace("        bsf", "bsf"), Paper.Text(new Paper().Listing(listing).Read().Pages[0]));
    }

    [Fact]
    public void Two_listings_side_by_side_are_read_one_after_the_other()
    {
        string left = string.Join('\n', Enumerable.Range(1, 20).Select(i => $"l{i, -6} movlw   {i:x2}"));
        string right = string.Join('\n', Enumerable.Range(1, 20).Select(i => $"r{i, -6} addwf   {i:x2},f"));
        PrintedPage page = new Paper().Listing(left).Listing(right, x: 320).Read().Pages[0];
        Assert.Equal(left + "\n" + right, Paper.Text(page));
    }

    // Labels and instructions are wide apart, and hardly a line has both.
    private const string WideLabels = """
                        list p=16f628
                        include <p16f628.inc>
                        __config _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC & _LVP_OFF & _BODEN_OFF

                        udata
        saved_w res 1
        saved_s res 1
        ticks   res 1
        seconds res 1
        RESTART code 0
                        goto prepare
        SERVICE code 4
                        movwf saved_w
                        swapf STATUS,w
                        movwf saved_s
                        bcf INTCON,T0IF
                        decfsz ticks,f
                        goto leave
                        movlw d'62'
                        movwf ticks
                        incf seconds,f
        leave   swapf saved_s,w
                        movwf STATUS
                        retfie
                        end
        """;

    [Fact]
    public void Labels_wide_apart_from_their_instructions_are_no_column_of_text()
    {
        PrintedPage page = Assert.Single(new Paper().Listing(WideLabels).Read().Pages);
        Assert.Equal(Lines(WideLabels), Paper.Text(page));
    }

    [Fact]
    public void Addresses_and_words_wide_apart_from_the_source_are_no_column_of_text()
    {
        string[] source =
        [
            "movf a+1,w",
            "addwf b+1,f",
            "movf a,w",
            "addwf b,f",
            "btfsc STATUS,C",
            "incf b+1,f",
            "movf a+1,w",
            "addwf b+1,f",
            "subwf b,w",
            "goto shift",
        ];
        string[] rows =
        [
            .. source.Select(
                (line, i) => $"{0x18 + i:X4}   {0x0823 + (i * 0x101):X4}     {26 + i:D5} M                   {line}"
            ),
            .. source.Select(
                (line, i) => $"{0x22 + i:X4}   {0x0823 + (i * 0x101):X4}     {36 + i:D5}                     {line}"
            ),
            "",
            "NAMES",
            "again                             0000001B",
            "limit                             00000024",
            "count                             00000022",
            "shift                             00000020",
            "total                             00000021",
        ];
        PrintedPage page = Assert.Single(new Paper().Listing(string.Join('\n', rows)).Read().Pages);
        Assert.Equal(rows.Where(r => r.Length > 0), page.Lines.Select(l => l.Text));
    }

    [Fact]
    public void Values_under_printed_words_are_no_column_of_text()
    {
        const string rows = """
                                       list p=16f876, r=dec
                                       include <p16f876.inc>
            2007 3F72                  __config 0x3F72
                       row     equ 32
                       col     equ 33
                       count   equ 34
                                       org 0
            0000 3000                  movlw high keys
            0001 008A                  movwf PCLATH
            0002 118A                  pagesel setup
            0003 120A
            0004 201E                  call setup
            0005 0822                  movf count,w
            0006 0087                  movwf PORTC
                                       end
            """;
        PrintedPage page = Assert.Single(new Paper().Listing(rows).Read().Pages);
        Assert.Equal(Lines(rows), Paper.Text(page));
    }

    [Fact]
    public void Two_text_columns_are_read_one_after_the_other()
    {
        using var paper = new Paper();
        paper.Write("A heading over both columns of the page, as long as they are wide", 60, 60, paper.Roman, 16);
        for (int i = 0; i < 20; i++)
        {
            paper.Write($"L{i} the keeper of the crossing sets the lamps", 60, 100 + 12 * i, paper.Roman);
            paper.Write($"R{i} until the last wagon of it has gone by", 320, 104 + 12 * i, paper.Roman);
        }

        string[] lines = paper.Read().Pages[0].Lines.Select(l => l.Text.Trim()).ToArray();
        Assert.StartsWith("A heading", lines[0], StringComparison.Ordinal);
        Assert.Equal(Enumerable.Range(0, 20).Select(i => $"L{i}"), lines[1..21].Select(l => l.Split(' ')[0]));
        Assert.Equal(Enumerable.Range(0, 20).Select(i => $"R{i}"), lines[21..].Select(l => l.Split(' ')[0]));
    }

    [Fact]
    public void Table_is_read_row_by_row()
    {
        using var paper = new Paper();
        for (int i = 0; i < 12; i++)
        {
            paper.Write($"R{i}", 60, 100 + 14 * i, paper.Roman);
            paper.Write($"{i}k7", 120, 100 + 14 * i, paper.Roman);
            paper.Write("resistor, a quarter of a watt, five per cent", 320, 100 + 14 * i, paper.Roman);
        }

        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(12, page.Lines.Length);
        Assert.All(page.Lines, l => Assert.Matches("^R[0-9]+ {2,}[0-9]+k7 {10,}resistor, a quarter", l.Text));
    }

    [Fact]
    public void Proportional_text_keeps_its_words()
    {
        using var paper = new Paper();
        paper.Write(Words, 60, 100, paper.Roman, 9);
        PrintedLine line = Assert.Single(paper.Read().Pages[0].Lines);
        Assert.Equal(Words, line.Text);
        Assert.False(line.IsMonospaced);
        Assert.Equal("Times-Roman", line.FontFamily);
    }

    [Fact]
    public void Wide_gap_in_proportional_text_is_wide_in_the_line()
    {
        using var paper = new Paper();
        paper
            .Write("start", 60, 100, paper.Roman)
            .Write("movlw", 120, 100, paper.Roman)
            .Write("movwf", 120, 112, paper.Roman)
            .Write("port", 180, 112, paper.Roman);
        paper.Write("wait", 60, 124, paper.Roman);
        string[] lines = paper.Read().Pages[0].Lines.Select(l => l.Text).ToArray();
        Assert.Equal(
            lines[0].IndexOf("movlw", StringComparison.Ordinal),
            lines[1].IndexOf("movwf", StringComparison.Ordinal)
        );
        Assert.Equal("wait", lines[2]);
    }

    [Fact]
    public void Turned_text_is_set_aside()
    {
        using var paper = new Paper();
        paper.Listing(Listing);
        // A quarter turn, written into the page as a change of its axes.
        paper.Page.NewContentStreamAfter();
        paper.Page.CurrentStream.Operations.Add(new ModifyCurrentTransformationMatrix([0, 1, -1, 0, 600, 0]));
        paper.Write("Printed by Halt Lane Works", 100, 820);
        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(Lines(Listing), Paper.Text(page));
        Assert.Equal("Printed by Halt Lane Works", Assert.Single(page.SetAside).Text);
    }

    [Fact]
    public void Page_that_is_turned_as_a_whole_reads_upright()
    {
        foreach (
            double[] turn in new[]
            {
                new double[] { 0, 1, -1, 0, 842, 0 },
                [0, -1, 1, 0, 0, 842],
                [-1, 0, 0, -1, 595, 842],
            }
        )
        {
            using var paper = new Paper();
            paper.Page.CurrentStream.Operations.Add(new ModifyCurrentTransformationMatrix(turn));
            paper.Listing(Listing, fromTop: 380);
            Assert.Equal(Lines(Listing), Paper.Text(paper.Read().Pages[0]));
        }
    }

    [Fact]
    public void Huge_pale_text_is_set_aside_and_a_huge_dark_heading_is_not()
    {
        using var paper = new Paper();
        paper.Listing(Listing);
        paper.Page.SetTextAndFillColor(220, 220, 220);
        paper.Write("SAMPLE", 80, 140, paper.Roman, 90);
        paper.Page.SetTextAndFillColor(0, 0, 0);
        paper.Write("Crossing", 80, 400, paper.Roman, 60);
        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(
            Lines(Listing) + "\nCrossing",
            string.Join('\n', page.Lines.Select(l => l.IsMonospaced ? l.Text : l.Text.Trim()))
        );
        Assert.Equal("SAMPLE", Assert.Single(page.SetAside).Text);
    }

    [Fact]
    public void Text_printed_twice_for_boldness_is_read_once()
    {
        using var paper = new Paper();
        paper.Listing(Listing).Listing(Listing, x: 60.4, fromTop: 80.2);
        Assert.Equal(Lines(Listing), Paper.Text(paper.Read().Pages[0]));
    }

    [Fact]
    public void Doubled_letters_of_a_word_stay_doubled()
    {
        using var paper = new Paper();
        paper.Write("llama, bookkeeper, 1111, iiii, ;;;;", 60, 100, paper.Roman, 8);
        paper.Write(";;;;  1111 iiii", 60, 120);
        Assert.Equal(
            ["llama, bookkeeper, 1111, iiii, ;;;;", ";;;;  1111 iiii"],
            paper.Read().Pages[0].Lines.Select(l => l.Text)
        );
    }

    [Fact]
    public void Listing_below_an_article_in_two_columns_is_read_after_both()
    {
        using var paper = new Paper();
        string[] prose = Words.Split(' ');
        for (int i = 0; i < 16; i++)
        {
            string Line(int from) =>
                string.Join(' ', Enumerable.Range(from, 7).Select(w => prose[(w + i * 3) % prose.Length]));
            paper.Write(Line(0), 60, 80 + 12 * i, paper.Roman);
            if (i < 15)
                paper.Write(Line(5), 310, 85 + 12 * i, paper.Roman);
        }

        // The first lines are short and are below the left column alone.
        string[] lines =
        [
            "        list    p=16f84a",
            "lamp    equ     6",
            "start   movlw   1",
            "        movwf   lamp            ; this one is long and reaches far below the column on the right",
            "        goto    start",
            "        end",
        ];
        for (int i = 0; i < lines.Length; i++)
            paper.Write(lines[i], 60, 300 + 10 * i, size: 7);
        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(lines, page.Lines.TakeLast(lines.Length).Select(l => l.Text));
    }

    [Fact]
    public void Last_line_of_a_program_after_an_empty_one_stays_in_its_column()
    {
        using var paper = new Paper();
        string[] left =
        [
            "start   movlw   1",
            "        movwf   6",
            "again   incf    6,f",
            "        btfss   3,2",
            "        goto    again",
            "        call    other",
            "        goto    start",
            "",
            "other   andlw   7",
        ];
        string[] right =
        [
            "        addwf   2,f",
            "        retlw   1",
            "        retlw   2",
            "        retlw   4",
            "        retlw   8",
            "        end",
        ];
        for (int i = 0; i < left.Length; i++)
            if (left[i].Length > 0)
                paper.Write(left[i], 40, 80 + 12 * i);
        for (int i = 0; i < right.Length; i++)
            paper.Write(right[i], 320, 80 + 12 * i);
        string[] read = [.. paper.Read().Pages[0].Lines.Select(l => l.Text.Trim())];
        Assert.Equal([.. left.Where(l => l.Length > 0).Select(l => l.Trim()), .. right.Select(l => l.Trim())], read);
    }

    [Fact]
    public void Words_that_are_spread_over_their_cells_keep_the_blanks_between_them()
    {
        string[] lines =
        [
            "start   movlw   b'00100100'             ; high speed, transmitter on",
            "        dt      \"Wind (m/s; from):  \",0",
            "        btfsc   STATUS,Z",
            "        goto    start",
            "        retlw   'N'",
        ];
        // Each word has as many cells of 7.2 points as letters, which are 6 points wide, and spreads them evenly there; signs are words.
        using var paper = new Paper();
        for (int i = 0; i < lines.Length; i++)
        {
            foreach (Match word in Regex.Matches(lines[i], @"\w+|[^\w\s]"))
            {
                double room = 1.2 * word.Length / (word.Length + 1);
                for (int c = 0; c < word.Length; c++)
                    paper.Write(word.Value[c].ToString(), 60 + 7.2 * word.Index + room + c * (6 + room), 80 + 12 * i);
            }
        }

        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(lines, page.Lines.Select(l => l.Text));
        Assert.All(page.Lines, l => Assert.Equal(1, l.Confidence));
    }
}
