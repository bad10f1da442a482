using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

public class DocumentRecoveryTests
{
    private const string Blink = """
                list    p=16f84a
                __config 0x3ff1
        lamp    equ     6
                org     0
        start   movlw   1
                movwf   lamp
                goto    start
                end
        """;

    // By hand, from the bits of the data sheet's instruction table (DS35007B, table 7-2): MOVLW 11 00xx k, MOVWF 00 0000 1f, GOTO 10 1k.
    private const string BlinkWords = "0:3001 1:0086 2:2800";

    [Fact]
    public void Prose_and_parts_list_are_left_out_and_reported_with_their_words()
    {
        RecoveryResult result = Recover(
            "|A lamp for the shed\n|R1   470R   resistor\n|call the shop, and return it if it does not work",
            "|The program\n" + Blink + "\n|Have fun"
        );
        Assert.Equal(BlinkWords, Words(result));
        Assert.DoesNotContain("shed", Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            e =>
                e.Code == DocumentCodes.SetAside
                && e.Page == 1
                && e.Message.Contains("A lamp for the shed", StringComparison.Ordinal)
                && e.Message.Contains("R1   470R", StringComparison.Ordinal)
        );
        Assert.Contains(result.Entries, e => e.Page == 2 && e.Message.Contains("Have fun", StringComparison.Ordinal));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Text_whose_blanks_nobody_can_count_is_a_doubt_on_its_line()
    {
        PrintedDocument document = Of(Blink.Replace("goto    start", "dt      \"a  b\"  ; c"));
        PrintedPage page = document.Pages[0];
        RecoveryResult result = DocumentRecovery.Run(
            new PrintedDocument([
                page with
                {
                    Lines = [.. page.Lines.Select(l => l with { HasUncertainBlanks = l.Text.Contains('"') })],
                },
            ])
        );
        Assert.Contains(
            "dt      \"a  b\"  ; c ;? how many blanks are in the quotes?",
            Source(result),
            StringComparison.Ordinal
        );
        Assert.Single(result.Source.Lines, l => l.Text.Contains(";?", StringComparison.Ordinal));
    }

    [Fact]
    public void Kept_prose_stands_in_the_source_as_comments()
    {
        RecoveryResult result = Recover(
            new DocumentRecoveryOptions { KeepProse = true },
            "|A lamp for the shed\n|end",
            Blink
        );
        Assert.StartsWith("; A lamp for the shed\n; end\n", Source(result), StringComparison.Ordinal);
        Assert.Equal(BlinkWords, Words(result));
    }

    [Fact]
    public void Running_headers_in_the_font_of_the_listing_are_left_out()
    {
        string[] lines = Blink.Split('\n');
        RecoveryResult result = Recover(
            "SHED LAMP          sheet 1\n" + string.Join('\n', lines[..5]),
            "SHED LAMP          sheet 2\n" + string.Join('\n', lines[5..])
        );
        Assert.Equal(BlinkWords, Words(result));
        Assert.DoesNotContain("SHED", Source(result), StringComparison.Ordinal);
        Assert.Contains(
            result.Entries,
            e =>
                e.Code == DocumentCodes.SetAside
                && e.Message.Contains("SHED LAMP", StringComparison.Ordinal)
                && e.Message.Contains("1, 2", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Code_that_comes_again_at_the_same_place_of_two_pages_is_kept()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        __config 0x3ff1\n        org     0\n        nop",
            "        nop\n        nop\n        nop\n        nop\n        end"
        );
        Assert.Equal("0:0000 1:0000 2:0000 3:0000 4:0000", Words(result));
    }

    [Fact]
    public void Page_of_a_line_is_reported()
    {
        string[] lines = Blink.Split('\n');
        lines[5] = "movwf   lamp";
        RecoveryResult result = Recover("|Cover", string.Join('\n', lines[..5]), string.Join('\n', lines[5..]));
        RecoveryEntry entry = Assert.Single(result.Entries, e => e.Code == Catalogue.OperationNotIndented.Code);
        Assert.Equal((3, 5), (entry.Page, entry.Line));
        Assert.Equal("2 2 2 2 2 3 3 3", string.Join(' ', result.Origins[..8].Select(o => o.Page)));
    }

    [Fact]
    public void Two_whole_programs_are_a_choice_that_nobody_makes_for_the_person()
    {
        string test = "        list    p=16f84a\n        __config 0x3ff1\n        org     0\n        clrw\n        end";
        RecoveryResult result = Recover(test, "|And now the real one", Blink);
        Assert.Equal("", Source(result));
        RecoveryEntry reported = Assert.Single(result.Entries);
        Assert.Equal((DocumentCodes.SeveralListings, Severity.Error), (reported.Code, reported.Severity));
        Assert.Equal("0:0103", Words(Recover(new DocumentRecoveryOptions { Listing = 1 }, test, Blink)));
        Assert.Equal("0:0103", Words(Recover(new DocumentRecoveryOptions { Pages = [1] }, test, Blink)));
    }

    [Fact]
    public void Longest_of_several_pieces_is_taken_and_the_choice_is_reported()
    {
        string piece = Blink.Replace("        end", "", StringComparison.Ordinal);
        RecoveryResult result = Recover(
            "        clrw\n        nop\n        nop\n        goto    0\n        end",
            "|And now the real one",
            piece
        );
        Assert.Equal(BlinkWords, Words(result));
        RecoveryEntry reported = Assert.Single(result.Entries, static e => e.Code == DocumentCodes.SeveralListings);
        Assert.Equal(Severity.Warning, reported.Severity);
    }

    [Fact]
    public void One_whole_program_among_pieces_is_taken_without_a_doubt()
    {
        RecoveryResult result = Recover(
            "        clrw\n        nop\n        nop\n        goto    0\n        end",
            "|And now the real one",
            Blink
        );
        Assert.Equal(BlinkWords, Words(result));
        Assert.Empty(DoubtsOf(result));
        Assert.Contains(
            result.Entries,
            static e => e.Code == DocumentCodes.SeveralListings && e.Severity == Severity.Information
        );
    }

    [Fact]
    public void Program_goes_on_past_its_end_to_the_part_with_the_labels_that_it_needs()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        org     0\n        goto    start\n        org     4\n        goto    alarm\nstart   clrw\n        goto    start\n        end",
            "|The alarm is the other half of it.",
            "alarm   bcf     INTCON,1\n        bsf     PORTA,1\n        bsf     PORTA,2\n        retfie\n        end"
        );
        Assert.Equal("0:2805 4:2807 5:0103 6:2805 7:108B 8:1485 9:1505 A:0009", Words(result));
        Assert.Contains(DoubtsOf(result), static e => e.Message.Contains("taken as no end", StringComparison.Ordinal));
        Assert.DoesNotContain(result.Entries, static e => e.Code == DocumentCodes.SeveralListings);
    }

