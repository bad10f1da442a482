namespace AsmLsp.Host.Tests;

public sealed class WorkspaceFileTests
{
    [Fact]
    public void Every_entry_is_read()
    {
        (WorkspaceFile file, var problems) = WorkspaceFile.Read(
            """
            {
              // the board on the bench
              "root": "main.asm", "chip": "16F84A", "clock": "4 MHz", "include": ["inc", "lib"], "output": "out/main.hex",
              "buildOnSave": false, "tidyOnSave": true,
              "board": { "marking": "PIC16F84A-04/P", "crystal": "4 MHz" },
            }
            """
        );
        Assert.Empty(problems);
        Assert.Equal("main.asm", file.Root);
        Assert.Equal("16F84A", file.Chip);
        Assert.Equal("4 MHz", file.Clock);
        Assert.Equal<IEnumerable<string>>(["inc", "lib"], file.Include);
        Assert.Equal("out/main.hex", file.Output);
        Assert.Equal((false, true), (file.BuildOnSave, file.TidyOnSave));
        Assert.Equal(new Board("PIC16F84A-04/P", "4 MHz"), file.Board);
    }

    [Fact]
    public void Null_and_empty_mean_not_set()
    {
        (WorkspaceFile file, var problems) = WorkspaceFile.Read(
            """{ "root": null, "chip": " ", "include": null, "board": null }"""
        );
        Assert.Empty(problems);
        Assert.Equal(WorkspaceFile.Empty, file with { Include = WorkspaceFile.Empty.Include });
    }

    [Fact]
    public void Wrong_type_is_reported_with_its_line_and_the_rest_counts()
    {
        (WorkspaceFile file, var problems) = WorkspaceFile.Read(
            "{\n  \"clock\": 4000000,\n  \"chip\": \"16F628A\",\n  \"include\": \"inc\",\n  \"board\": []\n}"
        );
        Assert.Equal("16F628A", file.Chip);
        Assert.Null(file.Clock);
        Assert.Equal([2, 4, 5], problems.Select(problem => problem.Line));
        Assert.Contains("clock should be a text in quotes", problems[0].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Codes_to_ignore_are_those_of_warnings_and_notes()
    {
        (WorkspaceFile file, var problems) = WorkspaceFile.Read(
            "{\n  \"ignore\": [\"wrong-bank\", \"undefined-name\", \"unused-code\"]\n}"
        );
        Assert.Equal(["wrong-bank", "unused-code"], file.Ignore.AsEnumerable());
        Assert.Equal(2, Assert.Single(problems).Line);
        Assert.Contains("'undefined-name'", problems[0].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Unknown_entry_is_reported() =>
        Assert.Contains(
            "devise",
            Assert.Single(WorkspaceFile.Read("{ \"devise\": \"16F84\" }").Problems).Message,
            StringComparison.Ordinal
        );

    [Theory]
    [InlineData("{\n\"root\": \n", 3)]
    [InlineData("[]", 1)]
    [InlineData("", 1)]
    public void Unreadable_file_is_reported_and_nothing_of_it_used(string text, int line)
    {
        (WorkspaceFile file, var problems) = WorkspaceFile.Read(text);
        Assert.Equal(WorkspaceFile.Empty, file);
        Assert.Equal(line, Assert.Single(problems).Line);
    }

    [Fact]
    public void Nearest_file_above_is_found_but_none_above_the_top_folder()
    {
        using var folder = new TempFolder();
        string outer = folder.Write("relist.json", "{}");
        Directory.CreateDirectory(folder["ws/src"]);
        Assert.Equal(outer, WorkspaceFile.FindAbove(folder["ws/src"], null));
        Assert.Null(WorkspaceFile.FindAbove(folder["ws/src"], folder["ws"]));
        string inner = folder.Write("ws/relist.json", "{}");
        Assert.Equal(inner, WorkspaceFile.FindAbove(folder["ws/src"], folder["ws"]));
    }

    [Fact]
    public void Sources_defines_and_builds_are_read()
    {
        (WorkspaceFile file, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(
            """
            { "files": ["main.asm", "lcd.asm"], "define": ["LCD", "BAUD=9600"],
              "builds": [ { "name": "small", "define": ["SMALL"], "output": "small.hex", "chip": "16F628A" }, { "name": "large" } ] }
            """
        );
        Assert.Empty(problems);
        Assert.Equal(["main.asm", "lcd.asm"], file.Files.AsEnumerable());
        Assert.Equal(["LCD", "BAUD=9600"], file.Define.AsEnumerable());
        Assert.Equal(["small", "large"], file.Builds.Select(b => b.Name));
        Assert.Equal(("small.hex", "16F628A"), (file.Builds[0].Output, file.Builds[0].Chip));
        Assert.Equal(["SMALL"], file.Builds[0].Define.AsEnumerable());
    }

    [Theory]
    [InlineData("""{ "define": ["5=x"] }""", "'5=x' in define")]
    [InlineData("""{ "builds": {} }""", "builds should be a list")]
    [InlineData("""{ "builds": [ {} ] }""", "each entry of builds")]
    [InlineData("""{ "builds": [ { "name": "a" }, { "name": "A" } ] }""", "two builds are called A")]
    [InlineData("""{ "board": { "supply": "5 V" } }""", "board.supply is not an entry that is known")]
    public void A_mistake_in_an_entry_is_reported(string text, string message)
    {
        (_, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(text);
        Assert.Contains(message, Assert.Single(problems).Message, StringComparison.Ordinal);
    }
}
