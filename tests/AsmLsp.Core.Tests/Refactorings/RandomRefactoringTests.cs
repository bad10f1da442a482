using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Refactorings;

/// <summary>
/// Makes every refactoring that is offered at many places of whole programs, and reads what came of it as a new program from its bytes: one
/// that says that it keeps the words must keep them all, and none may bring a new problem. The places are the same in every run.
/// </summary>
public class RandomRefactoringTests
{
    private const int PlacesPerProgram = 40;

    private static readonly string Folder = FixturePrograms.Folder;

    public static TheoryData<string> Programs =>
        [
            .. Directory
                .GetFiles(Folder, "*.asm")
                .Select(f => Path.GetFileNameWithoutExtension(f)!)
                .Order(StringComparer.Ordinal),
        ];

    [Theory]
    [MemberData(nameof(Programs))]
    public void Refactorings_do_what_their_titles_say(string name)
    {
        HashSet<string> made = MakeAll(Assemble([], name), name, Seed(name), PlacesPerProgram);
        Assert.True(made.Count >= 4, string.Join(" ", made));
    }

    // A listing in the middle of its repair: characters and lines are missing, some doubled.
    [Theory]
    [MemberData(nameof(Programs))]
    public void Refactorings_of_a_damaged_program_do_what_their_titles_say(string name)
    {
        ProgramAnalysis whole = Assemble([], name);
        Random random = Seed(name + "damaged");
        for (int round = 0; round < 2; round++)
        {
            SourceText text = whole.Root.Text;
            for (int i = 0; i < 4; i++)
            {
                int at = random.Next(text.Length);
                int line = text.PositionAt(at).Line;
                text = random.Next(3) switch
                {
                    0 => text.WithChange(new TextSpan(at, Math.Min(random.Next(1, 4), text.Length - at)), ""),
                    1 => text.WithChange(new TextSpan(text.LineStart(line), text[line].FullLength), ""),
                    _ => text.WithChange(
                        new TextSpan(text.LineStart(line), 0),
                        text[line].Text + " ;? doubled" + text.UsualEnding
                    ),
                };
            }

            MakeAll(Assemble(new() { [whole.Root.Name] = text }, name), name, random, PlacesPerProgram / 4);
        }
    }

    private static HashSet<string> MakeAll(ProgramAnalysis before, string name, Random random, int places)
    {
        var made = new HashSet<string>();
        for (int i = 0; i < places; i++)
        {
            SourceText text = before.Root.Text;
            LinePosition start = text.PositionAt(random.Next(text.Length + 1));
            LinePosition end = random.Next(4) == 0 ? text.PositionAt(text.OffsetAt(start) + random.Next(200)) : start;
            foreach (Refactoring found in RefactoringFinder.For(before, before.Root, start, end))
            {
                var edits = found.Compute();
                if (edits.Length == 0)
                    continue;
                string where =
                    $"{name} {start.Line + 1}:{start.Column}-{end.Line + 1}:{end.Column} {found.Id} {found.Title}";
                made.Add(found.Id);
                Dictionary<string, SourceText> changed = edits.ToDictionary(
                    e => e.File.Name,
                    e => e.File.Text.WithEdits(e.Edits)
                );
                changed.TryAdd(before.Root.Name, before.Root.Text);
                ProgramAnalysis after = Assemble(changed, name);
                if (found.Effect == WordEffect.Same)
                    Assert.True(Listed(before) == Listed(after), where);
                Assert.True(edits.All(e => Doubts(changed[e.File.Name]) >= Doubts(e.File.Text)), where);
                // Lines that a person comments out may be needed elsewhere, and a watchdog that a person turns on wants clearing: that is reported, and is no fault.
                if (!found.Id.StartsWith("comment-", StringComparison.Ordinal) && found.Id != "change-setting/_WDT_ON")
                    Assert.True(New(before, after).Count == 0, $"{where}\n{string.Join("\n", New(before, after))}");
            }
        }

        return made;
    }

    private static Random Seed(string name) => new(name.Aggregate(17, (seed, c) => seed * 31 + c));

