using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Files that a program includes and that its document prints by themselves.</summary>
public class PrintedFileTests
{
    private const string Words = "0:3007 1:0086 2:0A8C 3:2801";

    private const string File = """
        LAMP    equ     6
        LIT     equ     0x0c
        BRIGHT  equ     7
        """;

    private const string Program = """
                list    p=16f84a
                include "board.inc"
                __config 0x3ff1
                org     0
                movlw   BRIGHT
        again   movwf   LAMP
                incf    LIT,f
                goto    again
                end
        """;

    private const string Other = """
                list    p=16f628a
                include "board.inc"
                org     0
        first   bsf     LAMP,0
                clrf    LIT
                nop
                goto    first
                end
        """;

    private const string Prose = """
        |Every program of this chapter needs the names of the board, and the next
        |one does nothing but count how often the lamp was lit since it started.
        """;

    private static PrintedFile Only(RecoveryResult result)
    {
        PrintedFile file = Assert.Single(result.Files);
        Assert.Equal("board.inc", file.Name);
        return file;
    }

    private static string Text(PrintedFile file) => file.File.Text.ToString().TrimEnd();

    [Theory]
    [InlineData("|Listing 1: board.inc", "|Listing 2: lamp.asm")]
    [InlineData("|board.inc", "|lamp.asm")]
    [InlineData("|First the names of the board, which go into the file BOARD.INC:", "|Now the program.")]
    [InlineData("; board.inc - the names of the board", "; lamp.asm")]
    [InlineData(";*** File name: BOARD.INC ***", "; the program")]
    public void File_that_a_row_above_it_names_is_taken_whether_it_is_above_the_program_or_below(
        string head,
        string next
    )
    {
        foreach (
            string page in (string[])
                [$"{head}\n{File}\n{Prose}\n{next}\n{Program}", $"{next}\n{Program}\n{Prose}\n{head}\n{File}"]
        )
        {
            RecoveryResult result = PrintedPages.Recover(page);
            Assert.Equal(Words, PrintedPages.Words(result));
            Assert.Equal(File.Replace("\r", "", StringComparison.Ordinal), string.Join('\n', Code(Only(result))));
            Assert.DoesNotContain("BRIGHT  equ", PrintedPages.Source(result), StringComparison.Ordinal);
            Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
            Assert.Contains(
                result.Entries,
                static e =>
                    e is { Code: DocumentCodes.PrintedFile, Page: 1 }
                    && e.Message.Contains("page 1", StringComparison.Ordinal)
            );
        }
    }

    private static IEnumerable<string> Code(PrintedFile file) =>
        Text(file).Split('\n').Where(static l => l.Length > 0 && l[0] != ';');

    [Fact]
    public void Programs_of_one_document_share_the_file_and_each_number_gives_one_of_them()
    {
        string[] pages = [$"|board.inc\n{File}", $"{Prose}\n{Program}", $"{Prose}\n{Other}"];
        Assert.Equal(
            ["board.inc", null, null],
            DocumentListings.Find(PrintedPages.Of(pages)).Select(static l => l.FileName)
        );
        Assert.Contains(
            PrintedPages.Recover(pages).Entries,
            static e => e is { Code: DocumentCodes.SeveralListings, Severity: Severity.Error }
        );
        foreach (int number in (int[])[2, 3])
        {
            RecoveryResult result = PrintedPages.Recover(new DocumentRecoveryOptions { Listing = number }, pages);
            Assert.Equal(File, string.Join('\n', Code(Only(result))));
            Assert.False(result.Program.HasErrors);
        }

        RecoveryResult byPage = PrintedPages.Recover(new DocumentRecoveryOptions { Pages = [2] }, pages);
        Assert.Equal(Words, PrintedPages.Words(byPage));
        Assert.Equal("page 1", Only(byPage).Pages);
    }

