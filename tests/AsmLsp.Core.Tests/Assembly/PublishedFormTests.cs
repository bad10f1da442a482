using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>
/// Forms that published programs have: the words were worked out by tests/fixtures/check_words.py, a reader of its own.
/// And programs printed in other spellings and orders, which must give the same words.
/// </summary>
public class PublishedFormTests
{
    private static readonly string Folder = Path.Combine(FixturePrograms.Root, "tests", "fixtures", "published");

    public static TheoryData<string> Published =>
        [.. Directory.GetFiles(Folder, "*.asm").Select(f => Path.GetFileNameWithoutExtension(f)!).Order()];

    public static TheoryData<string> Programs => [.. FixturePrograms.Names];

    [Theory, MemberData(nameof(Published))]
    public void A_published_form_gives_the_words_that_another_reader_worked_out(string name)
    {
        ProgramAnalysis program = Assembler.Assemble(FixturePrograms.Read(Path.Combine(Folder, name + ".asm")));
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        string expected = string.Join(
            "\n",
            File.ReadLines(Path.Combine(Folder, name + ".words")).Select(l => l.Split(';')[0].Trim())
        );
        Assert.NotEqual("", expected);
        Assert.Equal(expected, Listed(program));
    }

    [Theory, MemberData(nameof(Programs))]
    public void Operations_in_the_other_case_give_the_same_words(string name) =>
        SameWords(name, (line, syntax) => WithOperation(line, syntax, OtherCase));

    [Theory, MemberData(nameof(Programs))]
    public void Other_blanks_between_the_columns_give_the_same_words(string name) =>
        SameWords(
            name,
            (line, syntax) =>
                syntax.OperationToken < 0
                    ? line
                    : line[..syntax.Tokens[syntax.OperationToken].Start]
                        .Replace("\t", "      ", StringComparison.Ordinal)
                        + line[syntax.Tokens[syntax.OperationToken].Start..]
        );

    // The lines that name the chip come last: names, banks and settings are known all the same.
    [Theory, MemberData(nameof(Programs))]
    public void The_chip_named_at_the_end_gives_the_same_words(string name)
    {
        ProgramAnalysis before = FixturePrograms.Assemble(name);
        if (before.DevicePlace is not { } place || place.File != before.Root)
            return;
        var lines = before.Root.Text.Lines.Select(static l => l.Text).ToList();
        string moved = lines[place.Line];
        LineSyntax syntax = LineSyntax.Of(before.Root.Text[place.Line]);
        // A line that says the radix too must stay where it is.
        if (syntax.Keyword == Keyword.List && moved.Contains("r=", StringComparison.OrdinalIgnoreCase))
            return;
        int end = lines.FindLastIndex(l => LineSyntax.Parse(l).Keyword == Keyword.End);
        if (end < 0)
            return;
        lines.Insert(end, moved);
        lines[place.Line] = "";
        Same(before, string.Join("\n", lines), name);
    }

    private static void SameWords(string name, Func<string, LineSyntax, string> change)
    {
        ProgramAnalysis before = FixturePrograms.Assemble(name);
        var text = new StringBuilder();
        for (int i = 0; i < before.Root.Text.LineCount; i++)
            text.Append(change(before.Root.Text[i].Text, before.SyntaxOf(before.Root, i))).Append('\n');
        Same(before, text.ToString(), name);
    }

    private static void Same(ProgramAnalysis before, string text, string name)
    {
        ProgramAnalysis after = Assembler.Assemble(
            new SourceFile(before.Root.Name, SourceText.From(text, before.Root.Text.Encoding)),
            new FixturePrograms.Beside()
        );
        Assert.False(
            after.HasErrors,
            $"{name}\n{string.Join("\n", after.Problems.Select(p => $"{p.Place} {p.Message}"))}"
        );
        Assert.Equal(Listed(before), Listed(after));
    }

    private static string WithOperation(string line, LineSyntax syntax, Func<string, string> change)
    {
        if (syntax.OperationToken < 0 || syntax.OperationKind is OperationKind.Unknown or OperationKind.Assignment)
            return line;
        TextSpan span = syntax.Tokens[syntax.OperationToken].Span;
        return line[..span.Start] + change(line.Substring(span.Start, span.Length)) + line[span.End..];
    }

    private static string OtherCase(string word) =>
        word.Any(char.IsAsciiLetterLower) ? word.ToUpperInvariant() : word.ToLowerInvariant();

    private static string Listed(ProgramAnalysis program)
    {
        var text = new StringBuilder();
        foreach ((int address, ushort word, _) in program.Image.Words)
            text.Append(CultureInfo.InvariantCulture, $"{address:X4} {word:X4}\n");
        return text.ToString().TrimEnd();
    }
}
