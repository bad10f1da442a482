using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Listings of books and theses: set in the type of the text, with remarks in a column of their own, and with headings beside them.</summary>
public class ListingsInProseTests
{
    // One type for the whole page, as a word processor sets it.
    private static PrintedPage Book(string text, int number = 1)
    {
        var lines = new List<PrintedLine>();
        double y = 60;
        foreach (string line in text.Split('\n'))
        {
            y += 13;
            if (line.Trim().Length == 0)
                continue;
            string shown = line.TrimEnd();
            lines.Add(
                new PrintedLine(
                    shown,
                    number,
                    lines.Count + 1,
                    60 + 5 * (shown.Length - shown.TrimStart().Length),
                    y,
                    "Times-Roman",
                    11,
                    false
                )
                {
                    CharacterStarts = [.. Enumerable.Range(0, shown.Length).Select(static i => 60f + 5 * i)],
                }
            );
        }

        return new PrintedPage(number, 595, 842, [.. lines], []);
    }

    private static RecoveryResult Recover(params string[] pages) =>
        DocumentRecovery.Run(new PrintedDocument([.. pages.Select(static (p, i) => Book(p, i + 1))]));

    private const string Prose = """
        The lamp of the barn is on as long as the door stands open, and goes
        out a while after it was shut. The program for it is short enough to
        be read in one go; what is new in it was explained on the pages above
        and needs no more words. It was tried with two kinds of lamps, and it
        works with both of them in summer and in winter alike.
        """;

