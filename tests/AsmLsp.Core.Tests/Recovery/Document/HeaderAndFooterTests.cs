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
}
