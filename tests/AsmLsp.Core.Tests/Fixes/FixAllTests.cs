using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using static AsmLsp.Core.Tests.Fixes.FixCheck;

namespace AsmLsp.Core.Tests.Fixes;

public class FixAllTests
{
    [Fact]
    public void Every_kind_with_a_repair_is_in_the_list_once() =>
        Assert.Equal(FixList.All.Select(p => p.GetType()).Distinct().Count(), FixList.All.Length);

    [Fact]
    public void Every_repair_is_in_the_list() =>
        Assert.Equal(
            typeof(FixProvider)
                .Assembly.GetTypes()
                .Where(t => t.IsSubclassOf(typeof(FixProvider)) && !t.IsAbstract)
                .Select(t => t.Name)
                .Order(),
            FixList.All.Select(p => p.GetType().Name).Order()
        );

    [Fact]
    public void Checks_of_the_print_look_in_the_order_of_their_fixes_with_doubts_first_and_columns_last() =>
        Assert.Equal(
            [
                typeof(OpenDoubt),
                .. FixList
                    .All.OfType<PrintCheck>()
                    .Select(p => p.GetType())
                    .Where(t => t != typeof(OpenDoubt) && t != typeof(WholeTextIndented) && t != typeof(FlatLabel)),
                typeof(WholeTextIndented),
                typeof(FlatLabel),
            ],
            PrintChecks.All.Select(p => p.GetType())
        );

    [Fact]
    public void Changes_are_reported_by_their_lines_in_the_new_text()
    {
        ProgramAnalysis program = Assemble(" dt 1,\n2\nmovlw 5\nPage 2\n end");
        FixAllResult result = FixAll.Run(program, program.Root);
        Assert.Equal(" dt 1,2\n        movlw 5\n; Page 2\n end", result.NewText.ToString());
        Assert.Equal(
            ["0 continued-line", "1 operation-not-indented", "2 header-or-footer"],
            result.Changes.Select(c => $"{c.Line} {c.Kind.Code}")
        );
    }

    [Fact]
    public void Only_the_kind_asked_for_is_repaired()
    {
        ProgramAnalysis program = Assemble("movlw 5\nPage 2\n end");
        Assert.Equal(
            "movlw 5\n; Page 2\n end",
            FixAll.Run(program, program.Root, Catalogue.HeaderOrFooter).NewText.ToString()
        );
    }

    [Fact]
    public void Guesses_are_not_made() =>
        Assert.Equal(" mvlw 5\n movlw 255\n end", FixedAll(" mvlw 5\n movlw 255\n end"));

    [Fact]
    public void Clean_program_comes_back_as_it_is()
    {
        ProgramAnalysis program = Assemble("loop    movlw 5\r\n        goto loop\r\n        end\r\n");
        FixAllResult result = FixAll.Run(program, program.Root);
        Assert.Empty(result.Changes);
        Assert.Equal(program.Root.Text.ToString(), result.NewText.ToString());
    }

    [Fact]
    public void One_refused_edit_does_not_keep_the_others_out()
    {
        // The dash in the second line would change its word (5 to 3), so it stays; the characters of the others go.
        const string source = " retlw 1 \u00A0; a\n movlw 5\u20132\n retlw\u00A02\n end";
        Assert.Equal(" retlw 1  ; a\n movlw 5\u20132\n retlw 2\n end", FixedAll(source));
    }

    [Fact]
    public void Label_that_a_joined_line_moves_may_move()
    {
        const string source = " goto there\n dt 1,\n2,3\nthere nop\n end";
        Assert.Equal(" goto there\n dt 1,2,3\nthere nop\n end", FixedAll(source));
    }

    [Fact]
    public void Repair_in_an_included_file_is_made_there()
    {
        var part = new SourceFile("part.inc", SourceText.From("movlw 5\n"));
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("main.asm", SourceText.From(" include \"part.inc\"\n end")),
            new One(part)
        );
        Assert.Equal("        movlw 5\n", FixAll.Run(program, part).NewText.ToString());
    }

    [Fact]
    public void Line_ends_stay_as_they_are() =>
        Assert.Equal("        nop\r\n        nop\r        nop\n end", FixedAll("nop\r\nnop\rnop\n end"));

    private sealed class One(SourceFile file) : IIncludeResolver
    {
        public SourceFile? Resolve(string name, SourceFile from) => name == file.Name ? file : null;
    }
}
