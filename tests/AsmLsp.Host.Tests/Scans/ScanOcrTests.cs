using System.Collections.Immutable;
using System.Diagnostics;
using AsmLsp.Core.Printed;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests.Scans;

/// <summary>What surrounds the recognition: tools that are missing, break, or never end. What it reads is tested with the documents.</summary>
public class ScanOcrTests
{
    private static readonly byte[] Pdf = [.. "%PDF-1.4 nothing"u8];

    [Fact]
    public void Without_the_tools_it_says_what_to_install()
    {
        Recognition read = new ScanOcr(tools: new ScanTools(null, "/usr/bin/pdftoppm", "/usr/bin/pdfinfo")).Recognize(
            Pdf,
            DocumentFileKind.Pdf,
            []
        );
        Assert.Equal(PrintedFailureKind.NoOcr, read.Failure!.Kind);
        Assert.Contains("tesseract is not installed", read.Failure.Message, StringComparison.Ordinal);
        if (OperatingSystem.IsLinux())
            Assert.Contains("apt install tesseract-ocr;", read.Failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_broken_document_is_reported() =>
        Assert.Equal(PrintedFailureKind.Damaged, new ScanOcr().Recognize(Pdf, DocumentFileKind.Pdf, []).Failure!.Kind);

    [Fact]
    public void A_broken_picture_is_reported() =>
        Assert.Equal(
            PrintedFailureKind.Damaged,
            new ScanOcr()
                .Recognize(new byte[] { 0xFF, 0xD8, 0xFF, 0xE0, 1, 2, 3 }, DocumentFileKind.Picture, [])
                .Failure!.Kind
        );

    [Fact]
    public void A_document_that_is_too_large_is_not_touched() =>
        Assert.Equal(
            PrintedFailureKind.TooLarge,
            new ScanOcr(new ScanLimits { FileBytes = 3 }).Recognize(Pdf, DocumentFileKind.Pdf, []).Failure!.Kind
        );

    [Fact]
    public void A_tool_that_takes_too_long_is_stopped_with_all_it_started()
    {
        using var folder = new TempFolder();
        long started = Stopwatch.GetTimestamp();
        // The child outlives the shell unless both are stopped.
        (ToolEnd end, _) = OutsideTool.Run(
            "/bin/sh",
            ["-c", "sleep 61 & echo $! > child; wait"],
            folder.Path,
            TimeSpan.FromMilliseconds(500),
            CancellationToken.None
        );
        Assert.Equal(ToolEnd.TooLong, end);
        Assert.True(Stopwatch.GetElapsedTime(started) < TimeSpan.FromSeconds(50));
        int child = int.Parse(
            File.ReadAllText(Path.Combine(folder.Path, "child")),
            System.Globalization.CultureInfo.InvariantCulture
        );
        Assert.True(HasEnded(child));
    }

    [Fact]
    public void A_tool_is_stopped_when_nobody_wants_its_result()
    {
        using var folder = new TempFolder();
        using var stop = new CancellationTokenSource(TimeSpan.FromMilliseconds(300));
        Assert.Throws<OperationCanceledException>(() =>
            OutsideTool.Run("/bin/sh", ["-c", "exec sleep 62"], folder.Path, TimeSpan.FromSeconds(60), stop.Token)
        );
    }

    [Fact]
    public void A_tool_that_fails_or_is_missing_is_reported()
    {
        using var folder = new TempFolder();
        Assert.Equal(
            ToolEnd.Failed,
            OutsideTool
                .Run("/bin/sh", ["-c", "exit 3"], folder.Path, TimeSpan.FromSeconds(30), CancellationToken.None)
                .End
        );
        Assert.Equal(
            ToolEnd.Failed,
            OutsideTool
                .Run(
                    Path.Combine(folder.Path, "nothing"),
                    [],
                    folder.Path,
                    TimeSpan.FromSeconds(30),
                    CancellationToken.None
                )
                .End
        );
    }

    [Fact]
    public void What_a_tool_says_is_kept_up_to_a_limit_and_never_blocks_it()
    {
        using var folder = new TempFolder();
        (ToolEnd end, string output) = OutsideTool.Run(
            "/bin/sh",
            ["-c", "head -c 3000000 /dev/zero | tr '\\0' x; head -c 300000 /dev/zero >&2"],
            folder.Path,
            TimeSpan.FromSeconds(30),
            CancellationToken.None
        );
        Assert.Equal(ToolEnd.Done, end);
        Assert.Equal(256 * 1024, output.Length);
    }

    [Fact]
    public void Nothing_is_left_in_the_temporary_folder()
    {
        using var folder = new TempFolder();
        // A recognition whose tools keep the path of their folder.
        string tool = Path.Combine(folder.Path, "tool"),
            reported = Path.Combine(folder.Path, "reported");
        Script(tool, $"pwd > '{reported}'; exit 1");
        Assert.NotNull(
            new ScanOcr(tools: new ScanTools(tool, tool, tool)).Recognize(Pdf, DocumentFileKind.Pdf, []).Failure
        );
        string used = File.ReadAllText(reported).Trim();
        Assert.Contains("relist-scan-", used, StringComparison.Ordinal);
        Assert.False(Directory.Exists(used));
    }

    [Fact]
    public void No_more_than_the_allowed_pages_are_read_and_the_rest_is_reported()
    {
        using var folder = new TempFolder();
        string info = Path.Combine(folder.Path, "info"),
            draw = Path.Combine(folder.Path, "draw"),
            read = Path.Combine(folder.Path, "read");
        // In place of the programs: three small pages, a picture of nothing, and a text with one letter.
        Script(info, "for p in 1 2 3; do echo \"Page    $p size:  100 x 100 pts\"; done");
        Script(draw, "{ printf 'P5\\n10 10\\n255\\n'; head -c 100 /dev/zero | tr '\\0' w; } > drawn.pgm");
        Script(
            read,
            "echo \"<span class='ocr_line' title='bbox 0 0 9 9; baseline 0 0'><span class='ocrx_cinfo' title='x_bboxes 1 1 5 5; x_conf 99'>a</span></span>\" > read.hocr"
        );
        Recognition done = new ScanOcr(new ScanLimits { Pages = 2 }, new ScanTools(read, draw, info)).Recognize(
            Pdf,
            DocumentFileKind.Pdf,
            []
        );
        Assert.Equal([1, 2], done.Pages.Select(static p => p.Number));
        Assert.Contains("Only the first 2 of 3", Assert.Single(done.Notes), StringComparison.Ordinal);
    }

    private static void Script(string path, string body)
    {
        File.WriteAllText(path, "#!/bin/sh\n" + body + "\n");
        OutsideTool.Run(
            "/bin/chmod",
            ["+x", path],
            Path.GetDirectoryName(path)!,
            TimeSpan.FromSeconds(30),
            CancellationToken.None
        );
    }

    private static bool HasEnded(int id)
    {
        for (int i = 0; i < 100; i++)
        {
            try
            {
                using var process = Process.GetProcessById(id);
                // A child whose parent is gone and that nobody has waited for yet is dead, too.
                if (
                    process.HasExited || File.ReadAllText($"/proc/{id}/stat").Contains(") Z ", StringComparison.Ordinal)
                )
                    return true;
            }
            catch (Exception fault) when (fault is ArgumentException or IOException or InvalidOperationException)
            {
                return true;
            }

            Thread.Sleep(50);
        }

        return false;
    }
}
