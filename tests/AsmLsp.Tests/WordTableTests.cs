using System.Text.RegularExpressions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Tests;

/// <summary>
/// What a word of the language is, one table says (<see cref="OperationWords"/>): a second list of the same words drifts from
/// the first one.
/// </summary>
public partial class WordTableTests
{
    // The table and the directives' own files; AsmLsp.Documents reads files whose own words are spelled alike (a
    // 'dt' of a web page).
    private static readonly string[] Homes =
    [
        "Syntax/OperationWords.cs",
        "Assembly/Directives/",
        "src/AsmLsp.Documents/",
    ];

    [Fact]
    public void No_directive_is_named_by_its_letters_outside_of_the_table()
    {
        var wrong = new List<string>();
        foreach (string file in Sources())
        {
            int number = 0;
            foreach (string line in File.ReadLines(file))
            {
                number++;
                if (line.TrimStart().StartsWith("//", StringComparison.Ordinal))
                    continue;
                foreach (Match literal in Literal().Matches(line))
                {
                    // Words of English and of other languages, names in JSON, and names of pins, which are in capitals, may be
                    // spelled alike: what compares them with a word of a program is wrong.
                    if (
                        OperationWords.Find(literal.Groups[1].Value) is { Kind: not OperationKind.Instruction } word
                        && char.IsLetter(word.Text[^1])
                        && (
                            !(
                                word.Has(WordTraits.Natural | WordTraits.Foreign)
                                || literal.Groups[1].Value.All(char.IsAsciiLetterUpper)
                            )
                            || Comparison().IsMatch(line[..literal.Index])
                            || line[(literal.Index + literal.Length)..].StartsWith(".Equals(", StringComparison.Ordinal)
                        )
                    )
                        wrong.Add($"{Path.GetRelativePath(Repository.Root, file)}:{number}: {line.Trim()}");
                }
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public void Each_word_of_the_table_stands_there_once_and_in_lower_case()
    {
        Assert.Equal(
            OperationWords.Entries.Count,
            OperationWords.Entries.Select(static w => w.Text).Distinct(StringComparer.OrdinalIgnoreCase).Count()
        );
        Assert.All(OperationWords.Entries, static w => Assert.Equal(w.Text.ToLowerInvariant(), w.Text));
    }

    [Fact]
    public void Every_keyword_has_a_word_and_every_directive_a_keyword()
    {
        Assert.Equal(
            Enum.GetValues<Keyword>().Where(static k => k != Keyword.None),
            OperationWords.Entries.Select(static w => w.Keyword).Where(static k => k != Keyword.None).Distinct().Order()
        );
        Assert.All(
            OperationWords.Entries,
            static w => Assert.Equal(w.Kind == OperationKind.Instruction, w.Keyword == Keyword.None)
        );
    }

    [Fact]
    public void No_word_both_needs_an_operand_and_takes_none() =>
        Assert.DoesNotContain(
            OperationWords.Entries,
            static w => w.Has(WordTraits.NoOperand) && w.Has(WordTraits.NeedsOperand)
        );

    private static IEnumerable<string> Sources() =>
        Directory
            .GetFiles(Path.Combine(Repository.Root, "src"), "*.cs", SearchOption.AllDirectories)
            .Select(static f => f.Replace('\\', '/'))
            .Where(static f => !f.Contains("/obj/", StringComparison.Ordinal))
            .Where(static f => !Array.Exists(Homes, home => f.Contains(home, StringComparison.Ordinal)));

    [GeneratedRegex("\"((?:[^\"\\\\]|\\\\.)*)\"")]
    private static partial Regex Literal();

    [GeneratedRegex(
        @"(?:\b(?:is|not|or|case)\s*\(?\s*|[=!]=\s*|(?:Equals|Contains|StartsWith|Is|IsOperation)\([^()]*)$"
    )]
    private static partial Regex Comparison();
}