    [Fact]
    public void Listing_that_is_printed_twice_is_taken_once()
    {
        RecoveryResult result = Recover(Blink, "|Once more, to be cut out:", Blink);
        Assert.Equal(BlinkWords, Words(result));
        Assert.Empty(DoubtsOf(result));
        FoundListing found = Assert.Single(DocumentListings.Find(Of(Blink, "|Once more, to be cut out:", Blink)));
        Assert.Equal("page 3", Assert.Single(found.Again));
    }

    [Fact]
    public void Second_printing_that_differs_is_a_program_of_its_own()
    {
        RecoveryResult result = Recover(
            Blink,
            "|Once more:",
            Blink.Replace("movlw   1", "movlw   2", StringComparison.Ordinal)
        );
        Assert.Equal("", Source(result));
    }

    [Fact]
    public void Pages_and_number_of_a_program_give_the_same_text()
    {
        PrintedDocument document = Of(
            "|Shed lamps",
            "; Night lamp\n        list    p=16f84a\n        org     0\n        clrw\n        nop\n        goto    0\n        end",
            "|And now to the lamp of every day.",
            Blink,
            "|We wish you a good time."
        );
        for (int number = 1; number <= 2; number++)
            Assert.Equal(
                DocumentRecovery.Run(document, new DocumentRecoveryOptions { Listing = number }).Source.ToString(),
                DocumentRecovery.Run(document, new DocumentRecoveryOptions { Pages = [2 * number] }).Source.ToString()
            );
    }

