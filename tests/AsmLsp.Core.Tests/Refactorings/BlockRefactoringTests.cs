using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

public class BlockRefactoringTests
{
    [Fact]
    public void Definitions_that_count_up_become_a_block() =>
        Makes(
            "equates-to-block/block",
            "one     equ 0x20 ; first\ntwo  {|}   equ 0x21\nthree   equ two+1\nfar     equ 0x30\n movwf three\n end",
            "        cblock 0x20\none              ; first\ntwo\nthree\n        endc\nfar     equ 0x30\n movwf three\n end",
            "Turn 3 definitions from one on into a block (cblock) (same words)"
        );

    [Fact]
    public void Only_what_is_selected_becomes_a_block() =>
        Makes(
            "equates-to-block/block",
            "one equ 0x20\n{|}two equ 0x21\nthree equ 0x22\n{|}four equ 0x23\n movwf four\n end",
            "one equ 0x20\n        cblock 0x21\ntwo\nthree\n        endc\nfour equ 0x23\n movwf four\n end"
        );

    [Theory]
    [InlineData("o{|}ne equ 0x20\ntwo equ 0x22\n end")]
    [InlineData("one equ 0x20 ;? was 2O\ntw{|}o equ 0x21\n end")]
    [InlineData("o{|}ne equ 0x20\n end")]
    [InlineData("o{|}ne set 0x20\ntwo set 0x21\n end")]
    [InlineData("b{|} equ 0x20\nlist equ 0x21\n end")]
    public void Definitions_do_not_become_a_block_here(string source) => OffersNo("equates-to-block", source);

    [Fact]
    public void Block_that_would_move_a_later_block_is_refused() =>
        Refuses(
            "equates-to-block/block",
            " cblock 0x30\na1\n endc\nx{|}1 equ 0x20\nx2 equ 0x21\n cblock\nb1\n endc\n movwf b1\n end"
        );

    [Fact]
    public void Block_becomes_definitions() =>
        Makes(
            "block-to-equates/equates",
            " cblock 0x20 ; variables\none ; first\nbu{|}f:4, two ; second\n\n endc ; done\n movwf two\n end",
            "; variables\none     equ 0x20                ; first\nbuf     equ 0x21                ; 4 registers\ntwo     equ 0x25                ; second\n\n; done\n movwf two\n end",
            "Turn the block into 3 definitions (equ) (same words)"
        );

    [Fact]
    public void Block_that_a_later_one_goes_on_from_is_refused() =>
        Refuses("block-to-equates/equates", " cbl{|}ock 0x20\none\n endc\n cblock\ntwo\n endc\n movwf two\n end");

    [Theory]
    [InlineData(" cbl{|}ock 0x20\none ;? was 0ne\n endc\n end")]
    [InlineData(" cblock 0x20\none\n endc\n no{|}p\n end")]
    [InlineData(" cblock 0x20\n ifdef x\no{|}ne\n endif\n endc\n end")]
    [InlineData(" cblock 0x20\no{|}ne\n")]
    public void Block_does_not_become_definitions_here(string source) => OffersNo("block-to-equates", source);

    [Fact]
    public void There_and_back_gives_the_same_words()
    {
        const string source = "one{|}     equ 0x20 ; first\ntwo     equ 0x21\n movwf two\n end";
        Makes(
            "equates-to-block/block",
            source,
            "        cblock 0x20\none              ; first\ntwo\n        endc\n movwf two\n end"
        );
        Makes(
            "block-to-equates/equates",
            "        cblock 0x20\none{|}              ; first\ntwo\n        endc\n movwf two\n end",
            "one     equ 0x20                ; first\ntwo     equ 0x21\n movwf two\n end"
        );
    }
}
