using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>What the page itself shows of where it broke its lines: blanks that are drawn at the break, rests below the text of their comments.</summary>
public class PrintedBreaksTests
{
    // Rows that were broken at a blank, and rows that were not.
    private static string Listing(string end) =>
        "        list    p=16f84a\n        org     0\nmain    clrw            ; nothing to do yet\n"
        + string.Concat(
            Enumerable
                .Range(0, 14)
                .Select(static n =>
                    $"        movlw   {n}       ; heat the upper plate of the oven for \nas long as step {n} says\n        movwf   0x0c    ; keep it\n"
                )
        )
        + end;

    [Fact]
    public void Operation_below_a_row_that_was_broken_at_a_blank_is_the_rest_of_its_comment()
    {
        RecoveryResult result = Recover(
            Listing(
                "        clrw            ; cool down and only then \nreturn\n        movlw   7       ; the fan stops before the \nend\n        goto    main\n        end"
            )
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Contains("; cool down and only then return", Source(result), StringComparison.Ordinal);
        Assert.Contains("; the fan stops before the end", Source(result), StringComparison.Ordinal);
        // CLRW, MOVLW 7, GOTO 0 (DS35007B, table 7-2) after the one and the 28 instructions above.
        Assert.EndsWith("1D:0103 1E:3007 1F:2800", Words(result), StringComparison.Ordinal);
    }

    // The author's editor had wrapped at 60, hanging by two; the page wraps at 45 and leaves the blank.
    private static string WrappedTwice(IEnumerable<string> lines)
    {
        var rows = new List<string>();
        foreach (string line in lines.SelectMany(static l => Wrapped(l, 60, "  ")))
        {
            string[] pieces = [.. Wrapped(line, 45, "")];
            rows.AddRange(pieces.Select((p, i) => i + 1 < pieces.Length ? p + " " : p));
        }

        return string.Join('\n', rows);
    }

    private static IEnumerable<string> Wrapped(string line, int width, string hang)
    {
        while (line.Length > width)
        {
            int at = line.LastIndexOf(' ', width);
            yield return line[..at].TrimEnd();
            line = hang + line[(at + 1)..];
        }

        yield return line;
    }

    [Fact]
    public void Comments_that_were_wrapped_at_two_widths_come_back_whole()
    {
        string[] program =
        [
            "        list    p=16f84a",
            "        cblock  0x0c",
            "        dough                   ; weight of what is on the scale",
            "        plates                  ; hot",
            "        crumbs                  ; left over by the last guest",
            "        endc",
            "        org     0",
            "main    clrw                    ; nothing to do yet",
            .. Enumerable
                .Range(0, 14)
                .SelectMany(static n =>
                    (string[])
                        [
                            $"        movlw   {n}               ; heat the upper plate of the oven as long as step {n} of the book says",
                            "        movwf   plates          ; keep it",
                        ]
                ),
            "        movf    dough,w         ; cool down first and only after that return",
            "        movwf   crumbs          ; the fan is never stopped before the very end",
            "        goto    main            ; again and again and until somebody calls main",
            "        end",
        ];
        RecoveryResult result = Recover(WrappedTwice(program));
        // CLRW (DS35007B, table 7-2), fourteen pairs, MOVF 0x0C,W, MOVWF 0x0E, GOTO 0: none was lost and none is new.
        Assert.StartsWith("0:0103 1:3000 2:008D", Words(result), StringComparison.Ordinal);
        Assert.EndsWith("1D:080C 1E:008E 1F:2800", Words(result), StringComparison.Ordinal);
        Assert.Equal(
            program.Select(static l => string.Join(' ', l.Split(' ', StringSplitOptions.RemoveEmptyEntries))),
            Source(result)
                .Split('\n')
                .Where(static l => l.Length > 0)
                .Select(static l => string.Join(' ', l.Split(' ', StringSplitOptions.RemoveEmptyEntries)))
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Operation_below_a_comment_that_ends_without_a_blank_is_a_row_of_its_own()
    {
        RecoveryResult result = Recover(
            Listing("        clrw            ; the lower plate cools down alone\n        return\n        end")
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        // CLRW, RETURN (DS35007B, table 7-2).
        Assert.EndsWith("1D:0103 1E:0008", Words(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Blanks_at_the_ends_of_an_authors_lines_prove_nothing()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        org     0\n        clrw            ; wait for the door and \n        return          ; or call the cook \n        nop             ; and then \n        return\n        end"
        );
        // CLRW, RETURN, NOP, RETURN (DS35007B, table 7-2).
        Assert.Equal("0:0103 1:0008 2:0000 3:0008", Words(result));
    }

    [Fact]
    public void Label_below_the_text_of_a_comment_where_rests_stand_is_one()
    {
        string[] rows =
        [
            .. Enumerable
                .Range(0, 6)
                .Select(static n =>
                    $"        movlw   {n}       ; heat the upper plate as long\n                          as step {n} says"
                ),
        ];
        RecoveryResult result = Recover(
            $"        list    p=16f84a\n        org     0\n{string.Join('\n', rows)}\n        goto    cool    ; the plate goes on in the part\n                          cool\n        nop             ; never reached, so that it shows\n; what follows is done once\ncool    clrw\n        return\n        end"
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.Contains("; the plate goes on in the part cool", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Variable_with_a_comment_of_its_own_is_never_the_rest_of_the_one_above()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        cblock  0x0c\nplate   ;counts the seconds that the upper one is hot\nspeed   ;speed of the fan\nlast    ;of all\n        endc\n        org     0\n        movlw   3       ;the fan turns at a low\nspeed\n        movwf   speed   ;as the lower plate has it\n        clrf    last\n        goto    $-1     ;until the seconds are over and the plate\nis cold\n        end"
        );
        // MOVLW 3, MOVWF 0x0D, CLRF 0x0E, GOTO 2 (DS35007B, table 7-2).
        Assert.Equal("0:3003 1:008D 2:018E 3:2802", Words(result));
    }

    [Fact]
    public void Word_that_fills_its_column_to_the_edge_may_be_cut_off()
    {
        string page = Listing(
            "        dt              \n1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,17,18,19,20,21,22,23,24,25,2\n        end"
        );
        PrintedDocument document = Of(page);
        document = new PrintedDocument([
            .. document.Pages.Select(static p =>
                p with
                {
                    Lines =
                    [
                        .. p.Lines.Select(static l =>
                            l with
                            {
                                EndX = 60 + 6 * l.Text.Length,
                                CharacterWidth = 6,
                                ColumnStart = 60,
                            }
                        ),
                    ],
                }
            ),
        ]);
        RecoveryResult result = DocumentRecovery.Run(document);
        Assert.Contains(
            DoubtsOf(result),
            static e => e.Message.Contains("to the edge, or runs over it", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Second_return_after_a_skip_is_no_line_printed_twice()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        org     0\n        clrf    0x0c\n        btfsc   3,2\n        return\n        return\n        end"
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Heading_below_the_text_of_a_typewritten_page_is_no_label()
    {
        RecoveryResult result = Recover(
            "The oven is wired first and the door last.\nBoth plates stay cold until then, as said.\n\nPROGRAM\n        list    p=16f84a\n        org     0\nhot     clrf    0x0c\n        movlw   4\n        movwf   0x0d\n        goto    hot\n        end"
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
        Assert.DoesNotContain("PROGRAM", Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void First_word_of_a_piece_that_is_missing_shows_by_the_printed_address()
    {
        RecoveryResult result = Recover(
            "                    list    p=16f84a\n2007 3FF1           __config 0x3ff1\n                    org     0\n0001 2804           goto    main\n                    org     4\n0004 0103   main    clrw\n0005 3005           movlw   5\n0006 008C           movwf   0x0c\n0007 0B8C           decfsz  0x0c,f\n0008 2807           goto    $-1\n0009 0000           nop\n000A 0000           nop\n000B 0103           clrw\n000C 0008           return\n                    end"
        );
        Assert.Contains(DoubtsOf(result), static e => e.Message.Contains("0x0000", StringComparison.Ordinal));
    }

    [Fact]
    public void Foot_that_counts_the_pages_with_bare_numbers_is_taken_off_a_paste()
    {
        string part = string.Join(
            '\n',
            Enumerable.Range(0, 12).Select(static n => $"        movlw   {n}       ; plate\n        movwf   0x0c")
        );
        RecoveryResult result = TextRecovery.Run(
            SourceText.From(
                $"        list    p=16f84a\n        org     0\n{part}\n\n1\n\n{part}\n\nClub oven, page 2\n\n{part}\n\n3\n\n{part}\n        end\n"
            )
        );
        Assert.False(result.Program.HasErrors, string.Join('\n', DoubtsOf(result)));
        Assert.Contains("; Club oven, page 2", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Bare_operation_where_rests_start_and_no_operation_does_is_doubted_whatever_room_there_was()
    {
        string rows = string.Concat(
            Enumerable
                .Range(0, 10)
                .Select(static n =>
                    $"        movlw   {n}       ; heat the upper plate of the oven for\nas long as step {n} says\n        movwf   0x0c    ; keep it\n"
                )
        );
        RecoveryResult result = Recover(
            $"        list    p=16f84a\n        org     0\n{rows}        clrf    0x0d    ; the cook may go now and the plate\ngoes to\nsleep\n        nop\n        end"
        );
        Assert.Contains(DoubtsOf(result), e => result.Source[e.Line].Text.Contains("sleep", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("da,")]
    [InlineData("data!")]
    public void Directive_with_nothing_but_the_sign_of_a_sentence_is_the_rest_of_a_comment(string rest)
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        org     0\n"
                + string.Concat(
                    Enumerable
                        .Range(0, 6)
                        .Select(static n =>
                            $"        movlw   {n}       ; heat the upper plate of the oven for\nas long as step {n} says\n"
                        )
                )
                + $"        clrf    0x0d    ; and then the lower one is on by itself\n{rest}\n        end"
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }
}
