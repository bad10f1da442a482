using System.CommandLine;
using System.Text.Json;
using System.Text.RegularExpressions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Tests;

/// <summary>
/// Texts for people are plain: none of the words that a reader with little English stumbles over, American spelling, and short sentences.
/// </summary>
public sealed partial class WordsTests
{
    private const int MostWords = 25;

    private static readonly string[] Pages =
    [
        .. Directory
            .GetFiles(Path.Combine(Repository.Root, "docs"), "*.md", SearchOption.AllDirectories)
            .Concat(
                Directory
                    .GetFiles(Path.Combine(Repository.Root, "editor-clients"), "README.md", SearchOption.AllDirectories)
                    .Where(static f => !f.Contains("node_modules", StringComparison.Ordinal))
            )
            .Append(Path.Combine(Repository.Root, "README.md")),
    ];

    [Fact]
    public void The_messages_of_problems_are_in_plain_words() =>
        AssertNone(Catalogue.All.SelectMany(static k => Faults(k.Code, k.MessageText)));

    [Fact]
    public void The_help_of_every_command_is_in_plain_words()
    {
        var root = new StringWriter();
        RootHelp.Write(root);
        IEnumerable<string> texts = CommandLine
            .Verbs.Select(static v => v.Create())
            .SelectMany(static c =>
                c.Options.Select(static o => o.Description)
                    .Concat(c.Arguments.Select(static a => a.Description))
                    .Append(c.Description)
            )
            .OfType<string>()
            .Concat(root.ToString().Split('\n').Select(static l => l[Math.Min(l.Length, 30)..]));
        AssertNone(texts.SelectMany(static t => Faults("help", t)));
    }

    [Fact]
    public void The_pages_are_in_plain_words_and_short_sentences() => AssertNone(Pages.SelectMany(InPage));

    [Fact]
    public void The_literals_of_the_sources_are_in_plain_words_and_short_sentences() =>
        AssertNone(
            Sources("src", "*.cs")
                .SelectMany(static f =>
                    SourceTexts
                        .Of(File.ReadAllText(f))
                        .Where(static t => !t.IsComment && t.Text.Trim().Contains(' ', StringComparison.Ordinal))
                        .SelectMany(t => Faults($"{f}:{t.Line}", t.Text))
                )
        );

    [Fact]
    public void The_comments_of_the_sources_are_in_plain_words() =>
        AssertNone(
            Sources("src", "*.cs")
                .Concat(Sources("tests", "*.cs"))
                .SelectMany(static f =>
                    SourceTexts
                        .Of(File.ReadAllText(f))
                        .Where(static t => t.IsComment)
                        .SelectMany(t => Faults($"{f}:{t.Line}", t.Text, checksLength: false))
                )
        );

    [Fact]
    public void The_notes_of_chips_are_in_plain_words_and_short_sentences() =>
        AssertNone(
            Sources("src/AsmLsp.Core/Devices/Data", "*.json")
                .SelectMany(static f => Strings(f).SelectMany(t => Faults(Path.GetFileName(f), t)))
        );

    [Fact]
    public void The_texts_of_the_editor_clients_are_in_plain_words() =>
        AssertNone(
            Sources("editor-clients", "*.*")
                .Where(static f => Path.GetExtension(f) is ".json" or ".lua" or ".el" or ".vim" or ".ts")
                .Where(static f => Path.GetFileName(f) != "package-lock.json")
                .SelectMany(static f =>
                    File.ReadLines(f).SelectMany(l => Faults(Path.GetFileName(f), l, checksLength: false))
                )
        );

    [Fact]
    public void A_type_has_a_name_of_its_own()
    {
        // The protocol's own names are given; parts of one type are in several files.
        var types = new Dictionary<string, HashSet<string>>(StringComparer.Ordinal);
        foreach (
            string file in Sources("src", "*.cs").Where(static f => !f.Contains("/Protocol/", StringComparison.Ordinal))
        )
        foreach (string line in File.ReadLines(file))
            if (
                TypeName().Match(line) is { Success: true } match
                && !line.Contains(" partial ", StringComparison.Ordinal)
            )
            {
                if (!types.TryGetValue(match.Groups[1].Value, out HashSet<string>? files))
                    types[match.Groups[1].Value] = files = [];
                files.Add(Path.GetRelativePath(Repository.Root, file));
            }

        AssertNone(
            types.Where(static t => t.Value.Count > 1).Select(static t => $"{t.Key}: {string.Join(", ", t.Value)}")
        );
    }

