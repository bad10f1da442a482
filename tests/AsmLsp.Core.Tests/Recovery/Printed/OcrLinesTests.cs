using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Tests.Recovery.Printed;

public class OcrLinesTests
{
    private const string Program = "start   movlw   b'00000001'\n        movwf   PORTB\nloop    goto    loop";

    private static string Text(OcrPage page) =>
        string.Join('\n', Scanned.Document(page).Pages[0].Lines.Select(static l => l.Text));

    [Fact]
    public void Columns_are_kept() => Assert.Equal(Program, Text(Scanned.Page(Program)));

    [Theory]
    [InlineData(0.02)]
    [InlineData(-0.015)]
    public void A_sheet_that_lies_askew_keeps_its_columns(double slope) =>
        Assert.Equal(Program, Text(Scanned.Page(Program, slope: slope)));

    [Fact]
    public void A_row_in_two_parts_is_one_line()
    {
        OcrPage page = Scanned.Page(Program);
        OcrRow first = page.Rows[0];
        OcrPage parted = page with
        {
            Rows = page
                .Rows.RemoveAt(0)
                .Add(first with { Characters = first.Characters[5..] })
                .Add(first with { Characters = first.Characters[..5] }),
        };
        Assert.Equal(Program, Text(parted));
    }

    [Fact]
    public void A_shape_that_was_read_twice_is_one_character()
    {
        OcrPage page = Scanned.Page(Program);
        OcrCharacter zero = page.Rows[0].Characters[12];
        Assert.Equal("0", zero.Text);
        OcrRow twice = page.Rows[0] with
        {
            Characters = page.Rows[0]
                .Characters.Insert(12, zero with { Text = "O", StartsWord = false, Confidence = 0.9 }),
        };
        Assert.Equal(Program, Text(page with { Rows = page.Rows.SetItem(0, twice) }));
    }

    [Fact]
    public void A_character_missing_within_a_word_leaves_its_place_and_a_doubt()
    {
        OcrPage page = Scanned.Page(Program);
        OcrRow row = page.Rows[0] with { Characters = page.Rows[0].Characters.RemoveAt(14) };
        PrintedLine line = Scanned.Document(page with { Rows = page.Rows.SetItem(0, row) }).Pages[0].Lines[0];
        Assert.Equal("start   movlw   b'00 00001'", line.Text);
        Assert.True(line.CharacterConfidences[19] <= 0.5f && line.CharacterConfidences[21] <= 0.5f);
    }

    [Fact]
    public void Two_low_lines_read_as_a_dash_are_two_low_lines()
    {
        OcrRow row = Scanned.Row("        __config _CP_OFF", 3);
        OcrCharacter dash = row.Characters[0] with
        {
            Text = "\u2014",
            Left = row.Characters[0].Left - 1,
            Right = row.Characters[1].Right + 1,
        };
        OcrPage page = Scanned.Page(Program);
        page = page with
        {
            Rows = page.Rows.Add(row with { Characters = row.Characters.RemoveAt(0).SetItem(0, dash) }),
        };
        Assert.EndsWith("\n        __config _CP_OFF", Text(page));
    }

    [Fact]
    public void Letters_in_printed_addresses_become_digits()
    {
        string read = Text(
            Scanned.Page(
                "OOOO 3OO1  start   movlw   1\n0001 0086          movwf   PORTB\n0002 28O2  loop    goto    loop"
            )
        );
        Assert.Equal(
            "0000 3001  start   movlw   1\n0001 0086          movwf   PORTB\n0002 2802  loop    goto    loop",
            read
        );
    }

    [Fact]
    public void A_word_of_letters_in_the_column_of_printed_words_becomes_a_number()
    {
        string read = Text(
            Scanned.Page(
                "0000 3001  start   movlw   1\n0001 OAAL          incf    PORTB,f\n           call    CALL\n0002 2802  loop    goto    loop\n0003 0008          return"
            )
        );
        Assert.Contains("\n0001 0AA1          incf", read, StringComparison.Ordinal);
        Assert.Contains("call    CALL", read, StringComparison.Ordinal);
    }

