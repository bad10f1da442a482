using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Problems;

/// <summary>Habits of authors whose programs build as they are meant: reported once, as a note, and repaired everywhere all the same.</summary>
public class HabitTests
{
    private const string Head = " list p=16f84a\n include <p16f84a.inc>\n __config 0x3ff1\n";

    private static ProgramAnalysis Assemble(string source) =>
        Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));

    private static Problem[] Problems(string source, string code)
    {
        ProgramAnalysis program = Assemble(source);
        return [.. ProgramProblems.All(program, program.Root).Where(p => p.Code == code)];
    }

    [Fact]
    public void Directives_in_column_one_are_one_note_with_their_number()
    {
        string source = Head + "org 0\nstart nop\n goto start\ndt 1,2\ndt 3\nend\n";
        Problem problem = Assert.Single(Problems(source, "operation-not-indented"));
        Assert.Equal((Severity.Information, 3), (problem.Severity, problem.Place.Line));
        Assert.StartsWith("4 directives", problem.Message, StringComparison.Ordinal);
        // The repair still knows every place.
        ProgramAnalysis program = Assemble(source);
        string tidied = Tidy.Run(program, program.Root).NewText.ToString();
        Assert.DoesNotContain("\ndt", tidied, StringComparison.Ordinal);
        Assert.DoesNotContain("\nend", tidied, StringComparison.Ordinal);
    }

    [Fact]
    public void A_few_instructions_in_column_one_are_warnings_and_many_are_one_note()
    {
        Assert.Equal(
            [Severity.Warning, Severity.Warning],
            Problems(Head + "start nop\nclrw\nclrw\n goto start\n end\n", "operation-not-indented")
                .Select(p => p.Severity)
        );
        string many = string.Concat(Enumerable.Repeat("clrw\n", 20));
        Assert.Equal(
            [Severity.Information],
            Problems(Head + "start nop\n" + many + " goto start\n end\n", "operation-not-indented")
                .Select(p => p.Severity)
        );
    }

    [Fact]
    public void Indented_names_with_a_value_are_one_note_and_a_lone_word_stays_a_warning()
    {
        string source =
            Head + " a equ 0x20\n b = 0x21\n start: nop\n again\n clrf a\n clrf b\n goto again\n goto start\n end\n";
        Problem[] problems = Problems(source, "label-indented");
        Assert.Equal([Severity.Information, Severity.Warning], problems.Select(p => p.Severity));
        Assert.StartsWith("3 names", problems[0].Message, StringComparison.Ordinal);
        Assert.Equal(6, problems[1].Place.Line);
    }

    [Fact]
    public void Names_that_differ_by_case_are_reported_once_a_pair()
    {
        Problem problem = Assert.Single(
            Problems(
                Head + "Level equ 0x20\nstart clrf level\n incf level,f\n decf level,f\n goto start\n end\n",
                "name-differs-by-case"
            )
        );
        Assert.EndsWith("This occurs 3 times, here first.", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Destinations_left_out_are_reported_once_with_their_number() =>
        Assert.StartsWith(
            "2 instructions",
            Assert
                .Single(Problems(Head + "start incf 0x20\n decf 0x20\n goto start\n end\n", "destination-left-out"))
                .Message,
            StringComparison.Ordinal
        );

    [Fact]
    public void A_bare_mark_of_a_doubt_is_the_authors_own() =>
        Assert.Empty(Problems(Head + "start nop ;?\n goto start ;  ?\n end\n", "open-doubt"));

    [Fact]
    public void Chip_names_that_are_included_further_down_are_included()
    {
        const string used = " list p=16f84a\n __config _XT_OSC & _WDT_OFF\n";
        Assert.Empty(Problems(used + " include <p16f84a.inc>\n nop\n end\n", "chip-names-not-included"));
        Assert.Single(Problems(used + " nop\n end\n", "chip-names-not-included"));
    }

    [Fact]
    public void A_long_jump_by_macro_to_a_label_further_down_is_sound()
    {
        const string macro =
            "far macro where\n if high(where)\n pagesel where\n endif\n goto where\n endm\n org 0\nmain far work\nwork clrf 0x20\n goto main\n end\n";
        Assert.Empty(Problems(" list p=16f877a\n include <p16f877a.inc>\n" + macro, "condition-looks-ahead"));
        // A value that can be moved up is still asked for.
        Assert.Single(
            Problems(
                "far macro n\n if n\n nop\n endif\n endm\n far later\nlater equ 1\n goto $\n end\n",
                "condition-looks-ahead"
            )
        );
    }

    [Fact]
    public void The_word_after_a_table_may_be_its_last_entry()
    {
        const string table =
            "start movf PORTB,w\n call step\n goto start\nstep andlw 3\n addwf PCL,f\n goto left\n goto right\n goto left\n{0} clrf 0x20\n goto left\nleft return\nright return\n end\n";
        Assert.Empty(Problems(Head + table.Replace("{0}", "", StringComparison.Ordinal), "table-too-short"));
        Assert.Single(Problems(Head + table.Replace("{0}", "other", StringComparison.Ordinal), "table-too-short"));
    }

    [Fact]
    public void A_bit_named_by_a_define_in_the_wrong_bank_is_reported()
    {
        const string program = "start bsf STATUS,RP0\n bsf {0}\n bcf STATUS,RP0\n goto start\n end\n";
        Assert.Single(Problems(Head + program.Replace("{0}", "PORTB,7", StringComparison.Ordinal), "wrong-bank"));
        Assert.Single(
            Problems(
                Head + "#define lamp PORTB,7\n" + program.Replace("{0}", "lamp", StringComparison.Ordinal),
                "wrong-bank"
            )
        );
        Assert.Single(
            Problems(
                Head
                    + "#define pin PORTB,7\n#define lamp pin\n"
                    + program.Replace("{0}", "lamp", StringComparison.Ordinal),
                "wrong-bank"
            )
        );
    }

    [Fact]
    public void A_register_in_the_wrong_bank_in_some_calls_of_a_macro_is_reported_at_those_calls()
    {
        const string source =
            Head
            + "put macro value\n movlw value\n movwf PORTB\n endm\nstart bsf STATUS,RP0\n put 1\n bcf STATUS,RP0\n put 2\n put 3\n goto start\n end\n";
        Problem problem = Assert.Single(Problems(source, "wrong-bank"));
        Assert.Equal(8, problem.Place.Line);
        Assert.Contains("in line 6 of the macro put", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_error_is_never_left_out_because_another_problem_explains_its_line()
    {
        ProgramAnalysis program = Assemble("wait end count\nloop code x,5\n title ?b\n");
        ImmutableArray<Problem> shown = ProgramProblems.All(program, program.Root);
        Assert.Equal(program.HasErrors, shown.Any(p => p.Severity == Severity.Error));
    }
}