    [Fact]
    public void Selecting_a_bank_is_offered_where_one_is_taken_out()
    {
        // Every line that selects a bank is commented out in turn; what is offered then may not make things worse.
        int made = 0;
        foreach (string name in new[] { "16-i2c-clock", "14-sterownik", "18-thermostat" })
        {
            ProgramAnalysis whole = Assemble([], name);
            for (int i = 0; i < whole.Root.Text.LineCount; i++)
            {
                string line = whole.Root.Text[i].Text;
                if (
                    !line.Contains("RP0", StringComparison.OrdinalIgnoreCase)
                    && !line.Contains("banksel", StringComparison.OrdinalIgnoreCase)
                )
                    continue;
                ProgramAnalysis before = Assemble(
                    new()
                    {
                        [whole.Root.Name] = whole.Root.Text.WithChange(
                            new TextSpan(whole.Root.Text.LineStart(i), 0),
                            ";"
                        ),
                    },
                    name
                );
                foreach (Problem problem in FlowProblems.Find(before).Where(p => p.Kind == Catalogue.WrongBank))
                {
                    foreach (
                        Refactoring found in RefactoringFinder
                            .For(before, problem.Place.File, new(problem.Place.Line, 0), new(problem.Place.Line, 0))
                            .Where(r => r.Id == "select-bank/before")
                    )
                    {
                        var edits = found.Compute();
                        if (edits.Length == 0)
                            continue;
                        ProgramAnalysis after = Assemble(
                            edits.ToDictionary(e => e.File.Name, e => e.File.Text.WithEdits(e.Edits)),
                            name
                        );
                        Assert.True(
                            FlowProblems.Find(after).Count(p => p.Kind == Catalogue.WrongBank)
                                < FlowProblems.Find(before).Count(p => p.Kind == Catalogue.WrongBank),
                            $"{name} {i + 1} {found.Title}"
                        );
                        made++;
                    }
                }
            }
        }

        Assert.True(made > 0);
    }

    private static List<string> New(ProgramAnalysis before, ProgramAnalysis after)
    {
        var left = Problems(before).GroupBy(p => p.Kind).ToDictionary(g => g.Key, g => g.Count());
        return
        [
            .. Problems(after)
                .GroupBy(p => p.Kind)
                .Where(g => g.Count() > left.GetValueOrDefault(g.Key))
                .SelectMany(g => g.Select(p => $"{p.Place} {p.Message}")),
        ];
    }

    private static IEnumerable<Problem> Problems(ProgramAnalysis program) =>
        program.Problems.Concat(FlowProblems.Find(program)).Where(p => p.Severity != Severity.Information);

    private static int Doubts(SourceText text) => text.Lines.Count(l => DoubtMark.Find(l.Text) is not null);

    private static string Listed(ProgramAnalysis program)
    {
        var text = new StringBuilder();
        foreach ((int address, ushort word, _) in program.Image.Words)
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"{address:X4} {word:X4}\n");
        return text.ToString();
    }

    private static ProgramAnalysis Assemble(Dictionary<string, SourceText> changed, string name)
    {
        var files = new Files(changed);
        return Assembler.Assemble(files.Resolve(name + ".asm")!, files);
    }

    private sealed class Files(Dictionary<string, SourceText> changed) : IIncludeResolver
    {
        private readonly Dictionary<string, SourceFile> known = [];

        SourceFile? IIncludeResolver.Resolve(string name, SourceFile from) => Resolve(name);

        public SourceFile? Resolve(string name)
        {
            string path = Path.Combine(Folder, Path.GetFileName(name));
            if (known.TryGetValue(path, out SourceFile? file))
                return file;
            if (!File.Exists(path))
                return null;
            (string text, TextEncoding encoding) = TextEncoding.Decode(File.ReadAllBytes(path));
            return known[path] = new SourceFile(
                path,
                SourceText.From(changed.GetValueOrDefault(path)?.ToString() ?? text, encoding)
            );
        }
    }
}
