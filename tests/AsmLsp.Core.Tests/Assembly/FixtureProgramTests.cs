using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Disassembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>
/// Whole programs in the manner of the years 1996 to 2012, in several languages and encodings, for many chips. The expected words were
/// worked out by tests/fixtures/check_words.py, which reads the sources with a reader of its own.
/// </summary>
public class FixtureProgramTests
{
    public static TheoryData<string> Programs => [.. FixturePrograms.Names];

    [Theory]
    [MemberData(nameof(Programs))]
    public void A_program_gives_the_words_that_another_reader_worked_out(string name)
    {
        ProgramAnalysis program = Assemble(name);
        Assert.True(
            !program.HasErrors,
            string.Join("\n", program.Problems.Select(p => $"{p.Place} {p.Severity} {p.Code}: {p.Message}"))
        );
        string expected = string.Join(
            "\n",
            File.ReadLines(Path.Combine(FixturePrograms.Folder, name + ".words")).Select(l => l.Split(';')[0].Trim())
        );
        Assert.NotEqual("", expected);
        Assert.Equal(expected, Listed(program));
    }

    // Good programs are quiet: what is left to say is said here, once.
    [Theory]
    [MemberData(nameof(Programs))]
    public void A_good_program_has_no_doubts(string name) =>
        Assert.Equal(
            [],
            Assemble(name)
                .Problems.Where(p => p.Severity != Severity.Information && p.Kind != Catalogue.NoConfiguration)
                .Select(p => $"{p.Place} {p.Message}")
        );

    [Theory]
    [MemberData(nameof(Programs))]
    public void A_program_taken_apart_and_built_again_gives_the_same_words(string name)
    {
        ProgramAnalysis program = Assemble(name);
        string source = Disassembler.Write(program.Image.Memory, program.Device!, name);
        ProgramAnalysis again = Assembler.Assemble(new SourceFile("again.asm", SourceText.From(source)));
        Assert.True(!again.HasErrors, source);
        Assert.Equal(Listed(program), Listed(again));
    }

    [Fact]
    public void There_are_programs_of_many_chips_and_encodings()
    {
        ProgramAnalysis[] all = [.. FixturePrograms.Names.Select(Assemble)];
        Assert.True(all.Length >= 25);
        Assert.True(all.Select(p => p.Device!.Name).Distinct().Count() >= 15);
        Assert.True(all.Select(p => p.Root.Text.Encoding.Name).Distinct().Count() >= 2);
        Assert.True(all.Select(p => p.Root.Text[0].Ending).Distinct().Count() == 3);
    }

    private static ProgramAnalysis Assemble(string name) => FixturePrograms.Assemble(name);

    private static string Listed(ProgramAnalysis program)
    {
        var text = new StringBuilder();
        foreach ((int address, ushort word, _) in program.Image.Words)
            text.Append(CultureInfo.InvariantCulture, $"{address:X4} {word:X4}\n");
        return text.ToString().TrimEnd();
    }
}
