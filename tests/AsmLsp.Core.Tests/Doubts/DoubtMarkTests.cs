using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Doubts;

public class DoubtMarkTests
{
    [Theory]
    [InlineData(" movlw 5 ;? was S", "was S")]
    [InlineData(" movlw 5 ; five ;? was S", "was S")]
    [InlineData(" movlw 5 ; why; not", null)]
    [InlineData(" dt \";?\"", null)]
    [InlineData(" dt \";?\" ;? quote", "quote")]
    [InlineData(" nop ;?", "")]
    public void Mark_is_found_in_comments_only(string line, string? words) =>
        Assert.Equal(words, DoubtMark.WordsOf(line));

    [Theory]
    [InlineData(" movlw 5")]
    [InlineData(" movlw 5 ; five")]
    [InlineData("; alone")]
    public void Mark_comes_off_again_as_it_was_put_on(string line)
    {
        string marked = DoubtMark.Add(line, "was S");
        Assert.Equal("was S", DoubtMark.WordsOf(marked));
        Assert.Equal(line, DoubtMark.Remove(marked));
    }

    [Theory]
    [InlineData("was 1O", "was 1O", "", "")]
    [InlineData("was 1O (page 3, line 12)", "was 1O", "", "page 3, line 12")]
    [InlineData(
        "unclear print [ movlw 0x33] [ movlw 0x88] (page 3, lines 12 and 13)",
        "unclear print",
        " movlw 0x33| movlw 0x88",
        "page 3, lines 12 and 13"
    )]
    [InlineData("or the rest of the comment above? [;]", "or the rest of the comment above?", ";", "")]
    [InlineData("a table [of two] halves", "a table [of two] halves", "", "")]
    [InlineData("which value (see below)", "which value (see below)", "", "")]
    [InlineData("(page 3, line 12)", "", "", "page 3, line 12")]
    [InlineData("", "", "", "")]
    public void Words_readings_and_place_of_a_doubt_are_distinguished(
        string text,
        string words,
        string readings,
        string place
    )
    {
        Doubt doubt = Doubt.Parse(text);
        Assert.Equal((words, readings, place), (doubt.Words, string.Join('|', doubt.Alternatives), doubt.Place));
        Assert.Equal(text, doubt.ToString());
    }

    [Theory]
    [InlineData("was S (page 3, line 12)", 3, 12)]
    [InlineData("was S (page 3, lines 12 and 13 and page 4, line 2)", 3, 12)]
    [InlineData("was S (lines 4 to 6)", 0, 4)]
    [InlineData("was S (page 3)", 3, 0)]
    public void Place_of_a_doubt_can_be_gone_to(string text, int page, int line) =>
        Assert.Equal(new PrintedPlace(page, line), Doubt.Parse(text).FirstPlace);

    [Fact]
    public void Doubt_without_a_place_has_none_to_go_to() => Assert.Null(Doubt.Parse("was 1O").FirstPlace);

    [Theory]
    [InlineData(" dt \"a]b\"")]
    [InlineData(" dt \";?\"")]
    [InlineData(" nop\n nop")]
    [InlineData("  ")]
    public void Reading_that_could_not_be_found_again_is_not_put_into_a_mark(string reading) =>
        Assert.Equal("unclear", (new Doubt("unclear") { Alternatives = [reading] }).ToString());

    [Theory]
    [InlineData("        movlw   0x38        ; speed", " movlw 0x33", "        movlw   0x33        ; speed")]
    [InlineData("start   movlw   0x38", "start bsf 3,5", "start   bsf 3,5")]
    [InlineData("start   movlw   0x38", " movlw 0x38", " movlw 0x38")]
    [InlineData("start:  movwf   count", "start: movf count,w", "start:  movf count,w")]
    [InlineData("        movf    count", " movf count,w", "        movf    count,w")]
    [InlineData("        movf    count,w     ; c", " movf count", "        movf    count     ; c")]
    [InlineData("        return              ; back", ";", "        ; return              ; back")]
    [InlineData("; return to start", " return", " return ; return to start")]
    [InlineData("; return", " return", " return")]
    public void Other_reading_takes_the_place_of_the_code_and_of_nothing_else(
        string line,
        string reading,
        string expected
    ) =>
        Assert.Equal(
            expected,
            DoubtReading.Take(DoubtMark.Add(line, new Doubt("unclear") { Alternatives = [reading] }), reading)
        );

    [Fact]
    public void Repairs_of_an_open_doubt_are_to_accept_it_or_to_take_another_reading()
    {
        const string line = "        movlw   0x38        ; speed ;? unclear print [ movlw 0x33] [;] (page 3, line 12)";
        Assert.Equal(
            [
                "Accept it unchanged: '        movlw   0x38        ; speed'",
                "Write 'movlw 0x33' instead: '        movlw   0x33        ; speed'",
                "Make it a comment: '        ; movlw   0x38        ; speed'",
            ],
            Resolved(line)
        );
    }

    [Fact]
    public void Code_that_was_taken_for_a_comment_can_be_made_code_again() =>
        Assert.Equal(
            ["Accept it unchanged: '; return to start'", "Make it the program's: 'return': ' return'"],
            [
                Resolved("; return to start ;? taken as the rest of the comment above")[0],
                Resolved("; return ;? taken as a remark")[1],
            ]
        );

    [Fact]
    public void Message_of_an_open_doubt_names_the_alternatives_and_the_page()
    {
        Problem problem = DoubtsOf(" movlw 1 ;? unclear [ movlw 7] (page 3, line 12)").Single().Problem;
        Assert.Contains(
            "unclear; other possible text: 'movlw 7' (page 3, line 12)",
            problem.Message,
            StringComparison.Ordinal
        );
    }

    private static string[] Resolved(string line) =>
        [.. DoubtsOf(line).Single().Fixes.Select(f => $"{f.Title}: '{EditMap.Apply(f.File.Text, f.Edits)[0].Text}'")];

    private static IEnumerable<(Problem Problem, ImmutableArray<Fix> Fixes)> DoubtsOf(string line)
    {
        var file = new SourceFile("a.asm", SourceText.From(line + "\n end\n"));
        ProgramAnalysis program = Assembler.Assemble(file);
        return ProgramProblems
            .All(program, file)
            .Where(p => p.Kind == Catalogue.OpenDoubt)
            .Select(p => (p, FixFinder.For(program, p)));
    }
}
