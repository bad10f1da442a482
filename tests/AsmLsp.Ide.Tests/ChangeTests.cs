using AsmLsp.Core.Text;
using AsmLsp.Ide.Changes;
using CsCheck;

namespace AsmLsp.Ide.Tests;

/// <summary>Fixes, refactorings and layout, as actions that are chosen.</summary>
public sealed class ChangeTests
{
    private const string Faulty = " __config 0x3ff1\n{|}movwf 0c\nmovwf 0d\n goto 0\n end\n";

    [Fact]
    public void A_certain_fix_makes_its_edit() =>
        Check.In(Faulty).Makes("Indent movwf", " __config 0x3ff1\n        movwf 0c\nmovwf 0d\n goto 0\n end\n");

    [Fact]
    public void All_of_a_kind_are_fixed_by_one_action() =>
        Check
            .In(Faulty)
            .Makes(
                "Fix all 2 places of this kind in main.asm",
                " __config 0x3ff1\n        movwf 0c\n        movwf 0d\n goto 0\n end\n"
            );

    [Fact]
    public void Nothing_is_offered_where_nothing_is_wrong() => Check.In(" __config 0x3ff1\n {|}goto 0\n end\n").Fixes();

    [Fact]
    public void A_doubt_is_accepted_or_written_as_its_alternative_or_shown_where_it_was_printed()
    {
        var check = Check.In(
            " __config 0x3ff1\n movlw{|} 0x30 ; sixty ;? unclear print [ movlw 0x3C] (page 3, line 12)\n goto 0\n end\n"
        );
        check.Fixes("Accept it unchanged", "Write 'movlw 0x3C' instead");
        check.Makes("Write 'movlw 0x3C' instead", " __config 0x3ff1\n movlw 0x3C ; sixty\n goto 0\n end\n");
        Assert.Equal(
            ["Show where it was printed: page 3, line 12"],
            PrintedDoubt.On(check.File, 0, 4).Select(doubt => doubt.Title)
        );
    }

    private const string Source =
        " include <p16f84a.inc>\n __config 0x3FF1\nCount equ 0x20\n bsf 3,5\n movwf COUNT\n movlw 0x41\n goto $\n end\n";

    [Fact]
    public void A_refactoring_makes_the_text_that_its_title_says() =>
        Check
            .In(Source.Replace("bsf 3", "b{|}sf 3", StringComparison.Ordinal))
            .Makes(
                "Write STATUS,RP0 for 3,5 (same words)",
                Source.Replace("bsf 3,5", "bsf STATUS,RP0", StringComparison.Ordinal)
            );

    [Fact]
    public void Only_the_kinds_of_refactorings_that_are_wanted_are_looked_for()
    {
        var check = Check.In(Source.Replace("0x41", "0x{|}41", StringComparison.Ordinal));
        Assert.Contains(check.Refactorings(false, ActionKind.Extract), IsExtract);
        Assert.DoesNotContain(check.Refactorings(false, ActionKind.Rewrite), IsExtract);
        Assert.DoesNotContain(check.Refactorings(onlyCheap: true), IsExtract);

        static bool IsExtract(string title) => title.StartsWith("Give ", StringComparison.Ordinal);
    }

    // Whether 10 is ten or sixteen, the program around it says.
    [Fact]
    public void A_part_whose_program_is_not_found_is_commented_only() =>
        Assert.Equal(
            ["Comment out this line (changes the program's words)"],
            Check.InPart("wait movlw 1{|}0\n return\n").Refactorings()
        );

    [Fact]
    public void Layout_changes_blanks_of_the_lines_that_are_asked_for()
    {
        const string source = "start   movlw   5\n   movwf PORTB\n goto   start\n end\n";
        Check.In(source).Formats("start   movlw   5\n        movwf   PORTB\n        goto    start\n        end\n");
        Check.In(source).Formats("start   movlw   5\n        movwf   PORTB\n goto   start\n end\n", new(1, 1));
    }

    [Theory]
    [InlineData("a\nb\nc\n", "a\nb\nc\n", 0)]
    [InlineData("a\nb\nc\n", "a\nx\nc\n", 1)]
    [InlineData("a\nb\nc\nd\n", "a\nc\nnew\nd\n", 2)]
    public void A_difference_is_small(string before, string after, int edits) =>
        Assert.Equal(edits, TextDifference.Between(SourceText.From(before), SourceText.From(after)).Count);

    [Fact]
    public void A_difference_leads_from_the_one_text_to_the_other() =>
        Gen.Select(Text, Text)
            .Sample(
                (before, after) =>
                {
                    var from = SourceText.From(before);
                    return from.WithEdits(TextDifference.Between(from, SourceText.From(after))).ToString() == after;
                }
            );

    private static readonly string[] Lines = ["nop", "a", "b ; c", "", "\U0001F4A1", "\U0001F4A2"];

    private static Gen<string> Text { get; } =
        Gen.Int[0, 5]
            .Select(n => Lines[n])
            .SelectMany(line => Gen.Bool.Select(dos => line + (dos ? "\r\n" : "\n")))
            .Array[0, 12]
            .Select(string.Concat);
}
