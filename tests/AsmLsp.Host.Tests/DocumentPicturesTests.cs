using System.Diagnostics;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Text;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests;

/// <summary>What surrounds the drawing of pages: a renderer that is missing, breaks, hangs, writes too much. What it draws is tested with the documents.</summary>
public sealed class DocumentPicturesTests : IDisposable
{
    // Drawn at 200 dots per inch, this is a picture of 556 by 278 dots.
    private const double Width = 200,
        Height = 100;

    private const string Draws =
        "{ printf 'P5\\n556 278\\n255\\n'; head -c 154568 /dev/zero | tr '\\0' '\\377'; } > drawn.pgm";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    private static RecoveredDocument Document(string name = "kit.pdf")
    {
        string[] text =
        [
            "        list    p=16f84a",
            "        org     0",
            "start   movlw   1",
            "        goto    elsewhere",
            "        end",
        ];
        var print = new PrintedDocument([
            new PrintedPage(
                1,
                Width,
                Height,
                [.. text.Select((t, i) => new PrintedLine(t, 1, i + 1, 10, 20 + 12 * i, "Courier", 10, true))],
                []
            ),
        ]);
        return new RecoveredDocument(name, "%PDF-1.4 and so on"u8.ToArray(), print, null, DocumentRecovery.Run(print));
    }

    private DocumentPictures Draw(string script, RecoveredDocument? document = null, PictureLimits? limits = null) =>
        DocumentPictures.Draw(
            document ?? Document(),
            limits: limits,
            tools: new ScanTools(null, folder.Script("renderer", script), null)
        );

    private string Reported(string name) => File.ReadAllText(folder[name]).Trim();