    [Theory]
    [InlineData("What was changed is told.")]
    [InlineData("'nop' stands behind a whole instruction.")]
    [InlineData("The program goes on here.")]
    [InlineData("The colour of the page.")]
    [InlineData(
        "One two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty twenty-one twenty-two twenty-three twenty-four twenty-five twenty-six."
    )]
    public void Such_a_sentence_is_found(string sentence) => Assert.NotEmpty(Faults("x", sentence));

    private static void AssertNone(IEnumerable<string> faults)
    {
        string[] all = [.. faults];
        Assert.True(all.Length == 0, string.Join('\n', all));
    }

    // The files of a folder, without what was built or installed there.
    private static IEnumerable<string> Sources(string folder, string pattern) =>
        Directory
            .GetFiles(Path.Combine(Repository.Root, folder), pattern, SearchOption.AllDirectories)
            .Select(static f => f.Replace('\\', '/'))
            .Where(static f => !Built().IsMatch(f))
            .Where(static f => Path.GetFileName(f) != "WordsTests.cs");

    private static IEnumerable<string> Strings(string file)
    {
        using var json = JsonDocument.Parse(File.ReadAllText(file));
        return [.. In(json.RootElement)];

        static IEnumerable<string> In(JsonElement value) =>
            value.ValueKind switch
            {
                JsonValueKind.String => [value.GetString()!],
                JsonValueKind.Array => value.EnumerateArray().SelectMany(In),
                JsonValueKind.Object => value.EnumerateObject().SelectMany(static p => In(p.Value)),
                _ => [],
            };
    }

    private static IEnumerable<string> InPage(string path)
    {
        bool isCode = false;
        var paragraph = new List<string>();
        foreach (string line in File.ReadLines(path).Append(""))
        {
            bool isFence = line.StartsWith("```", StringComparison.Ordinal);
            bool ends =
                isFence || line.Length == 0 || line[0] is '|' or '#' or '-' or '<' || char.IsAsciiDigit(line[0]);
            if (ends && paragraph.Count > 0)
            {
                foreach (string fault in Faults(Path.GetFileName(path), string.Join(' ', paragraph)))
                    yield return fault;
                paragraph.Clear();
            }

            if (isFence)
                isCode = !isCode;
            else if (!isCode && !line.StartsWith("    ", StringComparison.Ordinal))
            {
                if (line.StartsWith('|'))
                    foreach (string cell in line.Split('|').SelectMany(c => Faults(Path.GetFileName(path), c)))
                        yield return cell;
                else
                    paragraph.Add(line);
            }
        }
    }

    private static IEnumerable<string> Faults(string where, string text, bool checksLength = true)
    {
        // Code and addresses of pages are no words.
        string plain = Code().Replace(text, "X");
        foreach (Match word in Forbidden().Matches(plain))
            yield return $"{where}: '{word.Value}' in: {text}";
        if (!checksLength)
            yield break;
        foreach (string sentence in SentenceEnd().Split(plain))
            if (Word().Count(sentence) > MostWords)
                yield return $"{where}: {Word().Count(sentence)} words: {sentence}";
    }

    [GeneratedRegex(
        @"\b(told|tells?|telling|held against|hold(s|ing)? (\w+ )+against|stands?|stood|behind|of no use|goes on|go on|went on|page's own|settled?|settles|settling|put down|nought|furniture|recognis\w+|\w*(colour|behaviour|neighbour|favour|honour|labour)\w*|grey|programme|towards|mend(s|ed)?|cured?|cures)\b|\bMind:",
        RegexOptions.IgnoreCase
    )]
    private static partial Regex Forbidden();

    [GeneratedRegex(
        @"^\s*(?:public|internal|private|protected|file)\s[\w\s]*\b(?:class|record struct|record|struct|enum|interface) (\w+)"
    )]
    private static partial Regex TypeName();

    [GeneratedRegex("/(bin|obj|node_modules|out)/")]
    private static partial Regex Built();

    [GeneratedRegex(@"`[^`]*`|\]\([^)]*\)|https?://\S+|\b\w+(-\w+)*\.md\b")]
    private static partial Regex Code();

    [GeneratedRegex(@"(?<=[.!?])\s+|[:;]\s+")]
    private static partial Regex SentenceEnd();

    [GeneratedRegex(@"\S*[A-Za-z0-9{]\S*")]
    private static partial Regex Word();
}
