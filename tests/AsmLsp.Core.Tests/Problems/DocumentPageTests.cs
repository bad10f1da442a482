using System.Reflection;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Problems;

/// <summary>The pages of docs/problems about what only a printed document can show. Their examples are printed pages, one a block, or a paste, and are recovered here; '|' is in front of lines that are set in the type of the text.</summary>
public class DocumentPageTests
{
    // What happened, why it matters, what to do; an example where paper can show it in letters.
    private static readonly string[][] Shapes =
    [
        ["## Why it matters", "## Wrong", "## Right", "## Fix"],
        ["## Why it matters", "## Printed", "## Fix"],
        ["## Why it matters", "## Fix"],
    ];

    // A picture, a damaged file, a font without a meaning and the fault of a step of recovery cannot be shown in letters.
    private static readonly string[] WithoutExample =
    [
        DocumentCodes.UnreadPage,
        DocumentCodes.ReadingNote,
        DocumentCodes.OcrText,
        DocumentCodes.NotAsPrinted,
    ];

    public static TheoryData<string> Codes => [.. DocumentCodes.All];

    [Fact]
    public void Every_code_of_a_document_is_in_the_list_and_none_is_of_the_catalogue()
    {
        string[] declared =
        [
            .. typeof(DocumentCodes)
                .GetFields(BindingFlags.Public | BindingFlags.Static)
                .Where(f => f.IsLiteral)
                .Select(f => (string)f.GetRawConstantValue()!),
        ];
        Assert.NotEmpty(declared);
        Assert.Equal(declared.Order(StringComparer.Ordinal), DocumentCodes.All.Order(StringComparer.Ordinal));
        Assert.All(declared, c => Assert.Matches("^[a-z]+(-[a-z]+)*$", c));
        Assert.All(declared, c => Assert.Null(Catalogue.Find(c)));
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Every_code_has_its_page_in_the_usual_shape(string code)
    {
        string text = Page(code);
        Assert.StartsWith($"# {code}\n\n", text, StringComparison.Ordinal);
        string[] sections = [.. text.Split('\n').Where(l => l.StartsWith("## ", StringComparison.Ordinal))];
        Assert.Contains(Shapes, s => s.SequenceEqual(sections));
        Assert.Equal(WithoutExample.Contains(code), sections.SequenceEqual(Shapes[2]));
        Assert.All(sections, s => Assert.Matches($"(?s){s}\n\n[^#\n]", text));
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void The_wrong_example_has_the_code_and_the_right_one_has_not(string code)
    {
        string text = Page(code);
        if (text.Contains("## Printed", StringComparison.Ordinal))
            Assert.Contains(code, CodesOf(text, "Printed"));
        if (!text.Contains("## Wrong", StringComparison.Ordinal))
            return;
        Assert.Contains(code, CodesOf(text, "Wrong"));
        Assert.Empty(
            CodesOf(text, "Right")
                .Except([
                    DocumentCodes.LeftGutter,
                    DocumentCodes.SetAside,
                    DocumentCodes.PrintedWordsAgree,
                    Catalogue.HeaderOrFooter.Code,
                ])
        );
    }

    private static string[] CodesOf(string page, string section)
    {
        string part = page[(page.IndexOf($"## {section}\n", StringComparison.Ordinal) + section.Length + 4)..];
        int next = part.IndexOf("\n## ", StringComparison.Ordinal);
        if (next >= 0)
            part = part[..next];
        if (part.Split("```paste\n") is [_, var pasted])
            return
            [
                .. PasteRecovery
                    .Run(SourceText.From(pasted[..pasted.IndexOf("\n```", StringComparison.Ordinal)]))
                    .Entries.Select(e => e.Code),
            ];
        string[] pages =
        [
            .. part.Split("```page\n").Skip(1).Select(b => b[..b.IndexOf("\n```", StringComparison.Ordinal)]),
        ];
        Assert.NotEmpty(pages);
        return [.. PrintedPages.Recover(pages).Entries.Select(e => e.Code)];
    }

    private static string Page(string code) => File.ReadAllText(Path.Combine(ProblemPageTests.Folder, code + ".md"));
}
