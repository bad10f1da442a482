using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>docs/language.md says the language as it is: its directives are generated, its names and limits held.</summary>
public class LanguagePageTests
{
    private const string Start = "<!-- generated: directives. A test rewrites this with RELIST_UPDATE_DOCS=1. -->\n";
    private const string End = "<!-- end of generated -->";

    private static readonly string Page = Find();

    [Fact]
    public void The_directives_of_the_page_are_those_of_the_program()
    {
        string text = File.ReadAllText(Page);
        int from = text.IndexOf(Start, StringComparison.Ordinal) + Start.Length;
        int to = text.IndexOf(End, StringComparison.Ordinal);
        string now = text[..from] + Table() + text[to..];
        if (Environment.GetEnvironmentVariable("RELIST_UPDATE_DOCS") == "1")
            File.WriteAllText(Page, now);
        Assert.True(
            now == File.ReadAllText(Page),
            "docs/language.md is stale: run the tests with RELIST_UPDATE_DOCS=1."
        );
    }

    [Fact]
    public void Problems_that_the_page_names_exist()
    {
        string[] named =
        [
            .. File.ReadAllText(Page)
                .Split('`')
                .Where((_, i) => i % 2 == 1)
                .Where(w =>
                    w.Length > 8
                    && w.Contains('-', StringComparison.Ordinal)
                    && w.All(c => c is '-' or (>= 'a' and <= 'z'))
                ),
        ];
        Assert.InRange(named.Length, 20, 200);
        Assert.All(named, code => Assert.NotNull(Catalogue.Find(code)));
    }

    [Fact]
    public void Shorthand_and_limits_of_the_page_are_those_of_the_program()
    {
        string text = File.ReadAllText(Page);
        string shorthand = string.Join(' ', Shorthand.All.Select(s => s.Name).Order(StringComparer.Ordinal));
        Assert.Contains($"`{shorthand}`", text, StringComparison.Ordinal);
        foreach (
            int limit in (int[])
                [
                    AssemblyPass.DeepestInclude,
                    AssemblyPass.DeepestMacro,
                    AssemblyPass.MostTurns,
                    AssemblyWork.MostExpandedLines,
                ]
        )
            Assert.Contains($"| {limit.ToString("N0", CultureInfo.InvariantCulture)}", text, StringComparison.Ordinal);
    }

    private static string Table()
    {
        var table = new StringBuilder("| directive | as in | what it does |\n| --- | --- | --- |\n");
        foreach (Directive directive in DirectiveList.All)
            table.Append(
                CultureInfo.InvariantCulture,
                $"| {string.Join(' ', directive.Words.Select(w => $"`{Cell(w)}`"))} | `{Cell(directive.Usage)}` | {Cell(directive.Summary)} |\n"
            );
        return table.ToString();
    }

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);

    private static string Find()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "AsmLsp.sln")))
            folder = Path.GetDirectoryName(folder);
        return Path.Combine(
            folder ?? throw new InvalidOperationException("The folder of the solution is not found above the tests."),
            "docs",
            "language.md"
        );
    }
}
