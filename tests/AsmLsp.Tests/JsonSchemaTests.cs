using System.CommandLine;
using System.Reflection;
using System.Text.Json;
using Json.Schema;

namespace AsmLsp.Tests;

/// <summary>What each verb writes with <c>--json</c> is what its page in docs/schemas says.</summary>
public sealed class JsonSchemaTests : IDisposable
{
    private const string Clean =
        " list p=16f84a\n include <p16f84a.inc>\n __config _XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF\n org 0\nstart clrf PORTB\nloop goto loop\n end\n";

    private const string Faulty =
        "\tlist p=16f84a\n\tinclude <p16f84a.inc>\n  start movlw 3\nmovwf LOST\n\tgoto strat\n\tend\n";

    private const string Hex = ":06000000012805300128" + "73\n:02400E00F13F80\n:024200000300B9\n:00000001FF\n";

    private static readonly string Schemas = Path.Combine(Repository.Root, "docs", "schemas");
    private static readonly string Kit = Path.Combine(Repository.Root, "docs", "demo", "crossing-kit.pdf");

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-json-");

    public void Dispose() => folder.Delete(recursive: true);

    [Theory]
    [InlineData("check.json", "check", "clean.asm", "faulty.asm", "--json")]
    [InlineData("check.json", "check", "clean.asm", "--format", "json")]
    [InlineData("build.json", "build", "clean.asm", "--json")]
    [InlineData("build.json", "build", "clean.asm", "--json", "--dry-run")]
    [InlineData("build.json", "build", "clean.asm", "--json", "--against", "read.hex")]
    [InlineData("build.json", "build", "faulty.asm", "--json")]
    [InlineData("tidy.json", "tidy", "faulty.asm", "clean.asm", "--json")]
    [InlineData("tidy.json", "tidy", "faulty.asm", "--json", "--dry-run")]
    [InlineData("outline.json", "explain", "clean.asm", "--json")]
    [InlineData("outline.json", "explain", "faulty.asm", "--json")]
    [InlineData("pins.json", "explain", "clean.asm", "--pins", "--json")]
    [InlineData("delay.json", "explain", "--delay", "20ms", "--clock", "4MHz", "--json")]
    [InlineData("explain.json", "explain", "clean.asm", "--lines", "--json")]
    [InlineData("explain.json", "explain", "clean.asm", "3", "--json")]
    [InlineData("explain.json", "explain", "clean.asm", "3:12", "--json")]
    [InlineData("explain.json", "explain", "missing-page", "--json")]
    [InlineData("chips.json", "chips", "--json")]
    [InlineData("chips.json", "chips", "12F675", "--json")]
    [InlineData("doctor.json", "doctor", ".", "--json")]
    [InlineData("readout.json", "readout", "read.hex", "--json")]
    [InlineData("readout.json", "readout", "read.hex", "--json", "--chip", "16F84A", "--checksum", "4E51")]
    [InlineData("compare.json", "compare", "clean.asm", "read.hex", "--json")]
    [InlineData("compare.json", "compare", "read.hex", "read.hex", "--json", "--chip", "16F84A", "--checksum", "4E51")]
    [InlineData("compare-lines.json", "compare", "--lines", "clean.asm", "faulty.asm", "--json")]
    [InlineData("compare-lines.json", "compare", "clean.asm", "faulty.asm", "--json")]
    [InlineData("disassemble.json", "disassemble", "read.hex", "--chip", "16F84A", "-o", "made.asm", "--json")]
    [InlineData("recover.json", "recover", "KIT", "--json")]
    [InlineData("recover.json", "recover", "KIT", "-o", "kit.asm", "--json", "--dry-run")]
    [InlineData("recover.json", "recover", "KIT", "--archive", "kit", "--json")]
    [InlineData("card.json", "card", "clean.asm", "--json")]
    [InlineData("replace.json", "replace", "clean.asm", "--chip", "16F628A", "--json")]
    [InlineData("programs.json", "recover", "KIT", "--programs", "--json")]
    [InlineData("archive.json", "archive", "add", "kit", "read.hex", "--board", "7", "--json")]
    public void What_a_verb_writes_is_what_its_schema_says(string schema, params string[] arguments)
    {
        JsonElement written = Run(arguments);
        EvaluationResults results = SchemaOf(schema)
            .Evaluate(written, new EvaluationOptions { OutputFormat = OutputFormat.List });
        Assert.True(
            results.IsValid,
            string.Join(
                '\n',
                (results.Details ?? [])
                    .Where(static d => d.Errors is not null)
                    .Select(static d => $"{d.InstanceLocation}: {string.Join(' ', d.Errors!.Values)}")
            )
        );
    }

    [Fact]
    public void Every_command_that_writes_json_is_compared_with_a_schema()
    {
        string[][] checkedRuns = [.. Runs().Select(static r => r.Arguments)];
        string[][] commands = [.. CommandLine.Verbs.SelectMany(static v => WithJson(v.Create(), []))];
        Assert.NotEmpty(commands);
        Assert.All(
            commands,
            command =>
                Assert.Contains(
                    checkedRuns,
                    run => run.Take(command.Length).SequenceEqual(command) && run.Contains("--json")
                )
        );
    }

