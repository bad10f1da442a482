using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Tests.Fixes;
using AsmLsp.Core.Tests.Recovery;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Layout;

public class FormatterTests
{
    [Theory]
    [InlineData("loop movlw 5\n movwf 20 ; keep\n end", "loop    movlw 5\n        movwf 20 ; keep\n        end")]
    [InlineData(
        "        movlw   5\n  movwf 20\n        nop\n        addlw   3\n        end",
        "        movlw   5\n        movwf   20\n        nop\n        addlw   3\n        end"
    )]
    [InlineData("  loop\n goto loop\n end", "loop\n        goto loop\n        end")]
    [InlineData("averylongname movlw 5\n        end", "averylongname movlw 5\n        end")]
    public void Parts_of_a_line_go_to_their_columns(string source, string expected) =>
        Assert.Equal(expected, Format(source));

    [Fact]
    public void Columns_of_the_author_are_kept() =>
        Assert.Equal(
            "    movlw 1\n    movlw 2\n    movlw 3\nx   movlw 4\n    end",
            Format("    movlw 1\n    movlw 2\n  movlw 3\nx movlw 4\n    end")
        );

    [Fact]
    public void Comments_under_each_other_stay_so() =>
        Assert.Equal(
            "        movlw 5       ; one\n        movwf 20      ; two\n        end",
            Format("        movlw 5       ; one\n     movwf 20         ; two\n        end")
        );

    [Fact]
    public void Block_of_comments_moves_as_one_where_code_needs_room() =>
        Assert.Equal(
            "longlabel addlw 5 ; one\n        nop       ; two\n        end",
            Format("longlabel addlw 5 ; one\n  nop             ; two\n        end")
        );

    [Fact]
    public void Comments_of_lines_that_lost_their_blanks_come_back_under_each_other() =>
        Assert.Equal(
            "loop    movlw   5       ; one\n        movwf   20      ; two\n        end",
            Format("loop    movlw   5       ; one\nmovwf   20      ; two\nend")
        );

    [Fact]
    public void Tabs_are_kept_where_the_file_has_tabs() =>
        Assert.Equal(
            "\tmovlw\t5\n\tmovwf\t20\t; keep\nx\tnop\n\tend",
            Format("\tmovlw\t5\n  movwf\t20\t; keep\nx\tnop\n\tend")
        );

    [Theory]
    [InlineData(" dt \"a  b\",  5 ;  two  blanks\n end", "        dt \"a  b\",  5 ;  two  blanks\n        end")]
    [InlineData(" movlw ';' ; x\n end", "        movlw ';' ; x\n        end")]
    public void Texts_and_comments_are_not_touched(string source, string expected) =>
        Assert.Equal(expected, Format(source));

    [Theory]
    [InlineData("STATUS  equ 3\nx       equ     4\n        nop\n        end")]
    [InlineData("#define five 5\n        movlw five\n        end")]
    [InlineData("        cblock 20\na\n  b, c\n        endc\n        movwf a\n        end")]
    [InlineData("        if 1\n          nop\n        endif\n        end")]
    [InlineData("        nop\n        end\n  text after   the end")]
    [InlineData("        nop\r\n        end\r\n")]
    [InlineData("; all alone\n    ; and indented\n        nop\n        end")]
    public void What_is_in_place_gets_no_edit(string source)
    {
        ProgramAnalysis program = Assemble(source);
        Assert.Empty(Formatter.Format(program, program.Root));
    }

    [Fact]
    public void Only_the_lines_asked_for_are_touched()
    {
        ProgramAnalysis program = Assemble("movlw 1\nmovlw 2\nmovlw 3\n end");
        ImmutableArray<TextEdit> edits = Formatter.Format(program, program.Root, range: new LineRange(1, 1));
        Assert.Equal("movlw 1\n        movlw 2\nmovlw 3\n end", program.Root.Text.WithEdits(edits).ToString());
    }

    [Fact]
    public void Edits_cover_blanks_only()
    {
        ProgramAnalysis program = Assemble("loop movlw  5\n movwf 20   ; keep\n goto loop\n end");
        foreach (TextEdit edit in Formatter.Format(program, program.Root))
        {
            Assert.True(string.IsNullOrWhiteSpace(program.Root.Text.ToString(edit.Span)));
            Assert.True(string.IsNullOrWhiteSpace(edit.NewText));
        }
    }

    [Fact]
    public void Layout_keeps_the_words_and_repeated_changes_nothing() =>
        Gen.Select(PrintedProgram.Lines, PrintedProgram.Damage)
            .Draw(
                (lines, damage) =>
                {
                    ProgramAnalysis program = Assemble(string.Join("\n", damage.Do(lines)));
                    SourceText laid = program.Root.Text.WithEdits(Formatter.Format(program, program.Root));
                    ProgramAnalysis after = Assembler.Assemble(new SourceFile("test.asm", laid));
                    Assert.Equal(FixCheck.Words(program), FixCheck.Words(after));
                    Assert.Empty(Formatter.Format(after, after.Root));
                },
                iter: 100
            );

    [Fact]
    public void Layout_of_lines_without_their_blanks_is_the_printed_one() =>
        PrintedProgram.Lines.Draw(
            lines =>
            {
                ProgramAnalysis program = Assemble(string.Join("\n", lines.Select(l => l.TrimStart())));
                SourceText laid = program.Root.Text.WithEdits(Formatter.Format(program, program.Root));
                Assert.Equal(string.Join("\n", lines), laid.ToString());
            },
            iter: 60
        );

    [Fact]
    public void Tidy_repairs_and_lays_out()
    {
        ProgramAnalysis program = Assemble("loop movlw 5\nPage 3\ngoto loop\nend");
        FixAllResult result = Tidy.Run(program, program.Root);
        Assert.Equal("loop    movlw 5\n; Page 3\n        goto loop\n        end", result.NewText.ToString());
        Assert.Contains(result.Changes, c => c.Kind == Catalogue.HeaderOrFooter && c.Line == 1);
    }

    private static ProgramAnalysis Assemble(string source) =>
        Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));

    private static string Format(string source)
    {
        ProgramAnalysis program = Assemble(source);
        return program.Root.Text.WithEdits(Formatter.Format(program, program.Root)).ToString();
    }
}