    [Fact]
    public void Without_a_renderer_there_are_no_pictures_and_a_sentence_says_what_would_bring_them()
    {
        DocumentPictures none = DocumentPictures.Draw(Document(), tools: new ScanTools(null, null, null));
        Assert.Empty(none.Lines);
        Assert.Empty(none.Pages);
        Assert.StartsWith(
            "There are no pictures of printed lines: pdftoppm is not installed (",
            none.Note,
            StringComparison.Ordinal
        );
        if (OperatingSystem.IsLinux())
            Assert.Contains("sudo apt install poppler-utils;", none.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Scanned_picture_needs_tesseract_besides()
    {
        RecoveredDocument scan = Document() with { Bytes = (byte[])[0x89, .. "PNG\r\n\u001A\n and so on"u8] };
        Assert.Contains(
            "tesseract and pdftoppm are not installed",
            DocumentPictures.Draw(scan, tools: new ScanTools(null, null, null)).Note,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "tesseract is not installed",
            DocumentPictures.Draw(scan, tools: new ScanTools(null, "/usr/bin/pdftoppm", null)).Note,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Text_has_no_pages_to_show()
    {
        SourceText pasted = SourceText.From(" list p=16f84a\n movwl 1\n end\n");
        var document = new RecoveredDocument("kit.txt", Array.Empty<byte>(), null, pasted, TextRecovery.Run(pasted));
        DocumentPictures none = DocumentPictures.Draw(document);
        Assert.Empty(none.Lines);
        Assert.Contains("a text has no printed pages", none.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Arguments_are_the_same_whatever_the_document_is_called_and_holds()
    {
        string script = $"for a in \"$@\"; do echo \"$a\"; done > '{folder["arguments"]}'; {Draws}";
        Assert.Single(Draw(script, Document("-r 5 $(touch x) ; `id` & ../../../kit.pdf")).Lines);
        Assert.Equal(
            "-f 1 -l 1 -gray -singlefile -cropbox -r 200 -x 0 -y 0 -W 558 -H 280 document.pdf drawn",
            Reported("arguments").Replace('\n', ' ')
        );
    }

    [Fact]
    public void Renderer_works_in_a_private_folder_that_is_gone_afterwards()
    {
        Draw($"{{ pwd; stat -c %a .; }} > '{folder["reported"]}'; {Draws}");
        string[] reported = Reported("reported").Split('\n');
        Assert.Contains("relist-pages-", reported[0], StringComparison.Ordinal);
        Assert.False(Directory.Exists(reported[0]));
        if (OperatingSystem.IsLinux())
            Assert.Equal("700", reported[1]);
    }

    [Fact]
    public void Renderer_is_bounded_in_memory_and_in_the_length_of_files()
    {
        if (!OperatingSystem.IsLinux())
            return;
        Draw($"sleep 0.5; {{ ulimit -v; ulimit -f; }} > '{folder["reported"]}'; {Draws}");
        // In kilobytes, and in blocks of 512 bytes.
        Assert.Equal("4194304\n2097152", Reported("reported"));
    }

    [Fact]
    public void Renderer_that_hangs_is_stopped_and_the_page_is_named()
    {
        long started = Stopwatch.GetTimestamp();
        DocumentPictures none = Draw(
            $"pwd > '{folder["reported"]}'; echo $$ > '{folder["process"]}'; exec sleep 63",
            limits: new PictureLimits { TimeOfPage = TimeSpan.FromMilliseconds(700) }
        );
        Assert.True(Stopwatch.GetElapsedTime(started) < TimeSpan.FromSeconds(40));
        Assert.Empty(none.Lines);
        Assert.Equal("There are no pictures of page 1: they could not be drawn as they were read.", none.Note);
        Assert.False(Directory.Exists(Reported("reported")));
        Assert.False(
            OperatingSystem.IsLinux()
                && File.Exists($"/proc/{Reported("process")}/cmdline")
                && File.ReadAllText($"/proc/{Reported("process")}/cmdline").Contains("63", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void Stop_is_heard_while_a_page_is_drawn()
    {
        using var stop = new CancellationTokenSource(TimeSpan.FromMilliseconds(500));
        Assert.Throws<OperationCanceledException>(() =>
            DocumentPictures.Draw(
                Document(),
                tools: new ScanTools(
                    null,
                    folder.Script("renderer", $"pwd > '{folder["reported"]}'; exec sleep 64"),
                    null
                ),
                cancellation: stop.Token
            )
        );
        Assert.False(Directory.Exists(Reported("reported")));
    }

    [Theory]
    [InlineData("exit 1")]
    [InlineData("exit 0")]
    [InlineData("echo nonsense > drawn.pgm")]
    [InlineData("printf 'P5\\n100000 100000\\n255\\n' > drawn.pgm; head -c 100000 /dev/zero >> drawn.pgm")]
    [InlineData("printf 'P5\\n556 278\\n255\\n' > drawn.pgm")]
    [InlineData("{ printf 'P5\\n100 100\\n255\\n'; head -c 10000 /dev/zero; } > drawn.pgm")]
    [InlineData("mkdir drawn.pgm")]
    [InlineData("kill -SEGV $$")]
    public void Renderer_that_breaks_leaves_the_text_as_it_is(string script)
    {
        DocumentPictures none = Draw(script);
        Assert.Empty(none.Lines);
        Assert.Empty(none.Pages);
        Assert.Contains("page 1", none.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Pictures_are_files_by_page_and_line_and_links_are_not_followed()
    {
        DocumentPictures pictures = Draw(Draws);
        string named = folder["pictures"];
        var files = new PictureFolder(named, pictures);
        Assert.Null(files.Write());
        Assert.Equal(
            ["page-1-line-4.png", "page-1.png"],
            Directory.GetFiles(named).Select(Path.GetFileName).Order(StringComparer.Ordinal)
        );
        // Once more over its own files.
        Assert.Null(files.Write());
        if (!OperatingSystem.IsWindows())
        {
            string elsewhere = folder.Write("elsewhere.png", "mine");
            File.Delete(Path.Combine(named, "page-1.png"));
            File.CreateSymbolicLink(Path.Combine(named, "page-1.png"), elsewhere);
            Assert.Contains("it is a link", files.Write(), StringComparison.Ordinal);
            Assert.Equal("mine", File.ReadAllText(elsewhere));
        }

        Assert.Contains(
            "does not exist",
            new PictureFolder(folder["nowhere/pictures"], pictures).Write(),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "is a file",
            new PictureFolder(folder.Write("file", "x"), pictures).Write(),
            StringComparison.Ordinal
        );
    }
}
