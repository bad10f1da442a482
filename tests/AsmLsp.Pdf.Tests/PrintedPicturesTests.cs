using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Scans;
using AsmLsp.Pdf.Tests.Printing;
using UglyToad.PdfPig.Fonts.Standard14Fonts;

namespace AsmLsp.Pdf.Tests;

/// <summary>The pictures of printed lines, read with tesseract: each has to show its own line, the whole of it and no other.</summary>
public class PrintedPicturesTests
{
    private const int Quoted = 4;

    private static readonly string[] Program =
    [
        "        list    p=16f84a",
        "count   equ     0x0c            ; turns of the wheel",
        "        org     0",
        "start   movlw   0x30            ; sixty half seconds",
        "        movwf   count",
        "again   decfsz  count,f         ; one less",
        "        goto    again",
        "        goto    start           ; and once more",
        "        end",
    ];

    private static byte[] Print(string name, DamageKind layout) =>
        new BuilderPrinter().Print(Sheets.Of(PrintedTruth.Of(name).Root.Text.ToString(), layout));

    // A document as if each of its lines were in doubt.
    private static RecoveredDocument Doubted(byte[] file, PrintedDocument? read = null)
    {
        if (read is null)
        {
            PrintedReading reading = new OcrReader(new PdfReader(), new ScanOcr()).Read(file);
            Assert.True(reading.Failure is null, reading.Failure?.Message);
            read = reading.Document!;
        }

        RecoveryResult result = DocumentRecovery.Run(read);
        return new RecoveredDocument(
            "print.pdf",
            file,
            read,
            null,
            result with
            {
                Entries =
                [
                    .. result.Origins.Select(
                        static (_, i) => new RecoveryEntry(i, 0, 1, Severity.Warning, "open-doubt", "Compare it.")
                    ),
                ],
            }
        );
    }

    private static DocumentPictures Draw(RecoveredDocument document)
    {
        DocumentPictures pictures = DocumentPictures.Draw(document);
        Assert.Null(pictures.Note);
        return pictures;
    }

    // Some of the pictures, read back, against the printed lines that they should show.
    private static void Hold(RecoveredDocument document, double least = 0.8)
    {
        DocumentPictures pictures = Draw(document);
        Dictionary<(int, int), PrintedLine> lines = document
            .Printed!.Pages.SelectMany(static p => p.Lines)
            .ToDictionary(static l => (l.Page, l.Number));
        LinePicture[] legible =
        [
            .. pictures.Lines.Where(p =>
                p.Area.FirstLine == p.Area.LastLine
                && lines[(p.Area.Page, p.Area.FirstLine)].Text.Count(char.IsLetterOrDigit) >= 9
            ),
        ];
        Assert.True(legible.Length >= 3, $"{legible.Length} pictures");
        for (int i = 0; i < Quoted; i++)
        {
            LinePicture picture = legible[(legible.Length - 1) * i / (Quoted - 1)];
            string printed = Resemblance.ShapesOf(lines[(picture.Area.Page, picture.Area.FirstLine)].Text),
                seen = Resemblance.ShapesOf(Seen(picture.Png));
            int common = Resemblance.Common(printed, seen);
            Assert.True(
                common >= least * printed.Length && common >= least * seen.Length,
                $"{picture.Area.Place} is '{printed}', its picture shows '{seen}'"
            );
        }
    }

    private static string Seen(byte[] png) =>
        OutsideProgram.InFolder(folder =>
        {
            string path = Path.Combine(folder, "line.png");
            File.WriteAllBytes(path, png);
            // White paper around it: recognition is made for pages.
            OutsideProgram.Run("convert", [path, "-bordercolor", "white", "-border", "20", path]);
            return Encoding.UTF8.GetString(
                OutsideProgram.Run("tesseract", [path, "stdout", "--psm", "7", "--dpi", "200"])
            );
        });

    [Theory]
    [InlineData(DamageKind.None)]
    [InlineData(DamageKind.TwoColumns)]
    [InlineData(DamageKind.ProportionalFont)]
    [InlineData(DamageKind.LineNumbers | DamageKind.ShortPages | DamageKind.HeadersAndFooters)]
    public void Picture_of_a_line_shows_that_line_and_no_other(DamageKind layout) =>
        Hold(Doubted(Print("13-dimmer", layout)));

