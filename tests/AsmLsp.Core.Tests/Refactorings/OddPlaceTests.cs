using AsmLsp.Core.Assembly;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Text;
using static AsmLsp.Core.Tests.Refactorings.RefactoringCheck;

namespace AsmLsp.Core.Tests.Refactorings;

public class OddPlaceTests
{
    [Theory]
    [InlineData(-5, -1, 99, 99)]
    [InlineData(99, 99, 99, 99)]
    [InlineData(3, 2, 0, 0)]
    [InlineData(0, 500, 0, 600)]
    public void Places_outside_the_text_and_turned_around_are_taken_as_the_nearest(
        int line,
        int column,
        int endLine,
        int endColumn
    )
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("main.asm", SourceText.From(" movlw 5\n bsf 3,5\n nop\n end"))
        );
        foreach (
            Refactoring found in RefactoringFinder.For(
                program,
                program.Root,
                new(line, column),
                new(endLine, endColumn)
            )
        )
            Assert.All(found.Compute(), e => Assert.InRange(e.Edits[^1].Span.End, 0, program.Root.Text.Length));
    }

    [Fact]
    public void Empty_text_offers_nothing() => Assert.Empty(Find("{|}"));

    [Fact]
    public void File_that_is_not_of_the_program_offers_nothing()
    {
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("main.asm", SourceText.From(" nop\n end")));
        Assert.Empty(
            RefactoringFinder.For(program, new SourceFile("other.asm", SourceText.From(" nop\n")), new(0, 1), new(0, 1))
        );
    }

    // What is in a macro's body, a part that is left out, or in error proves nothing by being assembled.
    [Theory]
    [InlineData("m macro x\n mov{|}lw x+5\n endm\n m 1\n end")]
    [InlineData("m macro x\n mov{|}lw 5\n endm\n nop\n end")]
    [InlineData(" if 0\n mov{|}lw 5\n endif\n nop\n end")]
    [InlineData(" nop\n end\n mov{|}lw 5")]
    [InlineData(" mov{|}lw nowhere\n nop\n end")]
    [InlineData("; movlw 0x{|}20\n nop\n end")]
    public void Only_commenting_is_offered_where_nothing_can_be_proven(string source) =>
        Assert.All(Find(source), r => Assert.StartsWith("comment-", r.Id, StringComparison.Ordinal));

    [Fact]
    public void Only_the_kinds_that_are_wanted_are_looked_for()
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile("main.asm", SourceText.From("a1 equ 5\n movlw a1\n movlw 0x20\n end"))
        );
        Assert.All(
            RefactoringFinder.For(program, program.Root, new(2, 9), new(2, 9), k => k == RefactoringKind.Extract),
            r => Assert.Equal(RefactoringKind.Extract, r.Kind)
        );
        Assert.Contains(
            RefactoringFinder.For(program, program.Root, new(2, 9), new(2, 9)),
            r => r.Kind == RefactoringKind.Extract
        );
        Assert.DoesNotContain(
            RefactoringFinder.For(program, program.Root, new(2, 9), new(2, 9), onlyCheap: true),
            r => r.Kind == RefactoringKind.Extract
        );
        Assert.Contains(
            RefactoringFinder.For(program, program.Root, new(2, 9), new(2, 9), onlyCheap: true),
            r => r.Id == "notation/decimal"
        );
    }

    [Fact]
    public void Every_title_says_what_becomes_of_the_words_and_starts_with_a_verb()
    {
        Refactoring[] all =
        [
            .. Find(Chip + "a1 equ 0x20\nb1 equ 0x21\n movlw{|} 0x20\n end"),
            .. Find(Chip + "a{|}1 equ 0x20\nb1 equ 0x21\n movwf a1\n end"),
            .. Find(Chip + " movwf{|} TRISB\n goto $\n end"),
        ];
        Assert.True(all.Length > 4);
        Assert.All(
            all,
            r =>
                Assert.Matches(
                    @"^(Write|Give|Turn|Put|Select|Test|Set|Make|Comment) .* \((same words|changes the program's words|may change the program's words)\)$",
                    r.Title
                )
        );
    }
}