    [Fact]
    public void Every_schema_is_used() =>
        Assert.Equal(
            Directory
                .GetFiles(Schemas, "*.json")
                .Select(static f => Path.GetFileName(f)!)
                .Order(StringComparer.Ordinal),
            Runs()
                .Select(static r => r.Schema)
                .Append("problem.json") // The others refer to it.
                .Distinct()
                .Order(StringComparer.Ordinal)
        );

    [Fact]
    public void A_report_in_a_file_has_the_form_of_the_one_on_standard_output()
    {
        string report = At("report.json");
        CommandLine.Run(["recover", Kit, "-o", At("kit.asm"), "--report", report], TextWriter.Null, TextWriter.Null);
        using var written = JsonDocument.Parse(File.ReadAllText(report));
        Assert.True(SchemaOf("recover.json").Evaluate(written.RootElement).IsValid);
    }

    [Theory]
    [InlineData(
        "check.json",
        """[{"file":"a.asm","line":0,"column":1,"endColumn":1,"severity":"note","code":"x","message":"m","page":null}]"""
    )]
    [InlineData(
        "check.json",
        """[{"file":"a.asm","line":1,"column":1,"endColumn":1,"severity":"information","code":"x","message":"m","page":null}]"""
    )]
    [InlineData("doctor.json", """{"ok":true}""")]
    public void A_schema_refuses_what_is_not_of_its_form(string schema, string text)
    {
        using var json = JsonDocument.Parse(text);
        Assert.False(SchemaOf(schema).Evaluate(json.RootElement).IsValid);
    }

    [Theory]
    [InlineData("build", "clean.asm", "--dry-run")]
    [InlineData("build", "clean.asm", "--dry-run", "--words", "words.txt")]
    [InlineData("tidy", "faulty.asm", "--dry-run")]
    [InlineData("recover", "KIT", "-o", "new.asm", "--report", "new.json", "--dry-run")]
    [InlineData("recover", "KIT", "--archive", "new", "--dry-run")]
    public void A_dry_run_writes_nothing(params string[] arguments)
    {
        string[] Written() =>
            [
                .. folder
                    .EnumerateFileSystemInfos("*", SearchOption.AllDirectories)
                    .Select(static f => $"{f.FullName} {(f as FileInfo)?.Length}")
                    .Order(StringComparer.Ordinal),
            ];
        Fill();
        string[] before = Written();
        int code = CommandLine.Run([.. arguments.Select(InFolder)], TextWriter.Null, TextWriter.Null);
        Assert.InRange(code, ExitCodes.Clean, ExitCodes.ProblemsRemain);
        Assert.Equal(before, Written());
    }

    // The names of the commands below one, itself included, that have the option.
    private static IEnumerable<string[]> WithJson(Command command, string[] above)
    {
        string[] path = [.. above, command.Name];
        IEnumerable<string[]> below = command.Subcommands.SelectMany(c => WithJson(c, path));
        return command.Options.Any(static o => o.Name == "--json") ? below.Prepend(path) : below;
    }

    private static IEnumerable<(string Schema, string[] Arguments)> Runs() =>
        typeof(JsonSchemaTests)
            .GetMethod(nameof(What_a_verb_writes_is_what_its_schema_says))!
            .GetCustomAttributesData()
            .Where(static a => a.AttributeType == typeof(InlineDataAttribute))
            .Select(static a =>
                ((IEnumerable<CustomAttributeTypedArgument>)a.ConstructorArguments[0].Value!).Select(v =>
                    (string)v.Value!
                )
            )
            .Select(static v => (v.First(), v.Skip(1).ToArray()));

    private static JsonSchema SchemaOf(string name)
    {
        lock (Loaded)
        {
            if (Loaded.Count == 0)
                foreach (
                    string file in Directory
                        .GetFiles(Schemas, "*.json")
                        .OrderBy(static f => Path.GetFileName(f) != "problem.json")
                )
                    Loaded.Add(Path.GetFileName(file), JsonSchema.FromText(File.ReadAllText(file)));
            return Loaded[name];
        }
    }

    private static readonly Dictionary<string, JsonSchema> Loaded = new(StringComparer.Ordinal);

    private JsonElement Run(string[] arguments)
    {
        Fill();
        if (arguments[0] == "archive")
            CommandLine.Run(["recover", Kit, "--archive", At("kit")], TextWriter.Null, TextWriter.Null);
        var output = new StringWriter();
        var error = new StringWriter();
        int code = CommandLine.Run([.. arguments.Select(InFolder)], output, error);
        Assert.True(code is ExitCodes.Clean or ExitCodes.ProblemsRemain, $"{code}: {error}");
        return JsonDocument.Parse(output.ToString()).RootElement;
    }

    private void Fill()
    {
        File.WriteAllText(At("clean.asm"), Clean);
        File.WriteAllText(At("faulty.asm"), Faulty);
        File.WriteAllText(At("read.hex"), Hex);
    }

    private string At(string name) => Path.Combine(folder.FullName, name);

    private string InFolder(string argument) =>
        argument == "KIT" ? Kit
        : argument == "." ? folder.FullName
        : (argument.Contains('.', StringComparison.Ordinal) || argument is "kit" or "new") && argument[0] != '-'
            ? At(argument)
        : argument;
}
