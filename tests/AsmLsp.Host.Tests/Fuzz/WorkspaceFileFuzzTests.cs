using System.Text;
using System.Text.Json;

namespace AsmLsp.Host.Tests.Fuzz;

/// <summary>
/// Damaged workspace files. What is no JSON by System.Text.Json, or no object, gives problems and nothing of it counts; no text makes the
/// reader throw, and each problem names a line of the text. RELIST_DRAWS makes it longer, RELIST_DRAWS_FROM draws others.
/// </summary>
public class WorkspaceFileFuzzTests
{
    private const string Whole = """
        {
          "root": "main.asm", "chip": "16F84A", "clock": "4 MHz", "include": ["inc", "lib"],
          "output": "out/main.hex", "files": ["a.asm", "b.asm"], "define": ["FAST", "STEPS=4"],
          "board": { "marking": "PIC16F84A-04/P", "crystal": "4 MHz" },
          "builds": { "slow": { "define": ["SLOW"] } }
        }
        """;

    private static readonly string[] Pieces =
    [
        "null",
        "\"\\ud800\"",
        "\"\\u0000\"",
        "[]",
        "{}",
        "[[[[",
        "-1e999",
        "true",
        "\"",
        ",",
        ":",
        "}",
        "\u0000",
        "\uFFFD",
        "\\",
        "\"../../etc/passwd\"",
        "\"C:\\\\x\"",
        "// no",
        "/* open",
        "\"root\": \"a\",",
        "\"builds\": null,",
        new string('[', 2_000),
        new string('9', 400),
    ];

    [Fact]
    public void Damaged_file_is_reported_and_never_a_fault()
    {
        int damaged = 0;
        for (int i = 0; i < 2_000 * Number("RELIST_DRAWS", 1); i++)
        {
            string text = Damage(new Random(Number("RELIST_DRAWS_FROM", 0) * 1_000_000 + i));
            (WorkspaceFile file, IReadOnlyList<WorkspaceFileProblem> problems) = WorkspaceFile.Read(text);
            int lines = text.Count(static c => c == '\n') + 1;
            Assert.All(
                problems,
                p => Assert.True(p.Line >= 1 && p.Line <= lines && p.Message.Length > 0, $"{p}\n{text}")
            );
            if (IsObject(text))
                continue;
            damaged++;
            Assert.NotEmpty(problems);
            Assert.Equal(WorkspaceFile.Empty.Root, file.Root);
            Assert.Equal(WorkspaceFile.Empty.Output, file.Output);
            Assert.Equal(WorkspaceFile.Empty.Chip, file.Chip);
        }

        Assert.True(damaged > 500, $"{damaged} of the texts are damaged");
    }

    private static string Damage(Random random)
    {
        var text = new StringBuilder(Whole);
        for (int n = random.Next(1, 4); n > 0; n--)
        {
            int at = random.Next(text.Length);
            switch (random.Next(4))
            {
                case 0:
                    text.Remove(at, Math.Min(random.Next(1, 20), text.Length - at));
                    break;
                case 1:
                    text.Insert(at, Pieces[random.Next(Pieces.Length)]);
                    break;
                case 2:
                    text[at] = (char)random.Next(1, 0x300);
                    break;
                default:
                    text.Length = Math.Max(1, at);
                    break;
            }
        }

        return text.ToString();
    }

    // Comments and a comma at the end are taken, as docs/settings.md says.
    private static bool IsObject(string text)
    {
        try
        {
            var options = new JsonDocumentOptions
            {
                CommentHandling = JsonCommentHandling.Skip,
                AllowTrailingCommas = true,
            };
            using var document = JsonDocument.Parse(text, options);
            return document.RootElement.ValueKind == JsonValueKind.Object;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    private static int Number(string name, int otherwise) =>
        int.TryParse(Environment.GetEnvironmentVariable(name), out int number) ? number : otherwise;
}
