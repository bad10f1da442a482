using System.Globalization;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using static AsmLsp.Core.Tests.Recovery.Document.PrintedPages;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>A program of 48 lines on four pages of twelve, some of which are missing, moved or there twice.</summary>
public class MissingPiecesTests
{
    private static readonly string[] Program =
    [
        "; Porch light that fades",
        "        list    p=16f84a",
        "        __config 0x3ff1",
        "count   equ     0x0c",
        "level   equ     0x0d",
        "        org     0",
        "start   bsf     3,5",
        "        clrf    6",
        "        bcf     3,5",
        "        movlw   0x10",
        "        movwf   level",
        "        clrf    6",
        "up      call    show",
        "        incf    level,f",
        "        btfss   level,7",
        "        goto    up",
        "down    call    show",
        "        decf    level,f",
        "        btfss   level,4",
        "        goto    down",
        "        goto    up",
        "show    movf    level,w",
        "        movwf   count",
        "        bsf     6,0",
        "on      decfsz  count,f",
        "        goto    on",
        "        comf    level,w",
        "        movwf   count",
        "        bcf     6,0",
        "off     decfsz  count,f",
        "        goto    off",
        "        call    rest",
        "        clrwdt",
        "        nop",
        "        nop",
        "        return",
        "rest    movlw   0x20",
        "        movwf   count",
        "again   nop",
        "        decfsz  count,f",
        "        goto    again",
        "        btfsc   5,2",
        "        return",
        "        bcf     6,0",
        "        clrf    level",
        "        sleep",
        "        return",
        "        end",
    ];

    private static string[] Pages(Func<string, int, string> line, params int[] order) =>
        [
            .. order.Select(p =>
                string.Join('\n', Program.Skip((p - 1) * 12).Take(12).Select((l, i) => line(l, (p - 1) * 12 + i + 1)))
            ),
        ];

    private static string[] Numbered(params int[] order) =>
        Pages((l, n) => string.Create(CultureInfo.InvariantCulture, $"{n, 4}  {l}"), order);

    private static string[] Headed(params int[] order) =>
        [.. Pages((l, _) => l, order).Zip(order, (page, n) => $"|Lights for the house    Page {n}\n{page}")];

    // The addresses and words by assembling the whole program.
    private static string[] Listed(params int[] order)
    {
        RecoveryResult whole = Recover(Pages((l, _) => l, 1, 2, 3, 4));
        var rows = new List<string>();
        for (int i = 0; i < Program.Length; i++)
        {
            var facts = whole.Program.FactsOf(whole.Program.Root, i);
            bool has = facts.Words > 0 && facts.Address < 0x2000;
            rows.Add(
                has && whole.Program.Image.TryGet(facts.Address, out ushort word, out _)
                    ? $"{facts.Address:X4} {word:X4}   {Program[i]}"
                    : new string(' ', 12) + Program[i]
            );
        }

        return [.. order.Select(p => string.Join('\n', rows.Skip((p - 1) * 12).Take(12)))];
    }

    private static RecoveryEntry Reported(RecoveryResult result, string code) =>
        Assert.Single(result.Entries, e => e.Code == code);

    [Fact]
    public void Whole_listing_has_nothing_missing()
    {
        foreach (string[] pages in (string[][])[Numbered(1, 2, 3, 4), Headed(1, 2, 3, 4), Listed(1, 2, 3, 4)])
            Assert.True(Recover(pages).IsClean, string.Join('\n', DoubtsOf(Recover(pages))));
    }

