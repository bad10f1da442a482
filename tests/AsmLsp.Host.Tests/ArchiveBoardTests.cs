using AsmLsp.Core.Hex;
using AsmLsp.Host.Archive;

namespace AsmLsp.Host.Tests;

/// <summary>Read-outs of programmed chips in an archive.</summary>
public sealed class ArchiveBoardTests : IDisposable
{
    private const string Paste = " list p=16f84a\n __config 0x3ff1\nstart movlw 10\n movwf 6\n goto start\n end\n";

    private readonly TempFolder temp = new();

    private string Folder => temp["kit"];

    public void Dispose() => temp.Dispose();

    [Fact]
    public void Read_out_of_the_build_is_filed_and_its_board_is_ticked()
    {
        Write(Paste);
        FilingOutcome outcome = Add("source.hex", 7, "Ada, at the bench");
        Assert.Null(outcome.Refusal);
        Assert.True(outcome.Row!.IsSame);
        Assert.Equal("board-07.hex", outcome.Row.File);
        Assert.Contains("7,board-07.hex,same,", Read("boards.csv"), StringComparison.Ordinal);
        Assert.Contains("\"Ada, at the bench\"", Read("boards.csv"), StringComparison.Ordinal);
        Assert.Contains("board-07.hex", Read("README.txt"), StringComparison.Ordinal);
        ArchiveVerdict verdict = ArchiveCheck.Of(Folder);
        Assert.Empty(verdict.Faults);
        Assert.Equal([KeyValuePair.Create(7, true)], verdict.Boards);
    }

    [Fact]
    public void Read_out_that_differs_is_filed_too_and_says_what_it_is()
    {
        Write(Paste);
        FilingOutcome outcome = AddMemory(
            WordMemory.From(Enumerable.Range(0, 1024).Select(a => KeyValuePair.Create(a, (ushort)0x3FFF))),
            3
        );
        Assert.False(outcome.Row!.IsSame);
        Assert.StartsWith("Blank", outcome.Row.Verdict, StringComparison.Ordinal);
        ArchiveVerdict verdict = ArchiveCheck.Of(Folder);
        Assert.Empty(verdict.Faults);
        Assert.False(verdict.Boards[3]);
        // The chip is programmed again: both read-outs stay, and the last one counts.
        Assert.Equal("board-03-2.hex", Add("source.hex", 3).Row!.File);
        Assert.True(ArchiveCheck.Of(Folder).Boards[3]);
    }

    [Fact]
    public void Filed_read_out_that_was_changed_is_found_by_the_check()
    {
        Write(Paste);
        Add("source.hex", 1);
        File.WriteAllText(Path.Combine(Folder, "board-01.hex"), IntelHexWriter.Write(WordMemory.Empty));
        Assert.Contains(
            ArchiveCheck.Of(Folder).Faults,
            f => f.StartsWith("board-01.hex is not as it was", StringComparison.Ordinal)
        );
        // Renewing would take it for good: it is refused.
        Assert.Contains("board-01.hex", Write(Paste).Refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void Record_says_again_what_each_read_out_is_when_the_hex_changed()
    {
        Write(Paste);
        Add("source.hex", 1);
        string source = Path.Combine(Folder, "source.asm");
        File.WriteAllText(source, Read("source.asm").Replace("movlw 10", "movlw 11", StringComparison.Ordinal));
        ArchiveOutcome outcome = Write(Paste);
        Assert.Null(outcome.Refusal);
        Assert.Contains(outcome.Notes, n => n.Contains("boards.csv", StringComparison.Ordinal));
        ArchiveVerdict verdict = ArchiveCheck.Of(Folder);
        Assert.Empty(verdict.Faults);
        Assert.False(verdict.Boards[1]);
    }

    [Theory]
    [InlineData("=1+1")]
    [InlineData("<script>alert(1)</script>\n\"quoted\", and more")]
    [InlineData("'twice")]
    public void Text_of_a_person_is_text_in_the_record(string hostile)
    {
        Write(Paste);
        Add("source.hex", 1, hostile, hostile);
        Assert.DoesNotContain(",=", Read("boards.csv"), StringComparison.Ordinal);
        Assert.Empty(ArchiveCheck.Of(Folder).Faults);
        Assert.Null(Add("source.hex", 2, hostile).Refusal);
        Assert.Equal(2, ArchiveCheck.Of(Folder).Boards.Count);
    }

    [Fact]
    public void Nothing_is_filed_where_there_is_no_archive_or_no_read_out()
    {
        Assert.Contains(
            "no archive",
            BoardFiling.Add(temp["nowhere"], new FilingRequest("x.hex", 1)).Refusal,
            StringComparison.Ordinal
        );
        Write(Paste);
        Assert.NotNull(BoardFiling.Add(Folder, new FilingRequest(temp["missing.hex"], 1)).Refusal);
        Assert.False(File.Exists(Path.Combine(Folder, "boards.csv")));
    }

    private FilingOutcome Add(string name, int board, string who = "", string note = "") =>
        BoardFiling.Add(Folder, new FilingRequest(Path.Combine(Folder, name), board, who, note));

    private FilingOutcome AddMemory(WordMemory memory, int board)
    {
        string path = temp["readout.hex"];
        File.WriteAllText(path, IntelHexWriter.Write(memory));
        return BoardFiling.Add(Folder, new FilingRequest(path, board));
    }

    private string Read(string name) => File.ReadAllText(Path.Combine(Folder, name));

    private ArchiveOutcome Write(string paste) => ArchiveTests.Write(Folder, paste);
}