    [Fact]
    public void Ink_that_was_not_read_belongs_to_its_line()
    {
        OcrPage page = Scanned.Page(Program) with
        {
            Unread =
            [
                new InkSpot(
                    Scanned.Left + 22 * Scanned.Pitch,
                    Scanned.Top + Scanned.Leading - 2,
                    Scanned.Left + 22 * Scanned.Pitch + 2,
                    Scanned.Top + Scanned.Leading + 1
                ),
            ],
        };
        PrintedLine[] lines = [.. Scanned.Document(page).Pages[0].Lines];
        Assert.Empty(lines[0].UnreadColumns);
        Assert.Single(lines[1].UnreadColumns);
        Assert.All(lines, static l => Assert.False(l.HasUnreadAbove));
    }

    [Fact]
    public void Much_ink_between_two_lines_is_reported_with_the_lower_one()
    {
        OcrPage page = Scanned.Page("start   movlw   1\n\n\n        movwf   PORTB\nloop    goto    loop");
        page = page with
        {
            Unread =
            [
                .. Enumerable
                    .Range(0, 6)
                    .Select(static i => new InkSpot(100 + 6 * i, Scanned.Top + 18, 103 + 6 * i, Scanned.Top + 24)),
            ],
        };
        Assert.Equal([false, true, false], Scanned.Document(page).Pages[0].Lines.Select(static l => l.HasUnreadAbove));
    }

    [Fact]
    public void A_page_without_characters_has_no_lines() =>
        Assert.Empty(Scanned.Document(new OcrPage(1, 595, 842, [], [])).Pages[0].Lines);

    [Fact]
    public void A_digit_beside_a_letter_that_was_read_twice_stays()
    {
        // The right part of a D, taken for an O as well, between a D and a 0.
        OcrPage page = Scanned.Page(Program + "\n        movlw   0xD0");
        OcrRow row = page.Rows[3];
        OcrCharacter d = row.Characters[^2];
        Assert.Equal("D", d.Text);
        row = row with
        {
            Characters = row.Characters.Insert(
                row.Characters.Length - 1,
                new OcrCharacter("O", false, d.Right - 1.2, d.Top, d.Right + 1.2, d.Bottom, 0.92)
            ),
        };
        PrintedLine line = Scanned.Document(page with { Rows = page.Rows.SetItem(3, row) }).Pages[0].Lines[3];
        Assert.Equal("        movlw   0xD0", line.Text);
        // D and O are no two names of one shape where digits are meant.
        Assert.True(line.CharacterConfidences[18] <= 0.5f);
    }

    [Theory]
    [InlineData("start   movlw   0x1F", true)]
    [InlineData("will fit little limits", false)]
    public void Letters_of_different_widths_stand_on_no_grid(string text, bool isMonospaced)
    {
        OcrPage page = Scanned.Page(string.Join('\n', Enumerable.Repeat(text, 8)));
        if (!isMonospaced)
            page = page with { Rows = [.. page.Rows.Select(Narrowed)] };
        Assert.All(Scanned.Document(page).Pages[0].Lines, l => Assert.Equal(isMonospaced, l.IsMonospaced));
    }

    [Fact]
    public void A_short_row_is_set_as_those_around_it_are()
    {
        OcrPage page = Scanned.Page(
            "will fit little limits\nwill fit little limits\nnow\nwill fit little limits\nwill fit little limits"
        );
        page = page with { Rows = [.. page.Rows.Select(static (r, i) => i == 2 ? r : Narrowed(r))] };
        Assert.False(Scanned.Document(page).Pages[0].Lines[2].IsMonospaced);
    }

    // As Times has them: i, l and t take about half the room of other letters (from memory).
    private static OcrRow Narrowed(OcrRow row)
    {
        var characters = new List<OcrCharacter>();
        double x = Scanned.Left;
        foreach (OcrCharacter c in row.Characters)
        {
            double width =
                c.Text is "i" or "l" or "t" or "f" ? 2.5
                : c.Text is "w" or "m" ? 7
                : 5;
            if (c.StartsWord && characters.Count > 0)
                x += 2.5;
            characters.Add(c with { Left = x + 0.3, Right = x + width - 0.3 });
            x += width;
        }

        return row with
        {
            Characters = [.. characters],
        };
    }
}
