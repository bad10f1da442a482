using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Tests.Assembly;

namespace AsmLsp.Core.Tests.Problems;

/// <summary>
/// The pages of docs/problems are the manual of the problems: one a code, in one shape, and their examples are held
/// against the program: the wrong one has the problem, the right one has it not.
/// </summary>
public class ProblemPageTests
{
    internal static readonly string Folder = Path.Combine(FixturePrograms.Root, "docs", "problems");

    // The order of the sections of every page.
    private static readonly string[] Sections = ["## Why it matters", "## Wrong", "## Right", "## Fix"];

    public static TheoryData<string> Codes => [.. Catalogue.All.Select(k => k.Code)];

    // Those about documents are looked at by DocumentPageTests.
    public static TheoryData<string> Pages =>
        [
            .. Directory
                .GetFiles(Folder, "*.md")
                .Select(f => Path.GetFileNameWithoutExtension(f)!)
                .Where(c => !DocumentCodes.All.Contains(c)),
        ];

    [Fact]
    public void Every_code_is_a_slug_of_its_own()
    {
        Assert.NotEmpty(Catalogue.All);
        Assert.Equal(
            Catalogue.All.Length,
            Catalogue.All.Select(k => k.Code).Distinct(StringComparer.OrdinalIgnoreCase).Count()
        );
        Assert.All(Catalogue.All, k => Assert.Matches("^[a-z]+(-[a-z]+)*$", k.Code));
        Assert.All(Catalogue.All, k => Assert.Same(k, Catalogue.Find(k.Code)));
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Every_code_has_its_page(string code) =>
        Assert.True(File.Exists(Path.Combine(Folder, code + ".md")), $"docs/problems/{code}.md is missing.");

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_page_has_its_code_and_the_usual_shape(string page)
    {
        Assert.NotNull(Catalogue.Find(page));
        string text = File.ReadAllText(Path.Combine(Folder, page + ".md"));
        Assert.StartsWith($"# {page}\n\n", text, StringComparison.Ordinal);
        Assert.Equal(Sections, text.Split('\n').Where(l => l.StartsWith("## ", StringComparison.Ordinal)));
        Assert.All(Sections, s => Assert.Matches($"(?s){s}\n\n[^#\n]", text));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void The_wrong_example_has_the_problem_and_the_right_one_has_not(string page)
    {
        string text = File.ReadAllText(Path.Combine(Folder, page + ".md"));
        Assert.Contains(page, CodesOf(text, "Wrong"));
        string[] right = CodesOf(text, "Right");
        Assert.DoesNotContain(page, right);
        Assert.DoesNotContain(right, c => Catalogue.Find(c)!.Severity == Severity.Error);
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void No_example_shows_one_kind_of_problem_twice_in_one_place(string page)
    {
        string text = File.ReadAllText(Path.Combine(Folder, page + ".md"));
        foreach (string section in (string[])["Wrong", "Right"])
            Assert.Equal([], Twice(ProblemsOf(text, section)));
    }

    [Fact]
    public void No_program_shows_one_kind_of_problem_twice_in_one_place() =>
        Assert.All(
            FixturePrograms.Assembled(),
            static program =>
                Assert.Equal([], Twice([.. program.Files.SelectMany(f => ProgramProblems.All(program, f))]))
        );

    [Fact]
    public void A_file_that_is_seen_without_its_program_is_not_blamed_for_what_the_program_brings()
    {
        ProgramAnalysis alone = Check.Assemble("wait movlw limit\n movwf count\n pause 3\n movlv 2\n return\n");
        Assert.Equal(
            ["unknown-operation"],
            ProgramProblems
                .OfFragment(alone, alone.Root)
                .Where(static p => p.Severity == Severity.Error)
                .Select(static p => p.Code)
        );
    }

    private static string[] Twice(Problem[] problems) =>
        [
            .. problems
                .GroupBy(static p => (p.Code, p.Place.File, p.Place.Line, p.Place.Columns))
                .Where(static g => g.Count() > 1)
                .Select(static g => $"{g.Key.Code} in line {g.Key.Line + 1}"),
        ];

    private static string[] CodesOf(string page, string section) =>
        [.. ProblemsOf(page, section).Select(static p => p.Code)];

    private static Problem[] ProblemsOf(string page, string section)
    {
        string part = page[(page.IndexOf($"## {section}\n", StringComparison.Ordinal) + section.Length + 4)..];
        int next = part.IndexOf("\n## ", StringComparison.Ordinal);
        if (next >= 0)
            part = part[..next];
        string program = "";
        var files = new List<(string, string)>();
        foreach (string block in part.Split("```asm").Skip(1))
        {
            string body = block[..block.IndexOf("\n```", StringComparison.Ordinal)];
            string head = body[..body.IndexOf('\n', StringComparison.Ordinal)].Trim();
            body = body[(body.IndexOf('\n', StringComparison.Ordinal) + 1)..];
            if (head.StartsWith("file=", StringComparison.Ordinal))
                files.Add((head["file=".Length..], body));
            else
                program = body;
        }

        Assert.NotEqual("", program);
        ProgramAnalysis analysis = Check.Assemble(program, OptionsOf(part), [.. files]);
        return [.. analysis.Files.SelectMany(f => ProgramProblems.All(analysis, f))];
    }

    // A page may say above its example how it is built: 'Built with `--chip 16F84A`:', 'with `"crystal": "20 MHz"`'.
    private static AssemblyOptions OptionsOf(string part)
    {
        string before = part[..part.IndexOf("```asm", StringComparison.Ordinal)];
        string? crystal = After(before, "`\"crystal\": \"", '"'),
            marking = After(before, "`\"marking\": \"", '"');
        return new AssemblyOptions
        {
            Chip = After(before, "`--chip ", '`'),
            Board =
                crystal is null && marking is null
                    ? null
                    : new BoardFacts(marking, crystal is null ? null : ClockFinder.ReadRate(crystal)),
        };
    }

    private static string? After(string text, string mark, char end)
    {
        int at = text.IndexOf(mark, StringComparison.Ordinal);
        return at < 0 ? null : text[(at + mark.Length)..].Split(end)[0];
    }
}