    [Fact]
    public void Two_programs_for_two_chips_are_a_choice_that_nobody_makes_for_the_person()
    {
        string other = Blink.Replace("16f84a", "16f628", StringComparison.OrdinalIgnoreCase);
        Assert.NotEqual(Blink, other);
        RecoveryResult result = Recover(Blink, "|And for the newer chip", other);
        Assert.True(Source(result).Length == 0, string.Join('\n', result.Entries.Select(e => e.Message)));
        RecoveryEntry reported = Assert.Single(result.Entries);
        Assert.Equal((DocumentCodes.SeveralListings, Severity.Error), (reported.Code, reported.Severity));
        Assert.Contains("listing 1 for the PIC16F84A (page 1", reported.Message, StringComparison.Ordinal);
        Assert.Contains("listing 2 for the PIC16F628 (page 3", reported.Message, StringComparison.Ordinal);
        Assert.Equal(BlinkWords, Words(Recover(new DocumentRecoveryOptions { Listing = 1 }, Blink, "|x", other)));
        Assert.Equal(BlinkWords, Words(Recover(new DocumentRecoveryOptions { Pages = [1] }, Blink, "|x", other)));
    }

    [Fact]
    public void Head_for_another_chip_beside_the_program_is_no_rival_of_it()
    {
        string more = Blink.Replace(
            "        end",
            string.Concat(Enumerable.Repeat("        nop\n", 20)) + "        end",
            StringComparison.Ordinal
        );
        RecoveryResult result = Recover(
            "        list    p=16f628\n        __config 0x3f10\n        org     0\n        clrw",
            string.Join(
                '\n',
                Enumerable
                    .Range(0, 10)
                    .Select(i => $"|That is the {i}th thing to say about the head for the newer chip.")
            ),
            more
        );
        Assert.Equal(
            Severity.Information,
            Assert.Single(result.Entries, static e => e.Code == DocumentCodes.SeveralListings).Severity
        );
        Assert.Equal("PIC16F84A", result.Program.Device!.Name);
    }

    [Fact]
    public void Listings_of_a_document_are_named_with_pages_chip_and_first_lines()
    {
        FoundListing[] found =
        [
            .. DocumentListings.Find(
                Of(
                    "|Shed lamps",
                    "; Night lamp\n        list    p=16f628\n        org     0\n        clrw\n        nop\n        goto    0\n        end",
                    "|And now to the lamp of every day.",
                    Blink,
                    "|We wish you a good time."
                )
            ),
        ];
        Assert.Equal(
            [(1, 2, 2, "PIC16F628"), (2, 4, 4, "PIC16F84A")],
            found.Select(f => (f.Number, f.FirstPage, f.LastPage, f.Chip!))
        );
        Assert.Equal(["; Night lamp", "list    p=16f628", "org     0"], found[0].FirstLines.ToArray());
    }

    [Fact]
    public void Document_without_a_program_says_so()
    {
        RecoveryResult result = Recover(
            "|You may call us at any time, and return the kit.\n|Set the switch, and the lamp goes on."
        );
        Assert.Equal("", Source(result));
        Assert.Equal(
            (DocumentCodes.NoListing, Severity.Error),
            Assert.Single(result.Entries.Select(e => (e.Code, e.Severity)))
        );
        Assert.Equal(
            DocumentCodes.NoListing,
            Recover(new DocumentRecoveryOptions { Listing = 2 }, Blink).Entries[0].Code
        );
    }

    [Fact]
    public void Picture_between_the_pages_of_a_listing_is_a_doubt()
    {
        PrintedDocument document = Of(Blink.Split("lamp    equ")[0] + "lamp    equ     6", "|x", Blink.Split("6\n")[1]);
        PrintedPage picture = document.Pages[1] with { Lines = [], State = PrintedPageState.PictureOnly };
        RecoveryResult result = DocumentRecovery.Run(
            document with
            {
                Pages = document.Pages.SetItem(1, picture),
                Notes = ["It is cut off."],
            }
        );
        Assert.Equal([DocumentCodes.ReadingNote, DocumentCodes.UnreadPage], DoubtsOf(result).Select(e => e.Code));
    }

