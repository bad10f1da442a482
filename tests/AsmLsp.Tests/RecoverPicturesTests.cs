using System.Text.Json.Nodes;

namespace AsmLsp.Tests;

/// <summary><c>recover --pictures</c>, and the pictures on the review page.</summary>
public sealed class RecoverPicturesTests : IDisposable
{
    private static readonly string[] Program =
    [
        "        list    p=16f84a",
        "        __config 0x3ff1",
        "        org     0",
        "start   movlw   0x30            ; sixty half seconds",
        "        goto    elsewhere",
        "        goto    start",
        "        end",
    ];

    private readonly string folder = Directory.CreateTempSubdirectory("relist-pictures-").FullName;
    private readonly StringWriter error = new();

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string At(string name) => Path.Combine(folder, name);

    private int Recover(params string[] arguments) =>
        CommandLine.Run(["recover", .. arguments], TextWriter.Null, error);

    [Fact]
    public void Report_names_the_pictures_of_each_doubt_and_they_are_there()
    {
        File.WriteAllBytes(At("kit.pdf"), RawPdf.Of(["A cover without a program"], Program));
        Directory.CreateDirectory(At("reports"));
        Assert.Equal(
            ExitCodes.ProblemsRemain,
            Recover(At("kit.pdf"), "-o", At("kit.asm"), "--report", At("reports/kit.json"), "--pictures", At("seen"))
        );
        JsonArray entries = JsonNode.Parse(File.ReadAllText(At("reports/kit.json")))!.AsArray();
        JsonNode[] open =
        [
            .. entries.Select(static e => e!).Where(static e => (string?)e["severity"] is "warning" or "error"),
        ];
        Assert.NotEmpty(open);
        string[] named = ["../seen/page-2-line-5.png", "../seen/page-2.png"];
        Assert.All(open, e => Assert.Equal(named, e["pictures"]!.AsArray().Select(static p => (string)p!)));
        Assert.All(named, p => Assert.Equal("PNG", Signature(Path.Combine(folder, "reports", p))));
        Assert.Equal(
            named.Select(Path.GetFileName).Order(StringComparer.Ordinal),
            Directory.GetFiles(At("seen")).Select(Path.GetFileName).Order(StringComparer.Ordinal)
        );
        // What was changed without a doubt needs no picture.
        Assert.All(
            entries.Where(static e => (string?)e!["severity"] == "note"),
            static e => Assert.Null(e!["pictures"])
        );
    }

    [Fact]
    public void Page_of_review_holds_the_picture_of_each_doubt()
    {
        File.WriteAllBytes(At("kit.pdf"), RawPdf.Of(Program));
        Recover(At("kit.pdf"), "-o", At("kit.asm"), "--review", At("kit.html"), "--archive", At("kit"));
        foreach (string page in (string[])[At("kit.html"), At("kit/review.html")])
        {
            string html = File.ReadAllText(page);
            Assert.Contains("alt=\"Picture of page 1, line 5\"", html, StringComparison.Ordinal);
            Assert.Contains("id=\"frame-page-1-line-5\"", html, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Document_is_never_overwritten_by_one_of_its_pictures()
    {
        // Named like the picture that would be written.
        File.WriteAllBytes(At("page-1-line-5.png"), RawPdf.Of(Program));
        byte[] before = File.ReadAllBytes(At("page-1-line-5.png"));
        Assert.Equal(ExitCodes.Unusable, Recover(At("page-1-line-5.png"), "-o", At("kit.asm"), "--pictures", folder));
        Assert.Contains("--pictures would overwrite", error.ToString(), StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(At("page-1-line-5.png")));
        Assert.False(File.Exists(At("kit.asm")));
    }

    [Fact]
    public void Paste_has_no_pictures_and_says_so()
    {
        File.WriteAllLines(At("kit.txt"), Program);
        Assert.Equal(ExitCodes.ProblemsRemain, Recover(At("kit.txt"), "-o", At("kit.asm"), "--pictures", At("seen")));
        Assert.Contains("a text has no printed pages", error.ToString(), StringComparison.Ordinal);
        Assert.True(File.Exists(At("kit.asm")));
    }

    [Fact]
    public void Folder_that_cannot_be_made_is_refused_and_nothing_is_written()
    {
        File.WriteAllBytes(At("kit.pdf"), RawPdf.Of(Program));
        Assert.Equal(ExitCodes.Unusable, Recover(At("kit.pdf"), "-o", At("kit.asm"), "--pictures", At("nowhere/seen")));
        Assert.Contains("does not exist", error.ToString(), StringComparison.Ordinal);
        Assert.False(File.Exists(At("kit.asm")));
    }

    [Fact]
    public void Doctor_says_what_draws_the_pictures()
    {
        var output = new StringWriter();
        CommandLine.Run(["doctor", folder], output, error);
        Assert.Contains("pictures of printed lines: drawn with /", output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_renderer_doctor_says_what_would_bring_pictures_and_recovery_goes_on_as_text()
    {
        File.WriteAllBytes(At("kit.pdf"), RawPdf.Of(Program));
        using RelistProcess doctor = RelistProcess.Shell(folder, "PATH=/nowhere \"$RELIST\" doctor .");
        string said = await doctor.OutputAsync();
        Assert.Contains("pictures of printed lines: pdftoppm is not installed (", said, StringComparison.Ordinal);
        using RelistProcess recover = RelistProcess.Shell(
            folder,
            "PATH=/nowhere \"$RELIST\" recover kit.pdf -o kit.asm --review kit.html --pictures seen"
        );
        (int code, string reported) = await recover.EndAsync();
        Assert.Equal(ExitCodes.ProblemsRemain, code);
        Assert.Contains(
            "There are no pictures of printed lines: pdftoppm is not installed",
            reported,
            StringComparison.Ordinal
        );
        Assert.Contains("pdftoppm is not installed", File.ReadAllText(At("kit.html")), StringComparison.Ordinal);
        Assert.True(File.Exists(At("kit.asm")));
    }

    private static string Signature(string path) => System.Text.Encoding.ASCII.GetString(File.ReadAllBytes(path), 1, 3);
}
