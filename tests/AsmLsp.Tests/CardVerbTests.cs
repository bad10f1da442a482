using System.Diagnostics;
using System.Text.Json;

namespace AsmLsp.Tests;

/// <summary>The bench card through the executable.</summary>
public sealed class CardVerbTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-card");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task Card_of_the_demo_is_one_page_with_the_batch()
    {
        string page = InFolder("card.html");
        (int code, _, string errors) = await RunAsync("card", Demo, "-o", page, "--boards", "4", "--labels");
        Assert.True(code == 0, errors);
        string html = await File.ReadAllTextAsync(page);
        Assert.StartsWith("<!DOCTYPE html>", html, StringComparison.Ordinal);
        Assert.Contains("4E51", html, StringComparison.Ordinal);
        Assert.Equal(4, html.Split("<div class=\"label\">").Length - 1);
        (code, string again, _) = await RunAsync("card", Demo, "--boards", "4", "--labels");
        Assert.Equal((0, html), (code, again));
    }

    [Fact]
    public async Task Json_and_markdown_say_the_same_facts()
    {
        (int code, string output, _) = await RunAsync("card", Demo, "--json");
        Assert.Equal(0, code);
        using var json = JsonDocument.Parse(output);
        Assert.Equal("0x4E51", json.RootElement.GetProperty("checksum").GetString());
        Assert.Equal(18, json.RootElement.GetProperty("pins").GetArrayLength());
        (code, output, _) = await RunAsync("card", Demo, "--format", "md");
        Assert.Equal(0, code);
        Assert.StartsWith("# crossing.hex in PIC16F84A", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Program_with_errors_gives_no_card()
    {
        string source = InFolder("bad.asm");
        await File.WriteAllTextAsync(source, " list p=16f84a\n goto nowhere\n end\n");
        (int code, string output, string errors) = await RunAsync("card", source, "-o", InFolder("card.html"));
        Assert.Equal((1, ""), (code, output));
        Assert.Contains("has errors", errors, StringComparison.Ordinal);
        Assert.False(File.Exists(InFolder("card.html")));
    }

    [Fact]
    public async Task Hex_file_needs_its_chip()
    {
        string hex = Path.Combine(Repository.Root, "docs", "demo", "crossing.hex");
        (int code, _, string errors) = await RunAsync("card", hex);
        Assert.Equal(2, code);
        Assert.Contains("--chip", errors, StringComparison.Ordinal);
        (code, string output, _) = await RunAsync(
            "card",
            hex,
            "--chip",
            "16F84A",
            "--clock",
            "4 MHz",
            "--format",
            "md"
        );
        Assert.Equal(0, code);
        Assert.Contains("oscillates at 4 MHz", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Hostile_file_name_never_becomes_markup()
    {
        string source = InFolder("<img src=x onerror=alert(1)>.asm");
        File.Copy(Demo, source);
        (int code, string output, _) = await RunAsync("card", source);
        Assert.Equal(0, code);
        Assert.DoesNotContain("<img", output, StringComparison.Ordinal);
    }

    // What a browser makes of the page: no element beyond those of the page itself, and two sheets of paper.
    [Fact]
    public async Task Browser_finds_no_markup_of_a_hostile_name_and_prints_two_sheets()
    {
        string source = InFolder("<img src=x onerror=alert(1)><script>alert(2).asm");
        File.Copy(Demo, source);
        string page = InFolder("card.html");
        (int code, _, string errors) = await RunAsync("card", source, "-o", page);
        Assert.True(code == 0, errors);
        string dom = await ChromiumAsync("--dump-dom", page);
        Assert.Contains("</svg>", dom, StringComparison.Ordinal);
        Assert.DoesNotContain("<img", dom, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("<script", dom, StringComparison.OrdinalIgnoreCase);
        await ChromiumAsync("--no-pdf-header-footer", $"--print-to-pdf={InFolder("card.pdf")}", page);
        using FileStream pdf = File.OpenRead(InFolder("card.pdf"));
        using var document = UglyToad.PdfPig.PdfDocument.Open(pdf);
        Assert.Equal(2, document.NumberOfPages);
    }

    private async Task<string> ChromiumAsync(params string[] arguments)
    {
        var start = new ProcessStartInfo("chromium") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (
            string argument in (string[])
                [
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--no-first-run",
                    "--disable-background-networking",
                    $"--user-data-dir={InFolder("profile")}",
                    .. arguments,
                ]
        )
            start.ArgumentList.Add(argument);
        using Process chromium = Process.Start(start)!;
        Task<string> errors = chromium.StandardError.ReadToEndAsync();
        string output = await chromium.StandardOutput.ReadToEndAsync();
        await chromium.WaitForExitAsync();
        await errors;
        return output;
    }

    private static string Demo => Path.Combine(Repository.Root, "docs", "demo", "crossing.asm");

    private string InFolder(string name) => Path.Combine(folder.FullName, name);

    private static async Task<(int Code, string Output, string Errors)> RunAsync(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        relist.CloseInput();
        Task<string> output = relist.OutputAsync();
        (int code, string errors) = await relist.EndAsync();
        return (code, await output, errors);
    }
}
