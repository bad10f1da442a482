using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Core.Tests.Fixes;

/// <summary>Little accidents of print and keyboard that only a person can judge: an error or a warning, and one click.</summary>
public class LittleAccidentTests
{
    [Theory]
    [InlineData(" . nop$0\n", 0, "   nop\n")]
    [InlineData(" . nop$0\n", 1, " ; . nop\n")]
    [InlineData(" \"two relays\"$0\n", 0, " ; \"two relays\"\n")]
    public void A_line_that_is_no_operation_becomes_a_comment(string source, int index, string after) =>
        FixCheck.Offers(Catalogue.UnknownOperation, Certainty.Guess, source, after, index);

    [Theory]
    [InlineData(" movlw 5 : load it$0\n", " movlw 5 ; : load it\n")]
    [InlineData(" bsf 6,0 lamp on$0\n", " bsf 6,0 ; lamp on\n")]
    [InlineData(" goto 0 .$0\n", " goto 0 ; .\n")]
    public void Words_after_a_whole_instruction_become_a_comment(string source, string after) =>
        FixCheck.Offers(Catalogue.TextAfterOperands, Certainty.Guess, source, after);

    [Fact]
    public void Letters_that_are_no_digits_are_taken_off_a_number() =>
        FixCheck.Offers(Catalogue.BadNumber, Certainty.Guess, " movlw 0xFFZ$0\n", " movlw 0xFF\n");

    [Theory]
    [InlineData(" movlv 5$0\n")]
    [InlineData("#endlf$0\n")]
    public void A_misspelled_operation_is_not_made_a_comment(string source) =>
        Assert.DoesNotContain(
            FixCheck.TitlesAt(Catalogue.UnknownOperation, source),
            title => title.Contains("comment", StringComparison.Ordinal)
        );
}