    [Fact]
    public void Listing_in_the_font_of_the_prose_is_found_by_its_lines()
    {
        string listing = string.Join('\n', Blink.Split('\n').Select(l => "|" + l));
        RecoveryResult result = Recover(
            "|You may call us at any time.\n|There is a lot to tell about sheds.\n|And about lamps.\n|They go on and off.\n|Wire them well.\n|Then load this:\n"
                + listing
                + "\n|Good luck with it.\n|We are here to help.\n|Write to us.\n|Bye."
        );
        Assert.Equal(BlinkWords, Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Long_block_of_variables_between_the_chip_and_the_first_address_parts_no_listing()
    {
        string names = string.Join(
            '\n',
            "count hold lamps place strokes slices tens middle inner"
                .Split(' ')
                .Select(n => $"        {n, -10} ; of the lamp, as\nlong as it is on")
        );
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        __config 0x3ff1\n        cblock  0x0c\n"
                + names
                + "\n        endc\n        org     0\nstart   clrf    inner\n        clrf    count\n        clrf    hold\n        goto    start\n        end"
        );
        Assert.DoesNotContain(result.Entries, e => e.Code == DocumentCodes.SeveralListings);
        // CLRF 0x14, 0x0C, 0x0D; GOTO 0; the configuration (DS35007B, table 7-2).
        Assert.Equal("0:0194 1:018C 2:018D 3:2800", Words(result));
    }

    [Fact]
    public void Names_with_counted_numbers_and_the_comment_above_them_belong_to_the_listing()
    {
        RecoveryResult result = Recover(
            "; Steps\n        list    p=16f84a\n        __config 0x3ff1\nstep#v(0) equ 9\nstep#v(1) equ 6\nk = 2\nstep#v(k) equ 3\nk = 3\nstep#v(k) equ 1\n        org     0\n        retlw   step2\n        retlw   step3\n        end"
        );
        Assert.StartsWith("; Steps\n", Source(result), StringComparison.Ordinal);
        Assert.Equal("0:3403 1:3401", Words(result));
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Line_in_the_type_of_the_program_that_is_left_out_of_its_midst_is_a_doubt()
    {
        string prose = string.Join(
            '\n',
            Enumerable.Range(0, 9).Select(i => $"here the {(char)('a' + i)} lamp is seen at night by all")
        );
        RecoveryResult result = Recover(
            Blink
                .Replace("start   movlw", prose + "\nstart   movlw", StringComparison.Ordinal)
                .Replace("        end", "        nop\n        nop\n        end", StringComparison.Ordinal)
        );
        Assert.Contains(
            result.Entries,
            e =>
                e.Code == DocumentCodes.SetAside
                && e.Severity == Severity.Warning
                && e.Message.Contains("the e lamp", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Instruction_after_a_wide_gap_in_a_comment_is_a_doubt()
    {
        RecoveryResult result = Recover(
            "        list    p=16f84a\n        clrw\n        nop             ; wait a while          movwf   6\n        goto    0\n        end"
        );
        Assert.Single(result.Source.Lines, static l => l.Text.Contains("a line of its own?", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(";       movlw   5     old")]
    [InlineData("; RA0     lamp      on when low")]
    [InlineData("        nop     ; first, movwf 6 follows")]
    public void Gaps_in_ordinary_comments_are_no_doubt(string line) =>
        Assert.DoesNotContain(
            Recover(
                $"        list    p=16f84a\n        clrw\n{line}\n        nop\n        goto    0\n        end"
            ).Source.Lines,
            static l => l.Text.Contains("a line of its own?", StringComparison.Ordinal)
        );

    [Fact]
    public void Heading_in_another_type_between_lines_of_code_is_no_label()
    {
        string code = "        movlw   5\n        movwf   6\n        nop";
        RecoveryResult result = Recover(
            $"        list    p=16f84a\n{code}\n|Outlook\n{code}\n|lamp\n        goto    lamp\n        end"
        );
        Assert.DoesNotContain("\nOutlook", Source(result), StringComparison.Ordinal);
        Assert.Contains("\nlamp", Source(result), StringComparison.Ordinal);
    }
}
