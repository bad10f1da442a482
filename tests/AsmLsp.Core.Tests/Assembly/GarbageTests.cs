using System.Diagnostics;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Texts put together at random from pieces of the language: no fault of the program itself, the same answer twice, soon.</summary>
public class GarbageTests
{
    private static readonly string[] Pieces =
    [
        " ",
        " ",
        " ",
        "\t",
        ",",
        ",",
        ":",
        ";",
        "(",
        ")",
        "$",
        "'",
        "\"",
        "\\",
        "#",
        "#v(",
        ".",
        "=",
        "==",
        "<",
        "<<",
        "+",
        "-",
        "*",
        "/",
        "%",
        "&",
        "|",
        "^",
        "!",
        "~",
        "++",
        "+=",
        "0",
        "1",
        "5",
        "20",
        "0x1F",
        "1Fh",
        "b'101'",
        "d'10'",
        ".10",
        "0b1",
        "FF",
        "'A'",
        "\"AB\"",
        "99999999999",
        "x",
        "y",
        "loop",
        "count",
        "w",
        "f",
        "STATUS",
        "é",
        "\f",
        "\u001a",
        "\0",
        "·",
        " movlw ",
        " movwf ",
        " goto ",
        " nop",
        " bsf ",
        " tris ",
        " clrw",
        " skpz",
        " lcall ",
        " equ ",
        " set ",
        " org ",
        " dw ",
        " dt ",
        " db ",
        " da ",
        " de ",
        " res ",
        " fill ",
        " if ",
        " else",
        " endif",
        " elseif ",
        " while ",
        " endw",
        " macro ",
        " endm",
        " exitm",
        " local ",
        " cblock ",
        " endc",
        "#define ",
        "#undefine ",
        " ifdef ",
        " ifndef ",
        " include ",
        " list p=16f84a",
        " list r=dec",
        " radix ",
        " __config ",
        " __idlocs ",
        " banksel ",
        " pagesel ",
        " code ",
        " udata ",
        " udata_ovr ",
        " end",
        " constant ",
        " variable ",
        " global ",
        " extern ",
        " error ",
        " messg ",
        " high ",
        " low ",
        " defined(",
        "x macro y",
        " x ",
        "x equ ",
        "y set ",
        " include a",
        "m macro a,b",
        " m 1,2",
    ];

    private static readonly Gen<string> Programs = Gen.Int[0, Pieces.Length - 1]
        .Select(i => Pieces[i])
        .Array[0, 6]
        .Select(p => string.Concat(p))
        .Array[1, 40]
        .Select(lines => string.Join('\n', lines));

    [Fact]
    public void Random_lines_never_break_the_assembler_and_always_give_the_same_answer() =>
        Programs.Draw(
            text =>
            {
                var watch = Stopwatch.StartNew();
                ProgramAnalysis first = Check.Assemble(text, ("a", "z equ 1\n nop\n"));
                ProgramAnalysis second = Check.Assemble(text, ("a", "z equ 1\n nop\n"));
                Assert.True(watch.Elapsed < TimeSpan.FromMinutes(3), $"It took {watch.Elapsed}.");
                Assert.Equal(Check.Words(first), Check.Words(second));
                Assert.Equal(
                    first.Problems.Select(p => $"{p.Place} {p.Place.Columns} {p.Message}"),
                    second.Problems.Select(p => $"{p.Place} {p.Place.Columns} {p.Message}")
                );
                foreach (var problem in first.Problems)
                {
                    SourceText file = problem.Place.File.Text;
                    Assert.InRange(problem.Place.Line, 0, file.LineCount - 1);
                    Assert.InRange(problem.Place.Columns.Start, 0, file[problem.Place.Line].Text.Length);
                    Assert.InRange(
                        problem.Place.Columns.End,
                        problem.Place.Columns.Start,
                        file[problem.Place.Line].Text.Length
                    );
                }
            },
            iter: 3000
        );

    // A word that depends on a name without a value must never are in a program without errors.
    [Fact]
    public void A_program_without_errors_has_a_value_for_every_name_that_it_uses() =>
        Programs.Draw(
            text =>
            {
                ProgramAnalysis program = Check.Assemble(text, ("a", "z equ 1\n nop\n"));
                if (program.HasErrors)
                    return;
                foreach (Symbol symbol in program.Symbols)
                    if (
                        symbol.Kind is SymbolKind.Label or SymbolKind.Constant or SymbolKind.BlockMember
                        && symbol.IsReferenced
                    )
                        Assert.True(symbol.IsKnown, symbol.Name);
            },
            iter: 2000
        );
}
