using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;

namespace AsmLsp.Pdf.Tests;

/// <summary>Which white parts two columns of text, and which runs through one listing.</summary>
public class TextColumnsTests
{
    // Courier has a character each 0.6 of its height: 4.8 points at a height of 8.
    private const double Size = 8,
        Pitch = 4.8,
        Step = 10,
        Left = 40;

    // 54 characters right of the left column and 0.3 of a character, or none.
    private const double OutOfStep = Left + 54.3 * Pitch,
        InStep = Left + 54 * Pitch;

    private static readonly string[] Prose =
    [
        "Heron Feeder",
        "by P. Lindqvist",
        "",
        "Mount the hopper above the pond and",
        "leave room for the lid to swing open.",
        "The motor is geared and turns slowly.",
        "Use the lighter spring of the two.",
        "",
        "PROGRAM",
        "; Feeds at dawn and at dusk.",
        "; The switch under the lid stops it.",
        ";",
        ";",
        "    list  p=16f84a",
    ];

    private static readonly string[] Code =
    [
        "feed",
        "    bsf   PORTB,2  ; motor on",
        "    call  turn",
        "    bcf   PORTB,2",
        "    return",
        "turn",
        "    movlw 0x30",
        "    movwf ticks  ; one turn of the screw",
        "again",
        "    decfsz ticks,f",
        "    goto  again",
        "    return",
        "    nop",
        "    goto  feed",
    ];

    private static void Column(Paper paper, IEnumerable<string> lines, double x, double fromTop = 80)
    {
        foreach (string line in lines)
        {
            if (line.Length > 0)
                paper.Write(line, x, fromTop, size: Size);
            fromTop += Step;
        }
    }

    private static string[] Texts(PrintedPage page) => [.. page.Lines.Select(static l => l.Text)];

