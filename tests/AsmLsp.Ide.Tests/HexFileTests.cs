using AsmLsp.Ide.HexFiles;
using AsmLsp.Ide.Reading;

namespace AsmLsp.Ide.Tests;

/// <summary>HEX files: what their records hold. The records are worked out after Intel's specification of 1988.</summary>
public sealed class HexFileTests
{
    // goto 1; movlw 5; goto 1; configuration 0x3FF1; EEPROM 3.
    private const string Kit =
        ":020000040000FA\n:06000000012805300128" + "73\n:02400E00F13F80\n:024200000300B9\n:00000001FF\n";

    [Theory]
    [InlineData(":06000000012805{|}30", "`0x0001`: `movlw 0x05` (`0x3005`)")]
    [InlineData(":0600{|}00000128", "word `0x0000`")]
    [InlineData(":02400E00F1{|}3F", "Configuration (`0x2007`): `0x3FF1`")]
    [InlineData(":0242000003{|}00", "EEPROM byte 0 (`0x2100`): `0x03`, 3")]
    [InlineData(":000000{|}01FF", "the end of the file")]
    public void A_hover_says_what_a_place_of_a_record_holds(string marked, string words) =>
        Check.HexSays(
            Kit.Replace(marked.Replace("{|}", "", StringComparison.Ordinal), marked, StringComparison.Ordinal),
            words
        );

    [Fact]
    public void The_outline_has_the_areas() =>
        Assert.Equal(
            ["Program 3 words", "Configuration", "EEPROM"],
            HexOutline
                .Of(Check.Hex(Kit).File)
                .Select(area => area.Name + (area.Name == "Program" ? " " + area.Detail : ""))
        );

    [Fact]
    public void A_record_whose_checksum_is_wrong_is_a_problem_of_its_line()
    {
        HexFile file = Check.Hex(Kit.Replace("73\n", "74\n", StringComparison.Ordinal)).File;
        HexProblem problem = Assert.Single(file.Problems, problem => problem.Line == 1);
        Assert.StartsWith("The checksum of the record at word 0x0000", problem.Message, StringComparison.Ordinal);
        Assert.Empty(Check.Hex(Kit).File.Problems);
    }

    [Fact]
    public void Tokens_add_up_to_the_record()
    {
        HexFile file = Check.Hex(Kit).File;
        ClassifiedToken[] tokens = [.. HexTokens.Of(file, 1, 1)];
        Assert.Equal(
            file.Text[1].Text,
            string.Concat(
                tokens.Select(token => file.Text[1].Text.Substring(token.Columns.Start, token.Columns.Length))
            )
        );
        Assert.Contains(tokens, token => token.Class == TokenClass.Instruction);
    }
}
