using System.CommandLine;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Verbs;

namespace AsmLsp.Tests;

public sealed class CommandLineTests
{
    [Fact]
    public void Every_verb_is_in_the_list_once()
    {
        string[] written =
        [
            .. typeof(IVerb)
                .Assembly.GetTypes()
                .Where(type => type is { IsAbstract: false, IsInterface: false } && type.IsAssignableTo(typeof(IVerb)))
                .Select(type => type.Name)
                .Order(),
        ];
        Assert.Equal(written, CommandLine.Verbs.Select(verb => verb.GetType().Name).Order());
        Assert.Equal(CommandLine.Verbs.Count, CommandLine.Verbs.DistinctBy(verb => verb.Create().Name).Count());
    }

    [Theory]
    [InlineData("--help")]
    [InlineData("--version")]
    [InlineData("serve", "--help")]
    public async Task Asking_for_help_or_version_ends_with_0_and_writes_it_on_standard_output(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        string output = await relist.OutputAsync();
        Assert.Equal(0, (await relist.EndAsync()).Code);
        Assert.NotEqual("", output.Trim());
    }

    [Theory]
    [InlineData]
    [InlineData("unheard-of")]
    [InlineData("--unheard-of")]
    public async Task Command_line_that_makes_no_sense_ends_with_2_and_says_so_on_the_error_stream(
        params string[] arguments
    )
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        (int code, string errors) = await relist.EndAsync();
        Assert.Equal(2, code);
        Assert.NotEqual("", errors.Trim());
    }

    [Theory]
    [InlineData("chek", "Do you mean 'check'?")]
    [InlineData("biuld", "Do you mean 'build'?")]
    [InlineData("assemble", "Do you mean 'build'?")]
    [InlineData("disasm", "Do you mean 'disassemble'?")]
    [InlineData("devices", "Do you mean 'chips'?")]
    [InlineData("qwertz", "'relist --help' lists the commands.")]
    public void A_command_that_is_not_there_gets_one_sentence_with_the_nearest_one(string word, string said)
    {
        var error = new StringWriter();
        Assert.Equal(ExitCodes.Unusable, CommandLine.Run([word, "a.asm"], TextWriter.Null, error));
        Assert.Contains(said, error.ToString(), StringComparison.Ordinal);
        Assert.Single(error.ToString().TrimEnd().Split('\n'));
    }

    [Theory]
    [InlineData("'recover' has no option '--page'. Do you mean '--pages'?", "recover", "kit.pdf", "--page", "1")]
    [InlineData("'build' has no option '--chips'. Do you mean '--chip'?", "build", "a.asm", "--chips", "16F84A")]
    [InlineData("'build' has no option '--map'. Do you mean '--words'?", "build", "a.asm", "--map", "m.txt")]
    [InlineData("'check' has no option '--qwertz'. 'relist check --help'", "check", "a.asm", "--qwertz")]
    [InlineData("'check' needs FILE: ", "check")]
    [InlineData("'disassemble' needs --chip NAME: the chip that the file is for.", "disassemble", "a.hex")]
    [InlineData("'archive add' needs --board N: ", "archive", "add", "kit", "a.hex")]
    [InlineData("'archive' needs one more word: 'relist archive add'.", "archive")]
    [InlineData("'nothing.hex' is one argument too many for 'readout'.", "readout", "a.hex", "nothing.hex")]
    [InlineData("'many' is nothing that --boards takes: ", "card", "a.asm", "--boards", "many")]
    [InlineData("--clock needs a value: ", "explain", "a.asm", "--clock")]
    public void A_mistake_in_the_arguments_is_one_sentence_with_the_next_step(string said, params string[] arguments)
    {
        var error = new StringWriter();
        var output = new StringWriter();
        Assert.Equal(ExitCodes.Unusable, CommandLine.Run(arguments, output, error));
        Assert.StartsWith("relist: " + said, error.ToString(), StringComparison.Ordinal);
        Assert.Contains("--help' shows its options.", error.ToString(), StringComparison.Ordinal);
        Assert.Single(error.ToString().TrimEnd().Split('\n'));
        Assert.Equal("", output.ToString());
    }

    [Fact]
    public void Every_command_that_reads_a_program_takes_its_chip_folders_project_and_defines()
    {
        string[] wanted = ["--chip", "--include", "--project", "--define", "--json"];
        Command[] commands =
        [
            .. CommandLine
                .Verbs.Select(static v => v.Create())
                .Where(static c => c.Options.Any(static o => o.Name == "--project")),
        ];
        Assert.Equal(
            ["check", "tidy", "build", "explain", "compare", "card", "replace"],
            commands.Select(static c => c.Name)
        );
        Assert.All(commands, c => Assert.Empty(wanted.Except(c.Options.Select(static o => o.Name))));
    }

    [Fact]
    public void A_word_that_is_neither_a_file_nor_a_code_is_explained_as_such()
    {
        var error = new StringWriter();
        Assert.Equal(ExitCodes.Unusable, CommandLine.Run(["explain", "mising-page"], TextWriter.Null, error));
        Assert.Contains("neither a file nor the code of a problem", error.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_help_names_every_command_with_its_optional_arguments_in_brackets()
    {
        var output = new StringWriter();
        Assert.Equal(ExitCodes.Clean, CommandLine.Run(["--help"], output, TextWriter.Null));
        string text = output.ToString();
        Assert.All(
            CommandLine.Verbs,
            verb => Assert.Contains($"\n  {verb.Create().Name}", text, StringComparison.Ordinal)
        );
        Assert.Contains("  explain [FILE] [LINE[:COLUMN]]  ", text, StringComparison.Ordinal);
        Assert.Contains("  build [FILE...]  ", text, StringComparison.Ordinal);
        Assert.Contains("  chips [NAME]  ", text, StringComparison.Ordinal);
        Assert.All(text.Split('\n'), static line => Assert.InRange(line.Length, 0, 160));
    }

    [Theory]
    [InlineData("serve")]
    [InlineData("build")]
    public void Help_shows_the_options_of_a_command_and_nothing_that_is_not_there(string verb)
    {
        var output = new StringWriter();
        Assert.Equal(ExitCodes.Clean, CommandLine.Run(["help", verb], output, TextWriter.Null));
        Assert.DoesNotContain("additional arguments", output.ToString(), StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("kit.pdf", "relist recover")]
    [InlineData("kit.hex", "relist readout")]
    public void A_file_that_is_no_source_gets_one_sentence_with_the_next_command(string name, string next)
    {
        string path = Path.Combine(Directory.CreateTempSubdirectory("relist-kind-").FullName, name);
        File.WriteAllText(path, "%PDF-1.3\n");
        foreach (string verb in (string[])["check", "build", "tidy", "explain"])
        {
            var error = new StringWriter();
            Assert.Equal(ExitCodes.Unusable, CommandLine.Run([verb, path], TextWriter.Null, error));
            Assert.Contains(next, Assert.Single(error.ToString().TrimEnd().Split('\n')), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Every_verb_that_reads_a_program_takes_the_same_options()
    {
        foreach (string name in (string[])["check", "build", "tidy", "explain", "compare"])
        {
            string[] options =
            [
                .. CommandLine.Verbs.Single(v => v.Create().Name == name).Create().Options.Select(static o => o.Name),
            ];
            foreach (string option in (string[])["--chip", "--include", "--project", "--define", "--json"])
                Assert.Contains(option, options);
        }
    }

    [Fact]
    public async Task Version_is_that_of_the_build()
    {
        using RelistProcess relist = RelistProcess.Start("--version");
        Assert.Matches(@"^\d+\.\d+\.\d+$", (await relist.OutputAsync()).Trim());
        await relist.EndAsync();
    }

    [Fact]
    public void Every_code_of_a_report_has_a_page_that_explain_shows()
    {
        foreach (string code in Catalogue.All.Select(k => k.Code).Concat(DocumentCodes.All))
        {
            var output = new StringWriter();
            Assert.Equal(ExitCodes.Clean, CommandLine.Run(["explain", code], output, TextWriter.Null));
            Assert.StartsWith($"# {code}\n", output.ToString(), StringComparison.Ordinal);
        }

        Assert.Equal(
            ExitCodes.Unusable,
            CommandLine.Run(["explain", "no-such-code"], TextWriter.Null, TextWriter.Null)
        );
    }

    [Theory]
    [InlineData(" movlw 0x3c\n end\n", " MOVLW 3Ch ; sixty\n end\n", 0)]
    [InlineData(" movlw 0x3c\n end\n", " movlw 0x30\n end\n", 1)]
    [InlineData(" movlw 0x3c\n end\n", "Dear reader\n", 2)]
    public async Task Two_readings_end_with_0_where_they_are_the_same_program_1_where_not_2_where_one_is_none(
        string first,
        string second,
        int expected
    )
    {
        string folder = Directory.CreateTempSubdirectory("relist-readings-").FullName;
        try
        {
            string a = Path.Combine(folder, "a.asm"),
                b = Path.Combine(folder, "b.asm"),
                merged = Path.Combine(folder, "merged.asm");
            await File.WriteAllTextAsync(a, first);
            await File.WriteAllTextAsync(b, second);
            using RelistProcess relist = RelistProcess.Start("compare", "--lines", a, b, "-o", merged);
            string output = await relist.OutputAsync();
            Assert.Equal(expected, (await relist.EndAsync()).Code);
            Assert.Equal(expected < 2, File.Exists(merged));
            if (expected == 1)
                Assert.Contains("'0x3c' or '0x30'?", output, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