    [Theory]
    [InlineData("a2ps--28-dice")]
    [InlineData("latex-dots--28-dice")]
    [InlineData("report-two-up--30-lock")]
    [InlineData("office-table--28-dice")]
    [InlineData("web-columns--28-dice")]
    public void Prints_of_other_programs_are_cut_at_their_lines(string name) =>
        Hold(Doubted(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "prints", name + ".pdf"))));

    [Theory]
    [InlineData("", "1 0 0 1 60 {0} Tm", -12)]
    [InlineData("/CropBox [40 40 555 802]", "1 0 0 1 60 {0} Tm", -12)]
    [InlineData("/Rotate 90", "0 1 -1 0 {0} 60 Tm", 12)]
    [InlineData("", "0 1 -1 0 {0} 60 Tm", 12)]
    [InlineData("", "0 -1 1 0 {0} 760 Tm", -12)]
    [InlineData("/Rotate 180", "-1 0 0 -1 500 {0} Tm", 12)]
    [InlineData("/Rotate 270 /CropBox [30 40 555 802]", "0 -1 1 0 {0} 760 Tm", -12)]
    public void Pages_that_are_turned_or_cut_are_shown_as_they_are_read(string entries, string place, int step)
    {
        var content = new StringBuilder("BT /F1 10 Tf ");
        for (int i = 0; i < Program.Length; i++)
            content
                .AppendFormat(CultureInfo.InvariantCulture, place, 300 + step * i)
                .Append(CultureInfo.InvariantCulture, $" ({Program[i]}) Tj ");
        RecoveredDocument document = Doubted(Pdfs.WithContent(content + "ET", entries));
        Assert.Equal(Program, document.Printed!.Pages[0].Lines.Select(static l => l.Text));
        Hold(document);
    }

    [Fact]
    public void Scan_that_lies_askew_is_shown_straight() =>
        Hold(
            Doubted(
                Scanner.Scan(
                    Print("01-blinker", DamageKind.None),
                    new ScanKind("askew", 300, Turn: 0.8, Blur: 0.5, Grain: 6, Paper: 245)
                )
            )
        );

    [Theory]
    [InlineData("scan.png", "0")]
    [InlineData("scan.jpg", "90")]
    [InlineData("scan.tif", "180")]
    public void Picture_file_is_shown_itself_and_upright(string name, string degrees) =>
        Hold(
            Doubted(
                OutsideProgram.InFolder(folder =>
                {
                    string page = Path.Combine(folder, "page.pgm"),
                        scan = Path.Combine(folder, name);
                    File.WriteAllBytes(page, Scanner.Draw(Print("01-blinker", DamageKind.None), 300)[0].Pgm());
                    OutsideProgram.Run("convert", [page, "-rotate", degrees, scan]);
                    return File.ReadAllBytes(scan);
                })
            )
        );

    [Fact]
    public void Every_line_of_a_print_has_ink_from_edge_to_edge_and_its_page_a_frame_around_it()
    {
        RecoveredDocument document = Doubted(Print("30-lock", DamageKind.None));
        DocumentPictures pictures = Draw(document);
        Assert.True(pictures.Lines.Count() > 40);
        foreach (LinePicture line in pictures.Lines)
        {
            PngPicture dots = PngPicture.Read(line.Png);
            Assert.Equal((line.Width, line.Height), (dots.Width, dots.Height));
            Assert.True(dots.HasInk(0, 0, dots.Width, dots.Height), line.Area.Place);
            // Nothing of the lines above and below, which are 12 points away.
            Assert.False(dots.HasInk(0, 0, dots.Width, 1), line.Area.Place);
            Assert.False(dots.HasInk(0, dots.Height - 1, dots.Width, 1), line.Area.Place);
        }

        PagePicture page = pictures.Pages.First();
        PngPicture plain = PngPicture.Read(page.Png),
            framed = PngPicture.Read(page.Framed);
        foreach (LineFrame frame in page.Frames)
        {
            int left = (int)(frame.Left * plain.Width),
                width = (int)((frame.Right - frame.Left) * plain.Width),
                above = (int)(frame.Top * plain.Height) - 1;
            Assert.True(
                plain.HasInk(left, above, width, (int)((frame.Bottom - frame.Top) * plain.Height)),
                frame.Area.Place
            );
            Assert.True(framed.HasInk(left, above, width, 1), frame.Area.Place);
        }
    }

    [Fact]
    public void Joined_lines_are_one_picture_and_a_line_on_two_pages_is_two()
    {
        string first = "start   movlw   0x30            ; sixty half seconds and a little more, so that it",
            rest = "                                ; goes on here";
        byte[] file = Pdfs.Pages(
            (page, font) => Pdfs.Listing(page, font(Standard14Font.Courier), [Program[0], first, rest, .. Program[4..]])
        );
        RecoveredDocument document = Doubted(file);
        PrintedDocument print = document.Printed!;
        var both = Core.Text.LineOrigin.At(1, 2).With(Core.Text.LineOrigin.At(1, 3));
        ImmutableArray<PrintedArea> areas = PrintedArea.Of(both, Find);
        PrintedArea area = Assert.Single(areas);
        Assert.Equal("page-1-lines-2-3", area.Name);
        Assert.True(area.Bottom - area.Top > 20);
        Assert.Equal(
            ["page-1-line-2", "page-1-line-4"],
            PrintedArea
                .Of(Core.Text.LineOrigin.At(1, 2).With(Core.Text.LineOrigin.At(1, 4)), Find)
                .Select(static a => a.Name)
        );
        Assert.Empty(PrintedArea.Of(Core.Text.LineOrigin.At(7, 2), Find));
        Assert.Empty(PrintedArea.Of(Core.Text.LineOrigin.At(1, 0), Find));

        PrintedLine? Find(Core.Text.PrintedPlace place) =>
            print
                .Pages.SelectMany(static p => p.Lines)
                .FirstOrDefault(l => l.Page == place.Page && l.Number == place.Line);
    }

    [Fact]
    public void Page_of_another_size_than_was_read_gives_no_picture_rather_than_a_wrong_one()
    {
        byte[] file = Print("01-blinker", DamageKind.None);
        PrintedDocument read = new PdfReader().Read(file).Document!;
        RecoveredDocument document = Doubted(
            file,
            read with
            {
                Pages = [.. read.Pages.Select(static p => p with { Height = p.Height - 40 })],
            }
        );
        DocumentPictures pictures = DocumentPictures.Draw(document);
        Assert.Empty(pictures.Lines);
        Assert.Empty(pictures.Pages);
        Assert.Equal("There are no pictures of page 1: they could not be drawn as they were read.", pictures.Note);
    }

    [Fact]
    public void Limits_leave_out_pages_and_say_which()
    {
        RecoveredDocument document = Doubted(Print("30-lock", DamageKind.ShortPages));
        int pages = document.Printed!.Pages.Length;
        Assert.True(pages > 3);
        DocumentPictures few = DocumentPictures.Draw(document, limits: new PictureLimits { Pages = 1 });
        Assert.All(few.Lines, static l => Assert.Equal(1, l.Area.Page));
        Assert.Equal($"There are no pictures of pages 2-{pages}: no more than 1 are drawn.", few.Note);
        DocumentPictures small = DocumentPictures.Draw(document, limits: new PictureLimits { BytesOfPages = 100_000 });
        Assert.NotEmpty(small.Lines);
        Assert.True(small.Pages.Count() < pages);
        Assert.NotNull(small.Note);
    }

    [Fact]
    public void Page_that_was_not_read_is_shown_whole_where_the_program_goes_on_over_it()
    {
        byte[] file = Print("30-lock", DamageKind.ShortPages);
        PrintedDocument read = new PdfReader().Read(file).Document!;
        ImmutableArray<PrintedPage> pages = read.Pages;
        Assert.True(pages.Length > 4);
        // As if there were nothing but a picture on the third page; the last one is far from the program.
        PrintedDocument lacking = read with
        {
            Pages =
            [
                .. pages.Select(static p =>
                    p.Number == 3
                        ? p with
                        {
                            Width = 0,
                            Height = 0,
                            Lines = [],
                            State = PrintedPageState.PictureOnly,
                        }
                        : p
                ),
                new PrintedPage(pages.Length + 9, 0, 0, [], [], PrintedPageState.PictureOnly),
            ],
        };
        RecoveryResult result = DocumentRecovery.Run(lacking);
        DocumentPictures pictures = DocumentPictures.Draw(
            new RecoveredDocument("print.pdf", file, lacking, null, result)
        );
        Assert.Null(pictures.Note);
        PagePicture whole = pictures.OfPage(3)!;
        Assert.Empty(whole.Frames);
        Assert.True(PngPicture.Read(whole.Png).HasInk(0, 0, whole.Width, whole.Height));
        Assert.DoesNotContain(pictures.Pages, p => p.Page == pages.Length + 9);
    }

    [Fact]
    public void Nothing_is_left_in_the_temporary_folder()
    {
        Draw(Doubted(Print("01-blinker", DamageKind.None)));
        // Other tests draw at the same time: theirs is young.
        Assert.DoesNotContain(
            Directory.GetDirectories(Path.GetTempPath(), "relist-pages-*"),
            static d =>
                Directory.Exists(d) && DateTime.UtcNow - Directory.GetCreationTimeUtc(d) > TimeSpan.FromMinutes(5)
        );
    }
}