    [Fact]
    public void Line_numbers_that_jump_show_a_missing_page()
    {
        RecoveryResult result = Recover(Numbered(1, 2, 4));
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingLines);
        Assert.Equal((Severity.Warning, 24, 3), (reported.Severity, reported.Line, reported.Page));
        Assert.StartsWith(
            "Lines 25 to 36 of the listing are not in this document: page 2 ends with line 24, and page 3 continues with line 37. The page between them seems to be missing.",
            reported.Message,
            StringComparison.Ordinal
        );
        Assert.Equal(
            "rest    movlw   0x20 ;? lines 25 to 36 are missing above (page 3, line 1)",
            result.Source[24].Text
        );
    }

    [Fact]
    public void Name_that_was_defined_on_the_missing_page_points_there()
    {
        string[] pages = Numbered(1, 2, 4);
        pages[2] = pages[2].Replace("sleep", "goto    on", StringComparison.Ordinal);
        RecoveryEntry reported = Reported(Recover(pages), Catalogue.UndefinedName.Code);
        Assert.Equal(24, reported.Line);
        Assert.EndsWith(
            "its definition seems to be lost here, where lines are missing above this one. Line 34 uses it.",
            reported.Message,
            StringComparison.Ordinal
        );
        // Where nothing shows a gap, a line may be missing all the same.
        reported = Reported(
            Recover([.. pages.Select(p => string.Join('\n', p.Split('\n').Select(l => l[6..])))]),
            Catalogue.UndefinedName.Code
        );
        Assert.EndsWith("may be the reason: compare with the document.", reported.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Line_that_is_missing_on_a_page_is_reported_after_it()
    {
        string[] pages = Numbered(1, 2, 3, 4);
        pages[2] = string.Join(
            '\n',
            pages[2].Split('\n').Where(l => !l.Contains("bcf     6,0", StringComparison.Ordinal))
        );
        RecoveryResult result = Recover(pages);
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingLines);
        Assert.Contains("on page 3 the printed numbers go from 28 to 30", reported.Message, StringComparison.Ordinal);
        Assert.Equal(
            "off     decfsz  count,f ;? line 29 is missing above (page 3, line 5)",
            result.Source[reported.Line].Text
        );
    }

    [Fact]
    public void Lines_that_are_missing_above_a_line_in_doubt_share_its_mark()
    {
        string[] pages = Numbered(1, 2, 3, 4);
        pages[2] = string.Join(
                '\n',
                pages[2].Split('\n').Where(l => !l.Contains("bcf     6,0", StringComparison.Ordinal))
            )
            .Replace("decfsz  count,f", "decf5z  count,f", StringComparison.Ordinal);
        RecoveryResult result = Recover(pages);
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingLines);
        Assert.Equal(
            "off     decfsz  count,f ;? was decf5z / line 29 is missing above (page 3, line 5)",
            result.Source[reported.Line].Text
        );
        Assert.Equal(2, result.Doubts.At(reported.Line).Length);
    }

    [Fact]
    public void Blank_lines_without_a_number_are_not_missing()
    {
        string[] pages =
        [
            .. Pages(
                (l, n) =>
                    string.Create(CultureInfo.InvariantCulture, $"{n + (n - 1) / 6, 4}  {l}{(n % 6 == 0 ? "\n" : "")}"),
                1,
                2,
                3,
                4
            ),
        ];
        Assert.DoesNotContain(Recover(pages).Entries, e => e.Code == DocumentCodes.MissingLines);
    }

    [Fact]
    public void Number_that_was_misread_is_no_missing_line()
    {
        string[] pages = Numbered(1, 2, 3, 4);
        pages[1] = pages[1].Replace("  20  ", "  26  ", StringComparison.Ordinal);
        pages[2] = pages[2].Replace("  30  ", "  80  ", StringComparison.Ordinal);
        Assert.DoesNotContain(
            Recover(pages).Entries,
            e => e.Code is DocumentCodes.MissingLines or DocumentCodes.PageOrder
        );
    }

    [Fact]
    public void Listing_that_begins_in_the_middle_is_reported()
    {
        RecoveryEntry reported = Reported(Recover(Numbered(2, 3, 4)), DocumentCodes.MissingLines);
        Assert.Equal(0, reported.Line);
        Assert.StartsWith(
            "Lines 1 to 12 of the listing are not in this document: it begins with line 13, on page 1.",
            reported.Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Listing_whose_last_page_is_missing_is_reported_at_its_last_line()
    {
        RecoveryResult result = Recover(Numbered(1, 2, 3));
        RecoveryEntry reported = Reported(result, Catalogue.EndMissing.Code);
        Assert.Equal((Severity.Warning, 35, 3), (reported.Severity, reported.Line, reported.Page));
        Assert.Contains("last page missing", reported.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Pages_in_another_order_than_their_line_numbers_are_reported_where_their_printed_numbers_contradict()
    {
        RecoveryResult result = Recover([
            .. Numbered(1, 3, 2, 4).Select(static (page, i) => $"|Lights for the house    Page {i + 7}\n{page}"),
        ]);
        RecoveryEntry[] reported = [.. result.Entries.Where(e => e.Code == DocumentCodes.PageOrder)];
        Assert.Equal([2, 3, 4], reported.Select(e => e.Page));
        Assert.Contains("line 13 is on page 3", reported[0].Message, StringComparison.Ordinal);
        Assert.Contains(
            "Page 3 begins with line 13 of the listing, but page 2 ends with line 36",
            reported[1].Message,
            StringComparison.Ordinal
        );
        Assert.All(reported, e => Assert.NotNull(DoubtMark.Find(result.Source[e.Line].Text)));
        Assert.DoesNotContain(result.Entries, e => e.Code == DocumentCodes.MissingLines);
    }

    [Fact]
    public void Page_that_is_there_twice_is_reported()
    {
        RecoveryEntry reported = Reported(Recover(Numbered(1, 2, 2, 3, 4)), DocumentCodes.PageOrder);
        Assert.StartsWith(
            "Page 3 holds lines 13 to 24 of the listing, which page 2 has already",
            reported.Message,
            StringComparison.Ordinal
        );
        // Without any number the same lines show it.
        reported = Reported(Recover(Pages((l, _) => l, 1, 2, 2, 3, 4)), DocumentCodes.PageOrder);
        Assert.StartsWith("Page 3 holds the same lines as page 2", reported.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Page_numbers_that_jump_show_a_missing_page()
    {
        RecoveryResult result = Recover(Headed(1, 2, 4));
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingPage);
        Assert.Equal((Severity.Warning, 24, 3), (reported.Severity, reported.Line, reported.Page));
        Assert.StartsWith(
            "The printed page numbers go from 2 (page 2 of this document) to 4 (page 3): printed page 3 seems to be missing.",
            reported.Message,
            StringComparison.Ordinal
        );
        Assert.Equal(
            "rest    movlw   0x20 ;? printed page 3 seems to be missing above (page 3, line 2)",
            result.Source[24].Text
        );
    }

    [Fact]
    public void Page_numbers_in_another_order_are_reported_also_after_the_end_of_the_program()
    {
        foreach (
            int[] order in (int[][])
                [
                    [1, 3, 2, 4],
                    [1, 2, 4, 3],
                ]
        )
        {
            RecoveryEntry reported = Assert.Single(
                Recover(Headed(order)).Entries,
                static e => e.Code == DocumentCodes.PageOrder
            );
            Assert.EndsWith($"in the order {string.Join(", ", order)}.", reported.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Lines_that_go_on_by_their_numbers_miss_no_page()
    {
        string[] pages =
        [
            .. Numbered(1, 2, 3, 4)
                .Zip((int[])[7, 8, 10, 11], (page, n) => $"|Lights for the house    Page {n}\n{page}"),
        ];
        Assert.DoesNotContain(Recover(pages).Entries, e => e.Code == DocumentCodes.MissingPage);
    }

    [Fact]
    public void Two_numbers_on_each_sheet_miss_no_page()
    {
        string[] pages =
        [
            .. Pages((l, _) => l, 1, 2, 3, 4)
                .Select((page, i) => $"|Page {2 * i + 10} Lights for the house Page {2 * i + 11}\n{page}"),
        ];
        Assert.DoesNotContain(
            Recover(pages).Entries,
            e => e.Code is DocumentCodes.MissingPage or DocumentCodes.PageOrder
        );
    }

    [Fact]
    public void Rest_that_the_page_numbers_announce_is_reported()
    {
        string[] pages =
        [
            .. Pages((l, _) => l, 1, 2, 3).Select((page, i) => $"|Lights for the house    Page {i + 1} of 4\n{page}"),
        ];
        RecoveryResult result = Recover(pages);
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingPage);
        Assert.Equal(35, reported.Line);
        Assert.Contains("printed page 4 is not in this document", reported.Message, StringComparison.Ordinal);
        Assert.EndsWith(
            ";? printed page 4 is missing below (page 3, line 13)",
            result.Source[35].Text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Addresses_that_jump_without_a_reason_show_missing_words()
    {
        RecoveryResult result = Recover(Listed(1, 2, 4));
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingLines);
        Assert.Equal((24, 3), (reported.Line, reported.Page));
        Assert.StartsWith(
            "The 12 words at 0x0012 to 0x001D are not built: page 2 ends at address 0x0011, and page 3 continues at 0x001E.",
            reported.Message,
            StringComparison.Ordinal
        );
        Assert.Equal(
            "rest    movlw   0x20 ;? 12 words are missing above, or an 'org' (page 3, line 1)",
            result.Source[24].Text
        );
        // What follows is compared with its words nonetheless, jumps to moved places too.
        Assert.Contains(
            result.Entries,
            e => e.Code == DocumentCodes.PrintedWordsAgree && e.Message.StartsWith("29 of 29", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Addresses_that_an_org_explains_miss_nothing()
    {
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
                                __config 0x3ff1
                                org     0
            0000  2804          goto    start
                                org     4
            0004  0000  start   nop
            0005  0000          nop
            0006  2810          goto    far
                                org     0x10
            0010  2804  far     goto    start
                                end
            """
        );
        Assert.True(result.IsClean, string.Join('\n', DoubtsOf(result)));
    }

    [Fact]
    public void Block_of_one_line_that_is_built_below_its_printed_address_misses_a_word()
    {
        // The word at 0x0000 was on a line that is lost; the configuration is printed first.
        RecoveryResult result = Recover(
            """
                                list    p=16f84a
            2007  3FF1          __config 0x3ff1
                                org     0
            0001  2805          goto    start
                                org     4
            0004  0009          retfie
            0005  0000  start   nop
            0006  2805          goto    start
                                end
            """
        );
        RecoveryEntry reported = Reported(result, DocumentCodes.MissingLines);
        Assert.StartsWith(
            "The 1 word at 0x0000 is not built: the first printed address is 0x0001",
            reported.Message,
            StringComparison.Ordinal
        );
        Assert.Contains("goto    start ;?", result.Source[reported.Line].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Misread_digit_after_a_gap_is_still_found()
    {
        string[] pages = Listed(1, 2, 4);
        pages[2] = pages[2].Replace("movlw   0x20", "movlw   0x28", StringComparison.Ordinal);
        Assert.Contains(Recover(pages).Entries, e => e is { Code: DocumentCodes.PrintedWordDiffers, Line: 24 });
    }
}
