using System.Diagnostics;
using System.Xml.Linq;
using AsmLsp.Core.Printed;
using AsmLsp.Pdf;

namespace AsmLsp.Tests;

/// <summary>
/// The demo of docs/demo: its HEX file was worked out by hand from the fields of each word (crossing-words.md, check_words.py),
/// never taken from what is tested here.
/// </summary>
public class DemoTests
{
    private static string Demo(string name) => System.IO.Path.Combine(AppContext.BaseDirectory, "demo", name);

    [Fact]
    public async Task Clean_source_builds_to_the_words_worked_out_by_hand() =>
        await HoldsAsync(await File.ReadAllTextAsync(Demo("crossing.asm")), tidy: false);

    [Fact]
    public async Task Source_with_all_leading_blanks_lost_comes_back_by_tidy_alone() =>
        await HoldsAsync(
            ByLine(await File.ReadAllTextAsync(Demo("crossing.asm")), line => line.TrimStart()),
            tidy: true
        );

    [Fact]
    public async Task Source_with_every_line_indented_comes_back_by_tidy_alone() =>
        await HoldsAsync(ByLine(await File.ReadAllTextAsync(Demo("crossing.asm")), line => "    " + line), tidy: true);

    [Fact]
    public async Task Printed_document_comes_back_without_a_doubt_and_builds_to_the_same_words()
    {
        using var folder = new TemporaryFolder();
        string source = folder.Path("kit.asm"),
            report = folder.Path("report.json");
        Assert.Equal(0, await RunAsync("recover", Demo("crossing-kit.pdf"), "-o", source, "--report", report));
        Assert.DoesNotContain("\"warning\"", await File.ReadAllTextAsync(report), StringComparison.Ordinal);
        await HoldsAsync(await File.ReadAllTextAsync(source), tidy: false);
    }

    [Fact]
    public async Task Page_of_review_holds_every_printed_and_every_source_line_of_the_leaflet()
    {
        using var folder = new TemporaryFolder();
        string source = folder.Path("kit.asm"),
            review = folder.Path("kit.html");
        Assert.Equal(0, await RunAsync("recover", Demo("crossing-kit.pdf"), "-o", source, "--review", review));
        XDocument page = XDocument.Load(review, LoadOptions.PreserveWhitespace);
        Assert.True(
            new PdfReader()
                .Read(await File.ReadAllBytesAsync(Demo("crossing-kit.pdf")))
                .TryGet(out PrintedDocument? document, out _)
        );
        // Pages with nothing of the program come last.
        Assert.Equal(
            document.Pages.SelectMany(p => p.Lines).Select(l => l.Text).Order(StringComparer.Ordinal),
            Codes("print").Where(t => t.Length > 0).Order(StringComparer.Ordinal)
        );
        Assert.Equal(await File.ReadAllLinesAsync(source), Codes("source"));

        IEnumerable<string> Codes(string side) =>
            page.Descendants("td")
                .Where(d => (string?)d.Attribute("class") == side)
                .Descendants("code")
                .Select(c => c.Value);
    }

    [Fact]
    public async Task Archive_of_the_leaflet_stands_the_check_of_sha256sum_and_its_own()
    {
        using var folder = new TemporaryFolder();
        string archive = folder.Path("archive");
        Assert.Equal(0, await RunAsync("recover", Demo("crossing-kit.pdf"), "--archive", archive));
        Assert.Equal(0, await RunAsync("check", archive));
        Assert.Equal(
            await File.ReadAllTextAsync(Demo("crossing.hex")),
            await File.ReadAllTextAsync(System.IO.Path.Combine(archive, "source.hex"))
        );
        // GNU coreutils: the program that the archive names for checking it.
        using var sums = Process.Start(
            new ProcessStartInfo("sha256sum", ["-c", "--strict", "SHA256SUMS"])
            {
                WorkingDirectory = archive,
                RedirectStandardOutput = true,
            }
        )!;
        await sums.StandardOutput.ReadToEndAsync();
        await sums.WaitForExitAsync();
        Assert.Equal(0, sums.ExitCode);
    }

    private static async Task HoldsAsync(string source, bool tidy)
    {
        using var folder = new TemporaryFolder();
        string path = folder.Path("program.asm"),
            hex = folder.Path("program.hex");
        await File.WriteAllTextAsync(path, source);
        if (tidy)
            Assert.Equal(0, await RunAsync("tidy", path));
        Assert.Equal(0, await RunAsync("build", path, "-o", hex));
        Assert.Equal(await File.ReadAllTextAsync(Demo("crossing.hex")), await File.ReadAllTextAsync(hex));
    }

    private static string ByLine(string text, Func<string, string> change) =>
        string.Join('\n', text.Split('\n').Select(line => line.Length == 0 ? line : change(line)));

    private static async Task<int> RunAsync(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        relist.CloseInput();
        Task<string> output = relist.OutputAsync();
        (int code, string errors) = await relist.EndAsync();
        Assert.True(code == 0, errors + await output);
        return code;
    }

    private sealed class TemporaryFolder : IDisposable
    {
        private readonly string folder = Directory.CreateTempSubdirectory("relist-demo-").FullName;

        public string Path(string name) => System.IO.Path.Combine(folder, name);

        public void Dispose() => Directory.Delete(folder, recursive: true);
    }
}
