using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>A name without a definition: reported once, where the print shows that its definition was lost.</summary>
public class LostDefinitionTests
{
    private static readonly string[] Program =
    [
        "        list    p=16f84a",
        "        __config 0x3ff1",
        "COUNT   equ     0x0c",
        "        org     0",
        "begin   clrf    COUNT",
        "round   call    rest",
        "        incf    COUNT,f",
        "        movf    COUNT,w",
        "        movwf   6",
        "        call    rest",
        "        goto    round",
        "rest    movlw   0x30",
        "        movwf   0x0d",
        "        return",
        "over    clrf    6",
        "        call    rest",
        "        goto    over",
        "        nop",
        "        end",
    ];

    // The words of the program, by the instruction set (DS30292C, table 13-2).
    private static readonly int[] Words =
    [
        0x018C,
        0x2007,
        0x0A8C,
        0x080C,
        0x0086,
        0x2007,
        0x2801,
        0x3030,
        0x008D,
        0x0008,
        0x0186,
        0x2007,
        0x280A,
        0x0000,
    ];

    private const int Routine = 11;
    private const int Behind = 14;

    private static RecoveryEntry Undefined(RecoveryResult result)
    {
        RecoveryEntry entry = Assert.Single(result.AllEntries, static e => e.Code == Catalogue.UndefinedName.Code);
        Assert.Equal(Severity.Error, entry.Severity);
        return entry;
    }

    private static string Page(IEnumerable<string> lines) => string.Join('\n', lines);

    private static void IsAtGap(RecoveryResult result)
    {
        RecoveryEntry entry = Undefined(result);
        Assert.StartsWith("over", result.Source[entry.Line].Text, StringComparison.Ordinal);
        Assert.StartsWith("rest is not known: its definition", entry.Message, StringComparison.Ordinal);
        Assert.Equal(
            [true, true, true],
            entry.Related.Select(r => result.Source[r.Line].Text[r.Column..r.EndColumn] == "rest")
        );
        // The lines that use the name are as printed, and none of them has a mark.
        Assert.All(
            entry.Related,
            r => Assert.DoesNotContain(";?", result.Source[r.Line].Text, StringComparison.Ordinal)
        );
        Assert.Equal([entry.Line], PrintedPages.DoubtsOf(result).Select(static e => e.Line).Distinct());
    }

    [Fact]
    public void It_is_reported_at_the_gap_in_the_numbers_in_front_of_the_lines()
    {
        IEnumerable<string> numbered = Program.Select(static (l, i) => $"{i + 1, 3}  {l}");
        IsAtGap(PrintedPages.Recover(Page(numbered.Where(static (_, i) => i is < Routine or >= Behind))));
        IsAtGap(PrintedPages.Recover(Page(numbered.Take(Routine)), Page(numbered.Skip(Behind))));
    }

    [Fact]
    public void It_is_reported_at_the_page_that_is_missing()
    {
        IsAtGap(
            PrintedPages.Recover(
                Page([.. Program.Take(6), "|- 11 -"]),
                Page([.. Program.Skip(6).Take(Routine - 6), "|- 12 -"]),
                Page([.. Program.Skip(Behind).Take(3), "|- 14 -"]),
                Page([.. Program.Skip(Behind + 3), "|- 15 -"])
            )
        );
    }

    [Fact]
    public void It_is_reported_at_the_gap_that_holds_the_address_printed_beside_the_lines_with_the_name()
    {
        string[] rows = WithWords();
        RecoveryResult result = PrintedPages.Recover(Page(rows.Where(static (_, i) => i is < Routine or >= Behind)));
        IsAtGap(result);
        Assert.Contains("0x0007", Undefined(result).Message, StringComparison.Ordinal);
        // Of two gaps the one with the address.
        result = PrintedPages.Recover(
            Page(rows.Where(static (_, i) => i is not (7 or 8) and (< Routine or >= Behind)))
        );
        RecoveryEntry entry = Undefined(result);
        Assert.StartsWith("over", result.Source[entry.Line].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void It_is_reported_at_its_first_use_where_nothing_shows_the_place()
    {
        RecoveryResult result = PrintedPages.Recover(Page(Program.Where(static (_, i) => i is < Routine or >= Behind)));
        RecoveryEntry entry = Undefined(result);
        Assert.StartsWith("round", result.Source[entry.Line].Text, StringComparison.Ordinal);
        Assert.Equal(2, entry.Related.Length);
        Assert.Contains("used 3 times", entry.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(";?", result.Source.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void It_is_reported_at_its_first_use_where_several_gaps_may_hold_it()
    {
        string[] numbered = [.. Program.Select(static (l, i) => $"{i + 1, 3}  {l}")];
        RecoveryResult result = PrintedPages.Recover(
            Page(numbered.Where(static (_, i) => i is not (7 or 8) and (< Routine or >= Behind)))
        );
        Assert.StartsWith("round", result.Source[Undefined(result).Line].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("rest", true)]
    [InlineData("rest:", true)]
    [InlineData("rest    movlw   0x30", true)]
    [InlineData("rest    equ     7", true)]
    [InlineData("rest waits until the lamp is out", false)]
    [InlineData("the rest", false)]
    [InlineData("restless", false)]
    public void It_is_reported_where_a_row_with_the_name_in_the_place_of_a_label_was_left_out(string row, bool isLabel)
    {
        PrintedDocument document = PrintedPages.Of(Page(Program.Where(static (_, i) => i is < Routine or >= Behind)));
        RecoveryResult result = DocumentRecovery.Run(document);
        PrintedLine above = document.Pages[0].Lines[Routine - 1];
        (result, HashSet<RecoveryEntry> placed) = LostDefinitions.Place(
            result,
            [],
            [(above with { Text = row }, row)],
            static page => page
        );
        Assert.Equal(isLabel ? 1 : 0, placed.Count);
        Assert.StartsWith(
            isLabel ? "over" : "round",
            result.Source[Undefined(result).Line].Text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Name_of_a_file_that_is_missing_is_reported_once_too()
    {
        RecoveryResult result = PrintedPages.Recover(
            Page(
                Program
                    .Where(static (_, i) => i is < Routine or >= Behind)
                    .Select(static l => l.Replace("__config 0x3ff1", "include \"rests.inc\"", StringComparison.Ordinal))
            )
        );
        RecoveryEntry entry = Assert.Single(result.Entries, static e => e.Code == Catalogue.NameOfMissingFile.Code);
        Assert.Equal(2, entry.Related.Length);
    }

    [Fact]
    public void Name_of_a_paste_that_is_near_to_another_one_is_looked_at_on_each_line()
    {
        string[] lines =
        [
            .. Program.Select(static l => l.Replace("call    rest", "call    rests", StringComparison.Ordinal)),
        ];
        RecoveryResult result = PasteRecovery.Run(SourceText.From(Page(lines)));
        int[] uses = [5, 9, 15];
        Assert.All(
            uses,
            line => Assert.Contains(result.Entries, e => e.Line == line && e.Severity != Severity.Information)
        );
    }

    private static string[] WithWords()
    {
        int address = 0;
        return
        [
            .. Program.Select(
                (l, i) => i is >= 4 and < 18 ? $"{address:X4}  {Words[address++]:X4}   {l}" : $"             {l}"
            ),
        ];
    }
}