    [Fact]
    public void Return_and_end_alone_in_their_rows_close_a_listing_in_the_type_of_the_text()
    {
        RecoveryResult result = Recover(
            Prose
                + """


                        list      p=16f84a
                        clrf      0x0c
                lamp
                        movlw     0x31
                        movwf     0x0d
                wait
                        decfsz    0x0d,f
                        goto      wait
                        return
                        end

                """
                + Prose
        );
        Assert.Equal("0:018C 1:3031 2:008D 3:0B8D 4:2803 5:0008", PrintedPages.Words(result));
        Assert.EndsWith("end", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Empty(PrintedPages.DoubtsOf(result));
    }

    [Fact]
    public void Word_of_the_text_below_a_listing_that_is_an_operation_too_is_none_of_its_rows()
    {
        RecoveryResult result = Recover(
            Prose
                + """


                              clrf      0x0c
                              movlw     0x31
                              movwf     0x0d
                              decf      0x0d,f
                              goto      0
                sleep

                """
                + Prose
        );
        Assert.DoesNotContain("0063", PrintedPages.Words(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Remarks_in_a_column_of_their_own_without_a_sign_become_comments()
    {
        RecoveryResult result = Recover(
            """
                    list      p=16f84a        the chip is named
                    include   "p16f84a.inc"   here
            ticks   equ       0x0c            one cell
                    clrf      PORTB           all lamps are out
                    bsf       STATUS,5        b port becomes an output
                    clrf      TRISB           now
                    bcf       STATUS,5
                    goto      $               and so on
                    end
            """
        );
        Assert.Equal("0:0186 1:1683 2:0186 3:1283 4:2804", PrintedPages.Words(result));
        Assert.Contains("; b port becomes an output", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Contains("; one cell", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Contains("; here", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Empty(PrintedPages.DoubtsOf(result));
        Assert.Contains(
            result.Entries,
            static e =>
                e.Code == Catalogue.CommentWithoutMark.Code && e.Message.Contains("7 lines", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Statement_in_the_place_of_a_remark_is_no_remark()
    {
        RecoveryResult result = Recover(
            """
                    list      p=16f84a
                    movlw     0x31            the time of a lamp
                    movwf     0x0c            is kept in a cell
                    decfsz    0x0c,f          goto once more
                    clrw                      and then clrf 0x0d
                    movf      0x0c            w
                    goto      0
                    end
            """
        );
        string source = PrintedPages.Source(result);
        Assert.Contains("; is kept in a cell", source, StringComparison.Ordinal);
        Assert.DoesNotContain("; w", source, StringComparison.Ordinal);
        Assert.DoesNotContain("; and then clrf", source, StringComparison.Ordinal);
        Assert.All(
            (string[])["clrf 0x0d", "0x0c            w"],
            text =>
            {
                int line = Array.FindIndex(
                    source.Split('\n'),
                    l => l.Contains(text.Split(' ')[0], StringComparison.Ordinal)
                );
                Assert.True(line >= 0);
            }
        );
        Assert.Contains(
            PrintedPages.DoubtsOf(result),
            e => source.Split('\n')[e.Line].Contains("clrw", StringComparison.Ordinal)
        );
        Assert.Contains(
            PrintedPages.DoubtsOf(result),
            e => source.Split('\n')[e.Line].Contains("movf ", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Row_below_the_text_of_a_remark_goes_on_with_it()
    {
        RecoveryResult result = Recover(
            Prose
                + """


                        list      p=16f84a
                level   equ       0x0c        ;the cell that all the parts of
                                              the program use for the level
                                              of the water in the trough
                        clrf      level
                        movlw     0x31
                        movwf     level
                        goto      0
                        end

                """
                + Prose
        );
        Assert.Equal("0:018C 1:3031 2:008C 3:2800", PrintedPages.Words(result));
        Assert.Contains(
            ";the cell that all the parts of the program use for the level of the water in the trough",
            PrintedPages.Source(result),
            StringComparison.Ordinal
        );
        Assert.Empty(PrintedPages.DoubtsOf(result));
    }

    [Fact]
    public void Name_that_nothing_defines_stays_as_it_is_printed_and_has_one_entry()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    org     0
            begin   call    pump_left
                    call    pump_left
                    call    pump_lift
                    goto    begin
            pump_lift
                    return
                    end
            """
        );
        Assert.Equal(
            2,
            PrintedPages.Source(result).Split('\n').Count(static l => l.Contains("pump_left", StringComparison.Ordinal))
        );
        RecoveryEntry entry = Assert.Single(result.Entries, static e => e.Code == Catalogue.UndefinedName.Code);
        Assert.Equal(Severity.Error, entry.Severity);
        Assert.Contains("used 2 times", entry.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("was pump_left", PrintedPages.Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Name_that_ocr_could_have_misread_is_replaced_with_a_doubt_only_in_text_that_ocr_read()
    {
        const string page = """
                    list    p=16f84a
                    org     0
            begin   call    valve_c
                    call    valve_e
                    goto    begin
            valve_c
                    return
                    end
            """;
        PrintedDocument clear = PrintedPages.Of(page);
        PrintedDocument read = new([
            .. clear.Pages.Select(static p =>
                p with
                {
                    Lines = [.. p.Lines.Select(static l => l with { IsOcr = true })],
                }
            ),
        ]);
        Assert.Contains("valve_e", PrintedPages.Source(DocumentRecovery.Run(clear)), StringComparison.Ordinal);
        Assert.Contains("valve_c ;?", PrintedPages.Source(DocumentRecovery.Run(read)), StringComparison.Ordinal);
    }

    [Fact]
    public void Heading_in_another_type_between_rows_of_code_is_no_label()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
            |The Example of the barn, with all that belongs to it.
                    list    p=16f84a
                    movlw   0x12
                    movwf   0x0c
            |Example
                    decfsz  0x0c,f
                    goto    $-1
            |(continued)
                    clrf    0x0c
                    goto    0
                    end
            """
        );
        Assert.DoesNotContain("Example", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Empty(PrintedPages.DoubtsOf(result));
    }

    [Fact]
    public void Word_in_another_type_that_the_program_uses_stays_its_label()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    movlw   0x12
                    movwf   0x0c
            |again
                    decfsz  0x0c,f
                    goto    again
                    clrf    0x0c
                    goto    0
                    end
            """
        );
        Assert.Contains("\nagain", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Equal("0:3012 1:008C 2:0B8C 3:2802 4:018C 5:2800", PrintedPages.Words(result));
    }

    [Fact]
    public void Label_at_the_head_of_a_piece_of_the_listing_belongs_to_it()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    movlw   0x12
                    movwf   0x0c
                    decf    0x0c,f
            |The next part of the program is reached as soon as the cell is empty,
            |and it is left again when the door is shut. Nothing is done there as
            |long as the light is on, since nobody would see whether it works, and
            |since the other lamp burns anyway. Whoever wants it otherwise has two
            |lines to change here.
            Shut
                    clrf    0x0c
                    movwf   0x0d
                    goto    0
                    end
            """
        );
        Assert.Contains("\nShut", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Equal("0:3012 1:008C 2:038C 3:018C 4:008D 5:2800", PrintedPages.Words(result));
    }

    [Fact]
    public void Operation_and_operand_in_columns_below_a_comment_are_a_row_of_the_program_though_nothing_defines_the_operand()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list           p=16f84a
                    org            0
                    bsf            6,1           ; lamp
                    goto           Lamps
                    bcf            6,1           ; dark
                    goto           Lamps
                    clrf           6             ; all of them
                    goto           0
                    end
            """
        );
        string[] source = PrintedPages.Source(result).Split('\n');
        Assert.Equal(
            2,
            source.Count(static l => l.TrimStart().StartsWith("goto           Lamps", StringComparison.Ordinal))
        );
    }

    [Fact]
    public void Last_word_of_a_long_comment_that_looks_unlike_all_labels_is_no_label()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    org     0
            Start   movlw   0x12             ; the level at which the pump is switched off for the
            night
            ;----------------------------
            Loop    movwf   0x0c
                    btfsc   5,0
                    goto    Dry
                    goto    Loop
            Dry     call    Pump
                    goto    Start
            Pump    clrf    0x0c
                    return
                    end
            """
        );
        Assert.DoesNotContain("\nnight", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.Contains("for the night", PrintedPages.Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Label_below_a_paragraph_of_the_text_is_not_the_rest_of_the_comment_above_it()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    org     0
            start   movlw   0x12
                    movwf   0x0c    ; and put it into the cell of the
            |In the second lesson the same is done with a name of its own, and the
            |program begins anew.
            start
                    ; Make the cell empty
                    clrf    0x0c
                    goto    start
                    end
            """
        );
        Assert.Contains("\nstart\n", PrintedPages.Source(result), StringComparison.Ordinal);
        Assert.True(
            result.Entries.Any(static e => e.Code == Catalogue.NameDefinedTwice.Code),
            PrintedPages.Source(result)
        );
    }

    [Fact]
    public void Examples_here_and_there_in_a_text_are_no_program_but_a_list()
    {
        string[] pages =
        [
            .. Enumerable
                .Range(0, 6)
                .Select(static i =>
                {
                    // No two pages have a row in common, which would be a header.
                    string text = Prose.Replace(
                        " ",
                        " " + "oak elm ash fir yew box".Split(' ')[i] + " ",
                        StringComparison.Ordinal
                    );
                    return $"{text}\n\n{text}\n        movlw   0x{i}1\n        movwf   reg{i}\n        incf    reg{i},f\n        clrf    reg{i}\n{text}";
                }),
        ];
        PrintedDocument document = new([.. pages.Select(static (p, i) => Book(p, i + 1))]);
        RecoveryResult result = DocumentRecovery.Run(document);
        Assert.Equal("", PrintedPages.Source(result));
        RecoveryEntry entry = Assert.Single(result.Entries);
        Assert.Equal((Severity.Error, DocumentCodes.SeveralListings), (entry.Severity, entry.Code));
        Assert.Contains("6 examples", entry.Message, StringComparison.Ordinal);
        Assert.Equal(
            "0:3021 1:0080",
            PrintedPages.Words(DocumentRecovery.Run(document, new DocumentRecoveryOptions { Listing = 3 }))[..13]
        );
    }

    [Fact]
    public void Listing_that_is_explained_line_by_line_is_found()
    {
        RecoveryResult result = Recover(
            Prose
                + """


                        list      p=16f84a
                The first line names the chip, as the assembler wants to know it.
                        clrf      0x0c
                The cell is made empty, whatever it had in it when the power came on.
                Without this line it would have any value.
                        movlw     0x31
                        movwf     0x0d
                These two put the time into its cell.
                        decfsz    0x0d,f
                Each turn takes one away from it.
                        goto      $-1
                And this goes back until nothing is left.
                        incf      0x0c,f
                        goto      0
                Then all begins anew.
                        end

                """
                + Prose
        );
        Assert.Equal("0:018C 1:3031 2:008D 3:0B8D 4:2803 5:0A8C 6:2800", PrintedPages.Words(result));
    }

    [Fact]
    public void Forty_programs_of_a_long_document_are_found_and_taken_by_number()
    {
        string filler = string.Join(
            '\n',
            Enumerable.Repeat("|There is a lot to say about the lamps of the barn and of the yard.", 40)
        );
        var pages = new List<string>();
        for (int i = 0; i < 40; i++)
        {
            pages.Add(filler);
            pages.Add(
                $"        list    p=16f84a\n        org     0\nlamp{i}   movlw   0x{i:x2}\n        movwf   6\n        goto    lamp{i}\n        end"
            );
            pages.Add(filler);
        }

        PrintedDocument document = PrintedPages.Of([.. pages]);
        Assert.Equal(40, DocumentListings.Find(document).Length);
        Assert.Equal("", PrintedPages.Source(DocumentRecovery.Run(document)));
        for (int i = 0; i < 40; i++)
        {
            RecoveryResult result = DocumentRecovery.Run(document, new DocumentRecoveryOptions { Listing = i + 1 });
            Assert.Equal($"0:30{i:X2} 1:0086 2:2800", PrintedPages.Words(result));
            Assert.Equal(
                result.Source.ToString(),
                DocumentRecovery.Run(document, new DocumentRecoveryOptions { Pages = [3 * i + 2] }).Source.ToString()
            );
        }
    }

    [Fact]
    public void Caption_in_the_type_of_the_listing_with_room_around_it_is_left_out_with_a_mark()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    org     0
                    clrf    0x0c    ; nothing was counted yet


            Figure 3. The pond at night


            fill    btfss   0x05,1
                    goto    fill
                    end
            """
        );
        Assert.DoesNotContain("pond", PrintedPages.Source(result).Split(";?")[0], StringComparison.Ordinal);
        Assert.Equal(3, result.Program.Image.ProgramWords);
        Assert.Contains(
            PrintedPages.DoubtsOf(result),
            static e => e.Message.Contains("Figure 3. The pond at night", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Rest_of_a_comment_that_begins_as_a_caption_stays_with_it()
    {
        RecoveryResult result = PrintedPages.Recover(
            """
                    list    p=16f84a
                    org     0
                    clrf    0x0c    ; the parts are named as in
            Figure 3. of the leaflet
            fill    btfss   0x05,1
                    goto    fill
                    end
            """
        );
        Assert.Contains("named as in Figure 3. of the leaflet", PrintedPages.Source(result), StringComparison.Ordinal);
    }
}
