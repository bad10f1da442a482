using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Scans;
using AsmLsp.Pdf.Tests.Printing;

namespace AsmLsp.Pdf.Tests;

/// <summary>
/// The kinds of files that scans come in, made by ImageMagick's 'convert' and by the text recognition itself; the program that
/// comes out of each is compared with the one that was printed.
/// </summary>
public class ScannedFilesTests
{
    private static readonly ProgramAnalysis Truth = PrintedTruth.Of("01-blinker");

    private static byte[] Print(DamageKind layout) =>
        new BuilderPrinter().Print(Sheets.Of(Truth.Root.Text.ToString(), layout));

    // The pages as gray maps in a folder, what a tool makes of them there, and the file of that name.
    private static byte[] Make(DamageKind layout, string name, Func<string[], (string Tool, string[] Arguments)> how) =>
        OutsideProgram.InFolder(folder =>
        {
            var files = new List<string>();
            foreach (Scanner.Picture page in Scanner.Draw(Print(layout), 300))
            {
                files.Add(Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"page{files.Count}.pgm")));
                File.WriteAllBytes(files[^1], page.Pgm());
            }

            (string tool, string[] arguments) = how([.. files]);
            OutsideProgram.Run(tool, [.. arguments.Select(a => a.Replace("OUT", folder, StringComparison.Ordinal))]);
            return File.ReadAllBytes(Path.Combine(folder, name));
        });

    private static PrintedDocument Read(byte[] file)
    {
        PrintedReading reading = new OcrReader(new PdfReader(), new ScanOcr()).Read(file);
        Assert.True(reading.Failure is null, reading.Failure?.Message);
        return reading.Document!;
    }

    private static void Hold(PrintedDocument document)
    {
        (Outcome outcome, List<string> unreported) = RecoveryJudge.Judge(Truth, DocumentRecovery.Run(document));
        Assert.True(outcome != Outcome.Silent, string.Join('\n', unreported));
    }

    [Theory]
    [InlineData("scan.png")]
    [InlineData("scan.jpg", "-quality", "60")]
    [InlineData("scan.tif", "-monochrome", "-compress", "Group4")]
    public void A_picture_file_is_read(string name, params string[] how) =>
        Hold(Read(Make(DamageKind.None, name, pages => ("convert", [pages[0], .. how, "OUT/" + name]))));

    [Fact]
    public void All_pages_of_a_picture_file_are_read()
    {
        PrintedDocument document = Read(
            Make(
                DamageKind.ShortPages,
                "scan.tif",
                static pages => ("convert", [.. pages, "-compress", "LZW", "OUT/scan.tif"])
            )
        );
        Assert.True(document.Pages.Length > 1);
        Assert.All(document.Pages, static p => Assert.NotEmpty(p.Lines));
        Hold(document);
    }

    [Theory]
    [InlineData("90")]
    [InlineData("180")]
    [InlineData("270")]
    public void A_page_that_lies_otherwise_is_turned(string degrees)
    {
        PrintedDocument document = Read(
            Make(DamageKind.None, "scan.png", pages => ("convert", [pages[0], "-rotate", degrees, "OUT/scan.png"]))
        );
        Assert.True(document.Pages[0].Lines.Length > 15);
        Hold(document);
    }

    [Fact]
    public void A_scan_with_the_text_of_somebody_is_read_anew_or_doubted_line_by_line()
    {
        byte[] file = Make(
            DamageKind.None,
            "layer.pdf",
            static pages => ("tesseract", [pages[0], "OUT/layer", "--psm", "6", "--dpi", "300", "pdf"])
        );
        PrintedDocument layer = new PdfReader().Read(file).Document!;
        Assert.True(layer.Pages[0].HasHiddenText);
        Assert.All(layer.Pages[0].Lines, static l => Assert.True(l.IsOcr));
        RecoveryResult result = DocumentRecovery.Run(layer);
        Hold(layer);
        // Nobody knows how clearly it was read: each line with a value is to be looked at.
        Assert.All(
            result
                .Source.Lines.Select(static l => l.Text)
                .Where(static t => t.Contains("movlw", StringComparison.Ordinal)),
            static t => Assert.Contains(";?", t, StringComparison.Ordinal)
        );

        PrintedDocument anew = Read(file);
        Assert.All(anew.Pages[0].Lines, static l => Assert.NotEmpty(l.CharacterConfidences));
        Assert.Contains(anew.Notes, static n => n.Contains("lies unseen", StringComparison.Ordinal));
        Hold(anew);
    }
}
