using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Text;
using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

public class CommentRefactoringTests
{
    [Fact]
    public void Line_is_commented_out() =>
        Makes(
            "comment-out/lines",
            " no{|}p\n nop\n end",
            "; nop\n nop\n end",
            "Comment out this line (changes the program's words)"
        );

    [Fact]
    public void Selected_lines_are_commented_out_blank_ones_not() =>
        Makes(
            "comment-out/lines",
            " nop\n{|}a equ 1 ; one\n\n; two\n{|} nop\n end",
            " nop\n;a equ 1 ; one\n\n;; two\n nop\n end",
            "Comment out 2 lines (may change the program's words)"
        );

    [Fact]
    public void Doubt_stays_on_its_line() =>
        Makes("comment-out/lines", " mov{|}lw 5 ;? was S\n end", "; movlw 5 ;? was S\n end");

    [Theory]
    [InlineData("; not{|}hing\n nop\n end")]
    [InlineData("\n{|}\n nop\n end")]
    [InlineData("?a{|}b nop\n end")]
    public void Nothing_to_comment_out_here(string source) => OffersNo("comment-out", source);

    [Fact]
    public void Line_is_made_program_again() =>
        Makes(
            "comment-in/lines",
            "; no{|}p\n nop\n end",
            " nop\n nop\n end",
            "Make this comment a line of the program again (changes the program's words)"
        );

    [Theory]
    [InlineData("; Call the{|} routine that waits\n nop\n end")]
    [InlineData("; list of{|} parts\n nop\n end")]
    [InlineData("; hel{|}lo\n nop\n end")]
    [InlineData(";? movlw{|} 5\n nop\n end")]
    [InlineData(" ; movlw{|} 5\n nop\n end")]
    public void Prose_and_doubts_stay_comments(string source) => OffersNo("comment-in", source);

    [Theory]
    [InlineData(" nop\n\n; note\nlabel: movlw 5 ; five ;? was S\n\tdt \";\"\n   \n")]
    [InlineData("\u00e9 nop\r\n;;x\r\n nop")]
    public void Out_and_in_again_gives_the_text_to_the_letter(string text)
    {
        string source = "{|}" + text + "{|}";
        string commented = Apply(source, "comment-out/lines");
        Assert.NotEqual(text, commented);
        Assert.Equal(text, Apply("{|}" + commented + "{|}", "comment-in/lines"));
    }

    private static string Apply(string source, string id)
    {
        FileEdits edits = Assert.Single(Find(source).Single(r => r.Id == id).Compute());
        return edits.File.Text.WithEdits(edits.Edits).ToString();
    }
}
