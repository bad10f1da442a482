using AsmLsp.Core.Problems;
using AsmLsp.Ide.Reading;

namespace AsmLsp.Ide.Tests;

/// <summary>What is shown inside a source: the class of each token, hints, problems.</summary>
public sealed class ReadingTests
{
    [Fact]
    public void Each_token_has_its_class() =>
        Check
            .In(
                "led equ 2 ; lamp\nm macro x\n movlw x\n endm\nstart bsf PORTB,led\n m 5\n movf STATUS,w\n bcf STATUS,RP0\n dt \"a\"\n end\n"
            )
            .Classes(
                "led:Value!= equ:Directive 2:Number ; lamp:Comment",
                "m:Macro! macro:Directive x:Parameter",
                "movlw:Instruction x:Parameter",
                "endm:Directive",
                "start:Label! bsf:Instruction PORTB:Value* led:Value=",
                "m:Macro 5:Number",
                "movf:Instruction STATUS:Value* w:Instruction",
                "bcf:Instruction STATUS:Value* RP0:Bit*",
                "dt:Directive \"a\":Text",
                "end:Directive"
            );

    [Fact]
    public void What_a_choice_leaves_out_is_a_comment() =>
        Check
            .In(" if 0\n nop\n endif\n end\n")
            .Classes("if:Directive 0:Number", "nop:Comment", "endif:Directive", "end:Directive");

    // MOVLW 0x10 is 0x3010, ADDLW 0x05 is 0x3E05, GOTO 0 is 0x2800 (data sheet DS35007B, table 7-2).
    [Fact]
    public void Hints_show_address_word_and_values() =>
        Check
            .In("n equ 5\nstart movlw 10\n addlw n ; c\n goto start\n dt \"ab\"\n end\n")
            .Hints(
                new(Words: true, Values: true, Cycles: false),
                "n equ 5\nstart movlw 10«= 16»«0000 3010»\n addlw n«= 0x05» ; c«0001 3E05»\n goto start«0002 2800»\n dt \"ab\"«0003 3461 +1»\n end\n"
            );

    [Fact]
    public void Hints_are_chosen() =>
        Check
            .In("n equ 5\nstart movlw n\n btfsc PORTB,0\n goto start\n end\n")
            .Hints(
                new(Words: false, Values: false, Cycles: true),
                "n equ 5\nstart movlw n«1 cycle»\n btfsc PORTB,0«1 or 2 cycles»\n goto start«2 cycles»\n end\n"
            );

    [Fact]
    public void Lines_that_a_choice_leaves_out_are_shown_with_the_reason()
    {
        ProgramFile file = Check.In("slow equ 0\n if slow\n nop\n nop\n endif\n end\n").File;
        LeftOutLines part = Assert.Single(ReportedProblems.LeftOut(file.Program, file.Source));
        Assert.Equal((2, 3), (part.FirstLine, part.LastLine));
        Assert.Contains("slow", part.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(" movlw 0x30 ; sixty ;? unclear{|} print (page 3, line 12)\n", "page 3, line 12")]
    [InlineData(" mov{|}lw 0x30 ; sixty ;? unclear print (page 3, line 12)\n", null)]
    [InlineData(" movlw 0x30 ; six{|}ty\n", null)]
    public void The_mark_of_a_doubt_leads_to_its_printed_line(string source, string? place) =>
        Check.In(source).DoubtWasPrintedAt(place);

    [Fact]
    public void Of_too_many_problems_the_errors_are_shown()
    {
        string many =
            string.Concat(Enumerable.Repeat(" movwf 0x85\n", ReportedProblems.Most)) + " goto nowhere\n end\n";
        ProgramFile file = Check.In(many).File;
        Assert.True(file.Problems.Length > 0);
        Assert.Equal(
            file.Problems.Count(problem => problem.Severity == Severity.Error),
            ReportedProblems.Of(file.Program, file.Source).Count(problem => problem.Severity == Severity.Error)
        );
        Assert.True(ReportedProblems.Of(file.Program, file.Source).Length <= ReportedProblems.Most);
    }

    [Fact]
    public void A_part_seen_without_its_program_is_not_asked_for_names_of_the_program()
    {
        Assert.Contains(Check.In(" call wait\n").File.Problems, problem => problem.Kind == Catalogue.UndefinedName);
        Assert.DoesNotContain(
            Check.InPart(" call wait\n").File.Problems,
            problem => problem.Kind == Catalogue.UndefinedName
        );
    }
}
