using System.Text;
using System.Text.Json.Nodes;

namespace AsmLsp.Tests;

/// <summary>Exit code, report and source of <c>recover</c> say the same, whatever was done to a program on its way, as text and on pages.</summary>
public sealed class RecoverReportTests : IDisposable
{
    private static readonly string Programs = Path.Combine(RawPdf.Repository(), "tests", "fixtures", "programs");

    private readonly string folder = Directory.CreateTempSubdirectory("relist-report-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    public static TheoryData<string> Damages =>
        [
            "none",
            "blanks lost",
            "a line lost",
            "a digit for a letter",
            "page numbers",
            "end lost",
            "a page missing",
            "a page twice",
        ];

    [Theory]
    [MemberData(nameof(Damages))]
    public void Exit_code_0_means_that_nothing_is_reported_and_each_entry_has_a_line_and_its_page(string damage)
    {
        int clean = 0,
            reported = 0;
        foreach (string file in Directory.GetFiles(Programs, "*.asm").Order(StringComparer.Ordinal))
        {
            string[] lines = Encoding
                .Latin1.GetString(File.ReadAllBytes(file))
                .ReplaceLineEndings("\n")
                .Replace("\t", "        ", StringComparison.Ordinal)
                .TrimEnd('\n')
                .Split('\n');
            string[][] pages = Damaged(
                [.. lines.Select(l => new string([.. l.Where(c => c is >= ' ' and <= '~')]))],
                damage
            );
            foreach (bool isPrinted in (bool[])[false, true])
            {
                string input = Path.Combine(folder, isPrinted ? "kit.pdf" : "kit.txt");
                File.WriteAllBytes(
                    input,
                    isPrinted
                        ? RawPdf.Of(pages)
                        : Encoding.ASCII.GetBytes(string.Concat(pages.SelectMany(p => p).Select(l => l + "\n")))
                );
                (int code, JsonArray entries, string[] source) = Recover(input);
                if (code == 2)
                {
                    Assert.Equal("end lost", damage);
                    continue;
                }

                string name = $"{Path.GetFileName(file)} {damage} {(isPrinted ? "printed" : "pasted")}";
                JsonNode[] open =
                [
                    .. entries.Select(e => e!).Where(e => (string?)e["severity"] is "warning" or "error"),
                ];
                Assert.True(code == 0 == (open.Length == 0), name);
                foreach (JsonNode entry in entries.Select(e => e!))
                {
                    Assert.True(
                        (int)entry["line"]! >= 1
                            && (int)entry["line"]! <= source.Length
                            && (int)entry["column"]! >= 1
                            && (int)entry["endColumn"]! >= (int)entry["column"]!,
                        $"{name}: {entry}"
                    );
                    if (open.Contains(entry))
                        Assert.True(entry["page"] is not null == isPrinted, $"{name}: {entry}");
                }

                // Every mark in the source is in the report, and an open entry of a document's own has its mark or its problem.
                for (int i = 0; i < source.Length; i++)
                    if (source[i].Contains(";? ", StringComparison.Ordinal))
                        Assert.True(
                            Array.Exists(open, e => (int)e["line"]! == i + 1 || isPrinted),
                            $"{name}: line {i + 1} is marked and not reported"
                        );
                if (code == 0)
                    clean++;
                else
                    reported++;
                Assert.Equal(code == 0 ? 0 : 1, CheckedLike(code));
            }
        }

        Assert.True(clean + reported > 60, $"{clean} clean, {reported} reported");
        if (damage == "none")
            Assert.True(clean > 50, $"{clean} clean, {reported} reported");
        if (damage is "end lost" or "a page missing" or "a page twice")
            Assert.True(reported > 25, $"{clean} clean, {reported} reported");
    }

    // What 'check' says of the written source: nothing to look at where recovery had nothing, but for what the program does when it runs.
    private int CheckedLike(int code)
    {
        var output = new StringWriter();
        int result = CommandLine.Run(
            ["check", Path.Combine(folder, "out.asm"), "--include", Programs, "--json"],
            output,
            TextWriter.Null
        );
        if (code != 0 || result == 0)
            return code;
        // And but for the cautions about the chip, and a configuration that nobody printed: neither is about the reading.
        string[] flow =
        [
            "calibration-called",
            "calibration-overwritten",
            "clock-does-not-fit",
            "code-protection-on",
            "no-configuration",
            "wrong-bank",
            "wrong-page",
            "stack-too-deep",
            "runs-off-the-end",
            "watchdog-never-cleared",
            "pin-not-digital",
            "low-voltage-pin-used",
            "table-crosses-border",
            "skips-into-macro",
            "checks-without-chip",
            "interrupt-saves-nothing",
            "interrupt-flags-changed",
            "interrupt-flag-left",
            "interrupt-without-handler",
            "interrupts-never-enabled",
            "shared-routine",
            "eeprom-write-sequence",
            "eeprom-write-interrupted",
            "result-read-early",
            "number-as-register",
            "comparison-overwrites",
            "carry-not-changed",
            "comparison-always-same",
            "carry-sense-reversed",
            "carry-unknown",
            "read-before-write",
            "table-index-unset",
            "table-index-unlimited",
            "value-lost",
            "no-memory-here",
            "same-address",
            "falls-into-next",
            "direction-never-set",
            "input-only-pin-driven",
            "open-drain-pin-high",
            "pull-ups-off",
            "reset-pin-read",
            "reset-pin-open",
            "read-modify-write",
            "port-read-analog",
            "analog-output-lost",
            "low-voltage-on",
            "watchdog-not-in-loop",
            "watchdog-in-interrupt",
            "unused-code",
            "unused-name",
        ];
        return JsonNode
            .Parse(output.ToString())!
            .AsArray()
            .All(p => (string?)p!["severity"] is "note" or "information" || flow.Contains((string?)p["code"]))
            ? 0
            : 1;
    }

    private (int Code, JsonArray Entries, string[] Source) Recover(string input)
    {
        string source = Path.Combine(folder, "out.asm"),
            report = Path.Combine(folder, "out.json");
        File.Delete(source);
        File.Delete(report);
        int code = CommandLine.Run(
            ["recover", input, "-o", source, "--report", report, "--include", Programs],
            TextWriter.Null,
            TextWriter.Null
        );
        Assert.Equal(code != 2, File.Exists(source));
        Assert.Equal(code != 2, File.Exists(report));
        return code == 2
            ? (code, [], [])
            : (code, JsonNode.Parse(File.ReadAllText(report))!.AsArray(), File.ReadAllText(source).Split('\n'));
    }

    private static string[][] Damaged(string[] lines, string damage)
    {
        int middle = Array.FindIndex(
            lines,
            lines.Length / 2,
            l => l.Trim().Length > 0 && !l.TrimStart().StartsWith(';')
        );
        string[] done = damage switch
        {
            "blanks lost" => [.. lines.Select(l => l.TrimStart())],
            "a line lost" => [.. lines.Where((_, i) => i != middle)],
            "a digit for a letter" =>
            [
                .. lines.Select((l, i) => i == middle ? l.Replace("o", "0", StringComparison.OrdinalIgnoreCase) : l),
            ],
            "end lost" =>
            [
                .. lines.TakeWhile(l => !l.Trim().Split(' ')[0].Equals("end", StringComparison.OrdinalIgnoreCase)),
            ],
            _ => lines,
        };
        string[][] pages = [.. done.Chunk(20)];
        if (damage is "page numbers" or "a page missing" or "a page twice")
            pages = [.. pages.Select((p, i) => (string[])[$"Page {i + 1}", "", .. p])];
        if (damage == "a page missing" && pages.Length > 2)
            pages = [.. pages.Where((_, i) => i != 1)];
        if (damage == "a page twice")
            pages = [pages[0], .. pages];
        return pages;
    }
}
