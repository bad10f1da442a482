using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using static AsmLsp.Core.Tests.Fixes.FixCheck;

namespace AsmLsp.Core.Tests.Fixes;

public class ColumnFixTests
{
    [Fact]
    public void Operation_in_column_one_is_indented() =>
        Offers(Catalogue.OperationNotIndented, Certainty.Certain, "$0movlw 5\n end", "        movlw 5\n end");

    [Fact]
    public void Operation_is_indented_with_tabs_where_the_file_has_tabs() =>
        Offers(
            Catalogue.OperationNotIndented,
            Certainty.Certain,
            "\tnop\n\tnop\n$0movlw 5\n\tend",
            "\tnop\n\tnop\n\tmovlw 5\n\tend"
        );

    [Fact]
    public void Operation_is_indented_as_far_as_the_others() =>
        Offers(
            Catalogue.OperationNotIndented,
            Certainty.Certain,
            "    nop\n    nop\n$0movlw 5\n    end",
            "    nop\n    nop\n    movlw 5\n    end"
        );

    [Fact]
    public void Label_named_like_an_instruction_is_left_alone() =>
        OffersNothing(Catalogue.OperationNotIndented, "$0OPTION equ 81h\n nop\n end");

    [Fact]
    public void Label_indented_before_instruction_moves_to_column_one() =>
        Offers(
            Catalogue.LabelIndented,
            Certainty.Certain,
            "   $0loop  movlw 5\n goto loop\n end",
            "loop     movlw 5\n goto loop\n end"
        );

    [Fact]
    public void Lone_label_indented_moves_to_column_one() =>
        Offers(
            Catalogue.LabelIndented,
            Certainty.Certain,
            "  $0loop\n nop\n goto loop\n end",
            "loop\n nop\n goto loop\n end"
        );

    [Fact]
    public void Label_with_a_colon_takes_it_along() =>
        Offers(
            Catalogue.LabelIndented,
            Certainty.Certain,
            "  $0loop: nop\n goto loop\n end",
            "loop:   nop\n goto loop\n end"
        );

    [Fact]
    public void Call_of_a_macro_is_no_label() =>
        OffersNothing(Catalogue.LabelIndented, "wait macro\n nop\n endm\n $0wait\n end");

    [Fact]
    public void Text_indented_as_a_whole_moves_to_the_left() =>
        Offers(
            Catalogue.WholeTextIndented,
            Certainty.Certain,
            "    start\n            movlw 5\n    ; note\n    loop    goto loop\n            end",
            "start\n        movlw 5\n; note\nloop    goto loop\n        end"
        );

    [Fact]
    public void Text_without_labels_is_not_taken_for_indented() =>
        OffersNothing(Catalogue.WholeTextIndented, "    nop\n    movlw 5\n    end");

    [Fact]
    public void Macro_call_among_instructions_is_not_taken_for_a_label() =>
        OffersNothing(Catalogue.WholeTextIndented, "    nop\n    lcdinit\n    movlw 5\n    end");

    [Fact]
    public void All_columns_are_repaired_together() =>
        Assert.Equal(
            "loop    movlw 5\n        nop\n        goto loop\n        end",
            FixedAll("loop    movlw 5\nnop\ngoto loop\nend")
        );
}