    [Theory]
    [InlineData(OutOfStep)]
    [InlineData(Left + 54.8 * Pitch)]
    public void Prose_and_remarks_beside_code_are_read_before_it_when_the_characters_are_out_of_step(double x)
    {
        using var paper = new Paper();
        Column(paper, Prose, Left);
        Column(paper, Code, x);
        Assert.Equal([.. Prose.Where(static l => l.Length > 0), .. Code], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Gutter_of_one_page_is_found_again_on_a_page_whose_last_column_is_short()
    {
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code, OutOfStep);
        paper.NextPage();
        Column(paper, Prose[..13], Left);
        Column(paper, ["    end"], OutOfStep);
        PrintedDocument document = paper.Read();
        Assert.Equal([.. Prose[..13].Where(static l => l.Length > 0), "    end"], Texts(document.Pages[1]));
        Assert.Equal(1, document.Pages[1].Lines[^1].TextColumn);
    }

    [Fact]
    public void Columns_in_step_by_chance_are_recognized_by_their_operations()
    {
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code, InStep);
        Assert.Equal([.. Code, .. Code], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Listing_that_continues_across_the_page_below_both_columns_is_read_after_them()
    {
        string[] across =
        [
            "rest",
            "    clrf  PORTB",
            "    sleep         ; until the lid moves",
            "    goto  rest",
            "    end",
        ];
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code[..9], OutOfStep);
        Column(paper, across, Left, 80 + Step * Code.Length);
        Assert.Equal([.. Code, .. Code[..9], .. across], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Listing_across_the_page_whose_comments_are_on_either_side_of_the_gutter_ends_the_columns()
    {
        string[] across =
        [
            "rest",
            "    clrf  PORTB                                           ; all lamps are out",
            "    sleep                                                 ; until the lid moves",
            "    goto  rest                                            ; and once more",
            "    end",
        ];
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code[..9], OutOfStep);
        Column(paper, across, Left, 80 + Step * Code.Length);
        Assert.Equal([.. Code, .. Code[..9], .. across], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Column_of_code_that_was_switched_off_is_not_cut_after_its_signs()
    {
        string[] off = [.. Code.Select(static l => ";" + l[Math.Min(1, l.Length - 1)..])];
        string[] left = [.. Prose.Where(static l => l.Length > 0), .. Code];
        using var paper = new Paper();
        Column(paper, left, Left);
        Column(paper, [.. off, .. off], InStep);
        Assert.Equal([.. left, .. off, .. off], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Lines_that_were_wrapped_in_front_of_their_operands_do_not_tear_two_columns()
    {
        string[] torn =
        [
            "feed",
            "    bsf",
            "PORTB,2       ; motor on",
            "    call",
            "turn          ; once",
            "    movlw",
            "0x30          ; the time",
            "    movwf",
            "ticks         ; of a turn",
            "    decfsz",
            "ticks,f       ; less",
            "    goto",
            "feed          ; again",
            "    return",
        ];
        string[] right = [.. torn[3..], .. torn[..3]];
        using var paper = new Paper();
        Column(paper, torn, Left);
        Column(paper, right, OutOfStep);
        Assert.Equal([.. torn, .. right], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Ruler_that_is_too_long_for_its_column_stays_in_it_where_the_file_draws_column_after_column()
    {
        string ruler = ";" + new string('*', 70);
        string[] left = [.. Code, ruler, .. Code, ruler, .. Code];
        using var paper = new Paper();
        Column(paper, left, Left);
        Column(paper, [.. Code, .. Code, .. Code], OutOfStep);
        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal([.. left, .. Code, .. Code, .. Code], Texts(page));
        Assert.All(page.Lines, static l => Assert.False(l.HasUncertainColumns));
        Assert.Equal([ruler, ruler], page.Lines.Where(static l => l.RunsOver).Select(static l => l.Text));
    }

    [Fact]
    public void Columns_in_step_are_distinguished_by_the_order_of_drawing()
    {
        string[] left = [.. Enumerable.Range(1, 9).Select(static n => $"nop   ; step {n} of nine")],
            right = [.. Enumerable.Range(1, 9).Select(static n => $"; remark {n} of nine")];
        using var paper = new Paper();
        Column(paper, left, Left);
        Column(paper, right, InStep);
        Assert.Equal([.. left, .. right], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Numbers_that_are_drawn_before_their_listing_stay_in_front_of_its_lines()
    {
        using var paper = new Paper();
        Column(paper, Enumerable.Range(1, Code.Length).Select(static n => $"{n, 3}"), Left);
        Column(paper, Code, Left + 8 * Pitch);
        Assert.Equal(Code.Length, paper.Read().Pages[0].Lines.Length);
    }

    [Fact]
    public void Texts_that_lie_over_each_other_are_lines_of_their_own_and_uncertain()
    {
        using var paper = new Paper();
        Column(paper, Code[..4], Left);
        paper.Write(";" + new string('=', 60), Left, 80 + 4 * Step, size: Size);
        paper.Write("ready", Left + 30 * Pitch, 80 + 4 * Step, size: Size);
        PrintedLine[] over = [.. paper.Read().Pages[0].Lines[4..]];
        Assert.Equal([";" + new string('=', 60), "ready"], over.Select(static l => l.Text.Trim()));
        Assert.All(over, static l => Assert.True(l.Confidence < 0.6));
    }

    [Fact]
    public void Blank_that_the_file_draws_at_the_end_of_a_line_is_known()
    {
        using var paper = new Paper();
        Column(paper, ["    nop  ; the lid is ", "shut"], Left);
        Assert.Equal([true, false], paper.Read().Pages[0].Lines.Select(static l => l.EndsInBlank));
    }

    [Fact]
    public void White_between_operations_and_operands_is_no_gutter()
    {
        string[] lines =
        [
            .. Enumerable
                .Range(1, 12)
                .Select(static n => $"{n, 3}          bsf                     motor,{n % 8}         ; coil number {n}"),
        ];
        using var paper = new Paper();
        Column(paper, lines, Left);
        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(12, page.Lines.Length);
        Assert.All(page.Lines, static l => Assert.Contains("motor,", l.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void White_between_names_and_values_is_no_gutter_whatever_the_grid()
    {
        string[] names = ["coil", "spring", "hopper", "screw", "lid", "dawn", "dusk", "pond"];
        using var paper = new Paper();
        for (int i = 0; i < names.Length; i++)
        {
            paper.Write(names[i] + "  equ", Left, 80 + i * Step, size: Size);
            paper.Write($"0x{i + 32:x}  ; register {i}", OutOfStep, 80 + i * Step, size: Size);
        }

        PrintedPage page = paper.Read().Pages[0];
        Assert.Equal(names.Length, page.Lines.Length);
        Assert.All(page.Lines, static l => Assert.Contains("equ", l.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void Comments_at_a_tab_stop_stay_with_their_code()
    {
        using var paper = new Paper();
        for (int i = 1; i < Code.Length; i++)
        {
            paper.Write(Code[i].Split(';')[0].TrimEnd(), Left, 80 + i * Step, size: Size);
            if (i % 5 != 0)
                paper.Write($"; remark {i} of the author", OutOfStep, 80 + i * Step, size: Size);
        }

        Assert.Equal(Code.Length - 1, paper.Read().Pages[0].Lines.Length);
    }

    [Fact]
    public void Label_alone_at_the_foot_of_the_left_column_stays_there()
    {
        using var paper = new Paper();
        Column(paper, [.. Code, "", "rest"], Left);
        Column(paper, Code, OutOfStep);
        Assert.Equal([.. Code, "rest", .. Code], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void First_row_above_an_empty_line_belongs_to_its_column()
    {
        using var paper = new Paper();
        Column(paper, ["    sleep", "", .. Code], Left);
        Column(paper, ["    nop", "", .. Code], OutOfStep);
        Assert.Equal(["    sleep", .. Code, "    nop", .. Code], Texts(paper.Read().Pages[0]));
    }

    [Fact]
    public void Long_comment_block_beside_code_is_a_column_where_other_pages_have_one()
    {
        string[] remarks = [.. Enumerable.Range(1, 14).Select(static n => $"; paragraph {n} of the terms of use")];
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code, OutOfStep);
        paper.NextPage();
        Column(paper, remarks, Left);
        Column(paper, remarks[..8], OutOfStep);
        Assert.Equal([.. remarks, .. remarks[..8]], Texts(paper.Read().Pages[1]));
    }

    [Fact]
    public void Gutter_of_a_page_without_labels_is_found_again_beside_a_label()
    {
        using var paper = new Paper();
        Column(paper, ["    movlw 1", "    nop", "    movwf 6", "    nop", "    movwf 7", "    clrw", "    nop"], Left);
        Column(
            paper,
            ["    movlw 2", "    nop", "    movwf 8", "    nop", "    movwf 9", "    clrw", "    nop"],
            InStep
        );
        paper.NextPage();
        Column(paper, ["    movlw 1", "    nop", "    movwf 6", "    nop", "    movwf 7", "    clrw", "    nop"], Left);
        Column(paper, ["    goto  pond", "pond", "    return"], InStep);
        Assert.Equal(["    goto  pond", "pond", "    return"], Texts(paper.Read().Pages[1]).Skip(7));
    }

    [Fact]
    public void Rows_that_may_hold_two_lines_each_are_a_doubt_where_nothing_decides()
    {
        string[] left = [.. Prose[9..13], "    nop", "    nop", "    nop", "    nop", "    clrw"];
        using var paper = new Paper();
        Column(paper, left, Left);
        Column(paper, ["", "", "", "", "    movlw 1", "    movwf 6"], InStep);
        PrintedPage page = paper.Read().Pages[0];
        Assert.All(page.Lines, static l => Assert.True(l.HasUncertainColumns));
        Assert.Contains("one text column here, or two?", Marks(paper), StringComparison.Ordinal);
    }

    [Fact]
    public void Columns_that_are_proven_and_listings_of_one_are_no_doubt()
    {
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code, OutOfStep);
        paper.NextPage();
        Column(paper, Code, Left);
        Assert.DoesNotContain("column", Marks(paper), StringComparison.Ordinal);
    }

    private static string Marks(Paper paper) =>
        string.Join('\n', DocumentRecovery.Run(paper.Read()).Source.Lines.Select(static l => l.Text));

    [Fact]
    public void Each_line_knows_where_its_column_ends_and_what_still_fits()
    {
        using var paper = new Paper();
        Column(paper, Code, Left);
        Column(paper, Code, OutOfStep);
        foreach (PrintedLine line in paper.Read().Pages[0].Lines)
        {
            double start = line.TextColumn == 0 ? Left : OutOfStep;
            Assert.Equal(start, line.ColumnStart, 0.1);
            Assert.Equal(start + "    movwf ticks  ; one turn of the screw".Length * Pitch, line.ColumnEnd, 0.1);
            Assert.Equal(start + line.Text.Length * Pitch, line.EndX, 0.1);
            Assert.Equal(Pitch, line.CharacterWidth, 0.01);
            int room = "    movwf ticks  ; one turn of the screw".Length - line.Text.Length;
            Assert.Equal(room > 3, line.HasRoomFor("sun"));
        }
    }
}