    [Fact]
    public void Rows_that_define_what_is_missing_are_taken_with_a_doubt_where_no_row_names_them()
    {
        RecoveryResult result = PrintedPages.Recover($"{Program}\n{Prose}\nLIGHTS  equ     5\n{File}\n{Prose}");
        Assert.Equal(Words, PrintedPages.Words(result));
        Only(result);
        RecoveryEntry entry = Assert.Single(PrintedPages.DoubtsOf(result));
        Assert.Equal(DocumentCodes.PrintedFile, entry.Code);
        Assert.Contains("include", result.Source[entry.Line].Text, StringComparison.Ordinal);
        Assert.Contains(";?", result.Source[entry.Line].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Doubts_of_the_file_are_its_own_and_its_gutter_is_taken_off()
    {
        string file = """
            1: LAMP    equ     6
            2: LIT     equ     0x0c
            3:
            4: BRIGHT  equ     7
            7: DARK    equ     LAMPS
            8: FULL    equ     9
            9: HALF    equ     4
            10: LOW1    equ     2
            11: LOW2    equ     1
            """;
        RecoveryResult result = PrintedPages.Recover($"|board.inc\n{file}\n{Prose}\n|lamp.asm\n{Program}");
        Assert.Equal(Words, PrintedPages.Words(result));
        PrintedFile printed = Only(result);
        Assert.DoesNotContain("4:", Text(printed), StringComparison.Ordinal);
        Assert.Contains(printed.Result.Entries, static e => e.Code == DocumentCodes.MissingLines);
        // What is wrong with it shows once, in the file.
        RecoveryEntry undefined = Assert.Single(result.AllEntries, static e => e.Code == Catalogue.UndefinedName.Code);
        Assert.Contains(undefined, printed.Result.Entries);
        Assert.Contains("LAMPS", printed.File.Text[undefined.Line].Text, StringComparison.Ordinal);
        Assert.False(result.IsClean);
    }

    [Fact]
    public void Names_and_macros_of_the_program_are_no_faults_of_the_file()
    {
        string file = """
            SHOW    macro   value
                    movlw   value
                    movwf   PORT
                    endm
            WIPE    macro
                    clrf    PORT
                    PULSE
                    endm
            """;
        string program = """
                    list    p=16f84a
            PORT    equ     6
            PULSE   macro
                    nop
                    endm
                    include "board.inc"
                    __config 0x3ff1
                    org     0
                    SHOW    5
                    WIPE
                    goto    $
                    end
            """;
        RecoveryResult result = PrintedPages.Recover($"|lamp.asm\n{program}\n{Prose}\n|board.inc\n{file}");
        Assert.Equal("0:3005 1:0086 2:0186 3:0000 4:2804", PrintedPages.Words(result));
        Only(result);
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    [Fact]
    public void File_that_includes_another_printed_file_brings_it_along()
    {
        string file = File.Replace("BRIGHT  equ     7", "        include \"levels.inc\"", StringComparison.Ordinal);
        RecoveryResult result = PrintedPages.Recover(
            $"|Listing 3: levels.inc\nBRIGHT  equ     7\nDIM     equ     3\n{Prose}\n|Listing 2: board.inc\n{file}\n{Prose}\n|Listing 1: lamp.asm\n{Program}"
        );
        Assert.Equal(Words, PrintedPages.Words(result));
        Assert.Equal(
            ["board.inc", "levels.inc"],
            result.Files.Select(static f => f.Name).Order(StringComparer.Ordinal)
        );
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    [Fact]
    public void File_that_uses_names_of_another_printed_file_lacks_nothing()
    {
        string code = "WAIT    movwf   LIT\nROUND   decfsz  LIT,f\n        goto    ROUND\n        return";
        string program = Program
            .Replace("incf    LIT,f", "call    WAIT", StringComparison.Ordinal)
            .Replace("        end", "        include \"wait.inc\"\n        end", StringComparison.Ordinal);
        RecoveryResult result = PrintedPages.Recover(
            $"|lamp.asm\n{program}\n{Prose}\n|board.inc\n{File}\n{Prose}\n|wait.inc\n{code}\n{Prose}"
        );
        Assert.Equal(2, result.Files.Length);
        Assert.Equal(8, result.Program.Image.ProgramWords);
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    [Fact]
    public void File_that_continues_on_a_later_page_under_its_name_is_one_file()
    {
        string[] lines = File.Split('\n');
        RecoveryResult result = PrintedPages.Recover(
            $"|board.inc\n{lines[0]}\n{lines[1]}",
            $"{Prose}\n{Prose}\n{Prose}\n{Prose}\n{Prose}\n|board.inc (continued)\n{lines[2]}\n{Prose}\n|lamp.asm\n{Program}"
        );
        Assert.Equal(Words, PrintedPages.Words(result));
        Assert.Equal(File, string.Join('\n', Code(Only(result))));
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    [Fact]
    public void Row_at_the_top_of_a_page_names_the_file_below_it_also_where_it_is_a_page_header()
    {
        RecoveryResult result = PrintedPages.Recover($"|board.inc   1\n{File}", $"|lamp.asm   2\n{Program}");
        Assert.Equal(Words, PrintedPages.Words(result));
        Only(result);
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    [Fact]
    public void Heading_between_two_listings_with_line_numbers_names_the_file()
    {
        string numbered = string.Join('\n', Program.Split('\n').Select(static (l, i) => $"{i + 1, 3}  {l}")),
            file = string.Join('\n', File.Split('\n').Select(static (l, i) => $"{i + 1, 3}  {l}"));
        RecoveryResult result = PrintedPages.Recover(
            $"|Listing A-1. The lamp\n{numbered}\n{Prose}\n|Listing A-2. The file BOARD.INC\n{file}\n{Prose}"
        );
        Assert.Equal(Words, PrintedPages.Words(result));
        Only(result);
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    [Fact]
    public void Files_that_include_each_other_do_not_go_round_forever()
    {
        RecoveryResult result = PrintedPages.Recover(
            $"|board.inc\n{File}\n        include \"back.inc\"\n{Prose}\n|back.inc\nDIM     equ     3\n        include \"board.inc\"\n{Prose}\n|lamp.asm\n{Program}"
        );
        Assert.True(result.Program.HasErrors);
        Assert.False(result.IsClean);
    }

    [Theory]
    [InlineData("../board.inc")]
    [InlineData(@"c:\work\BOARD.INC")]
    [InlineData("lib/board.inc")]
    public void Folder_of_another_disk_is_no_part_of_the_name(string written)
    {
        RecoveryResult result = PrintedPages.Recover(
            $"|board.inc\n{File}\n{Prose}\n|lamp.asm\n{Program.Replace("board.inc", written, StringComparison.Ordinal)}"
        );
        Assert.Equal(Words, PrintedPages.Words(result));
        Assert.DoesNotContain(result.Files, static f => f.Name.AsSpan().ContainsAny('/', '\\', ':'));
    }

    [Theory]
    [InlineData(".profile")]
    [InlineData("board.bat")]
    [InlineData("con.inc")]
    public void File_of_another_kind_than_a_source_is_never_taken(string name)
    {
        RecoveryResult result = PrintedPages.Recover(
            $"|{name}\n{File}\n{Prose}\n|lamp.asm\n{Program.Replace("board.inc", name, StringComparison.Ordinal)}"
        );
        Assert.Empty(result.Files);
        Assert.False(result.IsClean);
    }

    [Theory]
    [InlineData("|The names of the pins are in board.inc, and the chip is set below.")]
    [InlineData("|What you need is board.inc.")]
    public void Sentence_that_mentions_the_file_above_the_program_makes_no_file_of_it(string sentence)
    {
        RecoveryResult result = PrintedPages.Recover($"{sentence}\n{Program}");
        Assert.Empty(result.Files);
        Assert.Contains(result.Entries, static e => e.Code == Catalogue.IncludeMissing.Code);
        Assert.EndsWith("end", PrintedPages.Source(result), StringComparison.Ordinal);
    }

    [Fact]
    public void File_that_is_there_is_read_and_a_print_of_it_with_other_lines_is_a_doubt()
    {
        string pages = $"|board.inc\n{File}\n{Prose}\n|lamp.asm\n{Program}";
        RecoveryResult same = Recover(pages, File + "    ; of the new board");
        Assert.Empty(same.Files);
        Assert.Equal(Words, PrintedPages.Words(same));
        Assert.True(same.IsClean, string.Join('\n', same.AllEntries));

        RecoveryResult other = Recover(pages, File.Replace("7", "8", StringComparison.Ordinal));
        Assert.Empty(other.Files);
        RecoveryEntry entry = Assert.Single(PrintedPages.DoubtsOf(other));
        Assert.Equal(DocumentCodes.PrintedFile, entry.Code);
        Assert.Contains("'BRIGHT equ 7'", entry.Message, StringComparison.Ordinal);
        Assert.Contains("include", other.Source[entry.Line].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void File_that_is_printed_twice_with_other_lines_is_a_doubt_on_the_line_that_includes_it()
    {
        RecoveryResult result = PrintedPages.Recover(
            $"|board.inc\n{File}\n{Prose}\n|lamp.asm\n{Program}",
            $"{Prose}\n|board.inc\n{File.Replace("7", "9", StringComparison.Ordinal)}\n{Prose}"
        );
        Assert.Equal(Words, PrintedPages.Words(result));
        Only(result);
        RecoveryEntry entry = Assert.Single(PrintedPages.DoubtsOf(result));
        Assert.Equal(DocumentCodes.PrintedFile, entry.Code);
        Assert.Contains("page 2", entry.Message, StringComparison.Ordinal);
        Assert.Contains("include", result.Source[entry.Line].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Paste_with_the_file_below_the_program_gives_both_with_the_lines_of_the_paste()
    {
        RecoveryResult result = PasteRecovery.Run(
            SourceText.From($"{Program}\n\nThe names of the board:\n\n; board.inc\n{File}\n")
        );
        Assert.Equal(Words, PrintedPages.Words(result));
        PrintedFile file = Only(result);
        Assert.Equal("", file.Pages);
        Assert.Equal(14, file.Result.Origins[1].Places[0].Line);
        Assert.True(result.IsClean, string.Join('\n', result.AllEntries));
    }

    private static RecoveryResult Recover(string page, string there) =>
        PrintedPages.Recover(
            new DocumentRecoveryOptions { Text = new RecoveryOptions { Includes = new OneFile(there) } },
            page
        );

    private sealed class OneFile(string text) : IIncludeResolver
    {
        private readonly SourceFile file = new("board.inc", SourceText.From(text));

        public SourceFile? Resolve(string name, SourceFile from) => name == "board.inc" ? file : null;
    }
}
