using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Tests.Recovery.Printed;

/// <summary>Text columns of a page that were read as one.</summary>
public class OcrColumnsTests
{
    private static readonly string[] Code =
    [
        "start   movlw   0x1F",
        "        movwf   TRISB",
        "        clrf    PORTB",
        "again   incf    PORTB,f",
        "        call    wait",
        "        goto    again",
        "wait    decfsz  count,f",
        "        goto    wait",
        "        return",
        "        end",
    ];

    private static string[] Lines(IEnumerable<string> rows) =>
        [
            .. Scanned
                .Document(Scanned.Page(string.Join('\n', rows)))
                .Pages[0]
                .Lines.Select(static l => $"{l.TextColumn} {l.Text.Trim()}"),
        ];

    [Fact]
    public void Code_on_both_sides_of_the_white_is_two_columns() =>
        Assert.Equal(
            [.. Code.Select(static c => "0 " + c.Trim()), .. Code.Select(static c => "1 " + c.Trim())],
            Lines(Code.Select(static c => $"{c, -36}{c}"))
        );

    [Fact]
    public void Sentences_beside_code_are_a_column_of_their_own()
    {
        string[] lines = Lines(Code.Select(static c => $"{c, -36}and this is what the text says"));
        Assert.Equal(20, lines.Length);
        Assert.Equal("0 end", lines[9]);
        Assert.StartsWith("1 and this", lines[10], StringComparison.Ordinal);
    }

    [Fact]
    public void A_heading_over_both_columns_ends_them()
    {
        string[] lines = Lines([
            .. Code.Select(static c => $"{c, -36}{c}"),
            "",
            "The two programs of this month are printed above, side by side",
            .. Code.Select(static c => $"{c, -36}{c}"),
        ]);
        Assert.Equal(41, lines.Length);
        Assert.StartsWith("0 The two", lines[20], StringComparison.Ordinal);
        Assert.Equal("1 end", lines[40]);
    }

    [Theory]
    [InlineData("; what this line is for")]
    [InlineData("")]
    public void Comments_and_operands_are_no_column(string comment)
    {
        string[] lines = Lines(Code.Select(c => $"{c, -36}{comment}"));
        Assert.Equal(10, lines.Length);
        Assert.All(lines, static l => Assert.StartsWith("0 ", l, StringComparison.Ordinal));
    }

    [Fact]
    public void Addresses_and_words_are_no_column() =>
        Assert.Equal(10, Lines(Code.Select(static (c, i) => $"{i:X4} {0x3000 + i:X4}            {c}")).Length);

    [Fact]
    public void A_long_line_of_the_left_column_does_not_end_the_columns()
    {
        string[] lines = Lines([
            .. Code.Concat(Code).Take(5).Select(static c => $"{c, -36}{c}"),
            "        __config _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC",
            .. Code.Concat(Code).Skip(5).Select(static c => $"{c, -36}{c}"),
        ]);
        Assert.Equal(41, lines.Length);
        Assert.StartsWith("0 __config", lines[5], StringComparison.Ordinal);
        Assert.Equal("0 end", lines[20]);
        Assert.Equal("1 start   movlw   0x1F", lines[21]);
    }

    [Fact]
    public void The_layout_says_which_column_a_place_belongs_to()
    {
        ColumnLayout layout = OcrLines.ColumnsOf(
            Scanned.Page(string.Join('\n', Code.Select(static c => $"{c, -36}{c}")))
        )!;
        Assert.InRange(
            Assert.Single(layout.Gaps),
            Scanned.Left + 24 * Scanned.Pitch,
            Scanned.Left + 36 * Scanned.Pitch
        );
        Assert.Equal(
            [0, 1],
            ((double[])[Scanned.Left, Scanned.Left + 40 * Scanned.Pitch]).Select(x => layout.ColumnOf(x, Scanned.Top))
        );
        Assert.Null(OcrLines.ColumnsOf(Scanned.Page(string.Join('\n', Code))));
    }
}
