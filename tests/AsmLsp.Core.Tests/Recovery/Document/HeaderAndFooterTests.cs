using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Which lines at the edges of pages are headers and footers, and which are the program's.</summary>
public class HeaderAndFooterTests
{
    private const string Code = "        movlw   5\n        movwf   PORTB\n        call    rest\n        goto    again";

    // Each page as it is, the first one moved down by some points, as browsers print it.
    private static string[] Found(double firstPageLower, params string[] pages)
    {
        PrintedDocument document = PrintedPages.Of(pages);
        PrintedPage[] moved =
        [
            .. document.Pages.Select(p =>
                p.Number > 1 ? p : p with { Lines = [.. p.Lines.Select(l => l with { Y = l.Y + firstPageLower })] }
            ),
        ];
        return
        [
            .. HeadersAndFooters
                .Find(moved, DocumentGutter.Find(moved))
                .OrderBy(static l => l.Page)
                .ThenBy(static l => l.Y)
                .Select(static l => l.Text),
        ];
    }

    [Fact]
    public void Header_and_footer_of_a_first_page_that_is_printed_lower_are_found() =>
        Assert.Equal(
            ["Fish Pond 7 May", "Fish Pond, sheet 1 of 2", "Fish Pond 7 May", "Fish Pond, sheet 2 of 2"],
            Found(
                6,
                $"Fish Pond 7 May\n{Code}\nFish Pond, sheet 1 of 2",
                $"Fish Pond 7 May\n{Code}\n{Code}\nFish Pond, sheet 2 of 2"
            )
        );

    [Theory]
    [InlineData("Fish Pond, page 1/3")]
    [InlineData("Seite 2 von 3")]
    public void Word_for_a_page_with_both_numbers_is_proof_on_a_single_page(string foot) =>
        Assert.Equal([foot], Found(0, $"{Code}\n{foot}"));

    [Fact]
    public void Bare_count_is_proof_beside_the_next_one() =>
        Assert.Equal(["1/4", "2/4"], Found(0, $"start\n{Code}\n1/4", $"other\n{Code}\n{Code}\n2/4"));

    [Fact]
    public void Bare_count_on_one_page_of_several_is_no_proof() =>
        Assert.Empty(Found(0, $"{Code}\n1/4", $"{Code}\n{Code}", Code));

    [Fact]
    public void Labels_at_the_feet_of_pages_that_differ_by_their_figures_are_the_program() =>
        Assert.Empty(Found(0, $"{Code}\nstage_10", $"{Code}\nstage_20", $"{Code}\nstage_30"));

    [Fact]
    public void Labels_with_line_numbers_at_the_feet_of_pages_are_the_program() =>
        Assert.Empty(
            Found(
                0,
                $" 40        nop\n{Code}\n 41  lap1",
                $" 81        nop\n{Code}\n 82  lap2",
                $"122        nop\n{Code}\n123  lap3"
            )
        );

    [Fact]
    public void Word_on_every_page_that_the_program_uses_is_its_label() =>
        Assert.Empty(Found(0, $"again\n{Code}", $"again\n{Code}", $"again\n{Code}"));

    [Fact]
    public void Word_on_every_page_that_nothing_uses_is_a_header() =>
        Assert.Equal(
            ["Listing", "Listing", "Listing"],
            Found(0, $"Listing\n{Code}", $"Listing\n{Code}", $"Listing\n{Code}")
        );

    [Fact]
    public void Heads_of_programs_at_the_tops_of_pages_are_the_programs() =>
        Assert.Empty(
            Found(
                0,
                $"        include <p16f84a.inc>\n{Code}",
                $"        include <p16f84a.inc>\n{Code}",
                $"        include <p16f84a.inc>\n{Code}"
            )
        );

    [Fact]
    public void Number_of_an_empty_line_is_no_page_number() =>
        Assert.Equal(
            ["7"],
            Found(0, $"{Code}\n 53        nop\n 54", $"{Code}\n107        nop\n108", $"{Code}\n161        nop\n\n7")
        );

    [Theory]
    [InlineData("Delay")]
    [InlineData("Chapter 3")]
    [InlineData("The pond at night        xii")]
    [InlineData("Software of the pond")]
    public void Header_on_one_page_above_where_the_others_begin_is_none_of_the_program(string head)
    {
        Assert.Equal([head], Found(0, $"\n\n{Code}", $"{head}\n\n{Code}", $"\n\n{Code}"));
        Assert.Equal([head], Found(0, $"{Code}\n{Code}", $"{Code}\n{Code}\n\n{head}", $"{Code}\n{Code}"));
    }

    [Fact]
    public void Other_header_on_each_page_is_none_of_the_program() =>
        Assert.Equal(
            ["Notes", "Test", "Chapter 3", "The pond"],
            Found(0, $"Notes\n\n\n{Code}", $"Test\n\n\n{Code}", $"Chapter 3\n\n\n{Code}", $"The pond\n\n\n{Code}")
        );

    [Fact]
    public void Words_where_the_other_pages_begin_may_be_the_rest_of_a_comment() =>
        Assert.Empty(Found(0, Code, $"of the pond\n\n{Code}", Code));

    [Fact]
    public void Label_above_a_blank_row_at_the_head_of_a_page_is_the_program() =>
        Assert.Empty(Found(0, Code, $"lap\n\n{Code}", Code));

    [Theory]
    [InlineData("xii")]
    [InlineData("3-17")]
    [InlineData("A-4")]
    [InlineData("[5]")]
    public void Page_number_of_a_book_clear_of_the_listing_is_a_footer(string number) =>
        Assert.Equal([number], Found(0, $"{Code}\n\n\n{number}"));

    [Theory]
    [InlineData("lap")]
    [InlineData("x")]
    [InlineData("vix")]
    [InlineData("iiii")]
    public void Name_below_a_blank_row_is_no_page_number(string name) => Assert.Empty(Found(0, $"{Code}\n\n\n{name}"));
}
