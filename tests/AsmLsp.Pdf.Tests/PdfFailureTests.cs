using System.IO.Compression;
using System.Text;
using AsmLsp.Core.Printed;
using UglyToad.PdfPig.Core;

namespace AsmLsp.Pdf.Tests;

public class PdfFailureTests
{
    private static byte[] Fixture(string name) =>
        File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "fixtures", name));

    private static PrintedFailure Fails(byte[] bytes)
    {
        PrintedReading reading = new PdfReader().Read(bytes);
        Assert.Null(reading.Document);
        Assert.NotEmpty(reading.Failure!.Message);
        return reading.Failure;
    }

    // Locked with qpdf 11, `--encrypt reader owner 256` and `128 --use-aes=y`.
    [Theory]
    [InlineData("password.pdf")]
    [InlineData("password-aes128.pdf")]
    public void Document_with_a_password_is_reported_as_locked(string name) =>
        Assert.Equal(PrintedFailureKind.Encrypted, Fails(Fixture(name)).Kind);

    [Fact]
    public void Document_that_anybody_may_open_is_read_even_where_printing_is_forbidden() =>
        Assert.Equal(
            "start   movlw   0x05",
            new PdfReader().Read(Fixture("no-printing.pdf")).Document!.Pages[0].Lines[0].Text
        );

    [Fact]
    public void Page_with_a_picture_only_is_reported()
    {
        // A picture of one white point (PNG, 1 x 1).
        byte[] picture = Convert.FromBase64String(
            "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4//8/AAX+Av4N70a4AAAAAElFTkSuQmCC"
        );
        using var scan = new Paper();
        scan.Page.AddPng(picture, new PdfRectangle(20, 20, 500, 800));
        PrintedFailure failure = Fails(scan.Bytes());
        Assert.Equal(PrintedFailureKind.ImageOnly, failure.Kind);
        Assert.Contains("text recognition", failure.Message, StringComparison.Ordinal);

        using var mixed = new Paper();
        mixed.Page.AddPng(picture, new PdfRectangle(20, 20, 500, 800));
        mixed.NextPage().Write("nop", 60, 100);
        PrintedDocument document = mixed.Read();
        Assert.Equal([PrintedPageState.PictureOnly, PrintedPageState.Read], document.Pages.Select(p => p.State));
    }

    [Fact]
    public void Blank_pages_are_reported_as_empty() =>
        Assert.Equal(PrintedFailureKind.Empty, Fails(new Paper().Bytes()).Kind);

    [Fact]
    public void File_without_bytes_is_reported_as_empty() => Assert.Equal(PrintedFailureKind.Empty, Fails([]).Kind);

    [Theory]
    [InlineData("        movlw 5\n")]
    [InlineData("PK\u0003\u0004 a packed file")]
    [InlineData("{\\rtf1 text}")]
    public void Other_file_is_reported_as_no_pdf(string text) =>
        Assert.Equal(PrintedFailureKind.NotADocument, Fails(Encoding.Latin1.GetBytes(text)).Kind);

    [Fact]
    public void Truncated_document_is_reported_as_damaged_or_read_with_a_note()
    {
        byte[] whole = new Paper().Listing(string.Join('\n', Enumerable.Repeat("        movlw   0x05", 40))).Bytes();
        int read = 0,
            damaged = 0;
        for (int length = 64; length < whole.Length - 8; length += 97)
        {
            PrintedReading reading = new PdfReader().Read(whole.AsMemory(0, length));
            if (reading.Document is { } document)
            {
                read++;
                Assert.Contains("cut off", Assert.Single(document.Notes), StringComparison.Ordinal);
            }
            else
            {
                damaged++;
                Assert.Equal(PrintedFailureKind.Damaged, reading.Failure!.Kind);
            }
        }

        Assert.True(damaged > 0, $"{read} read, {damaged} damaged");
    }

    [Fact]
    public void Damaged_bytes_never_throw()
    {
        byte[] whole = new Paper().Listing("start   movlw   0x05\n        movwf   0x06").Bytes();
        var random = new Random(20010917);
        for (int i = 0; i < 300; i++)
        {
            byte[] broken = [.. whole];
            for (int n = random.Next(1, 30); n > 0; n--)
                broken[random.Next(broken.Length)] = (byte)random.Next(256);
            PrintedReading reading = new PdfReader(new ReadingLimits { Time = TimeSpan.FromSeconds(20) }).Read(broken);
            Assert.True(reading.Document is null != (reading.Failure is null));
        }
    }

    [Fact]
    public void Part_that_unpacks_to_gigabytes_is_not_unpacked()
    {
        using var packed = new MemoryStream();
        using (var stream = new ZLibStream(packed, CompressionLevel.Optimal, leaveOpen: true))
        {
            byte[] blanks = new byte[1 << 20];
            Array.Fill(blanks, (byte)' ');
            for (int i = 0; i < 300; i++)
                stream.Write(blanks);
        }

        byte[] bytes = SmallPdf.With(packed.ToArray(), "/Filter/FlateDecode", "/BaseFont/Courier");
        long before = GC.GetTotalAllocatedBytes();
        Assert.Equal(PrintedFailureKind.TooLarge, Fails(bytes).Kind);
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 200L << 20);
    }

    [Fact]
    public void Reading_ends_at_its_deadline()
    {
        using var paper = new Paper();
        for (int i = 0; i < 60; i++)
            paper
                .Listing(
                    string.Join(
                        '\n',
                        Enumerable.Repeat("        movlw   0x05    ; and a remark that goes on for long", 60)
                    )
                )
                .NextPage();
        PrintedReading reading = new PdfReader(new ReadingLimits { Time = TimeSpan.FromMilliseconds(1) }).Read(
            paper.Bytes()
        );
        Assert.Equal(PrintedFailureKind.TooLarge, reading.Failure!.Kind);
    }

    [Fact]
    public void Reading_ends_when_it_is_cancelled()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();
        Assert.Throws<OperationCanceledException>(() => new PdfReader().Read(new Paper().Bytes(), cancelled.Token));
    }

    [Fact]
    public void Character_without_a_meaning_is_marked_as_unknown()
    {
        // The map knows code 1 as 'A'; what code 66 shows, nothing says: it must not be read as 'B'.
        byte[] map = Encoding.ASCII.GetBytes(
            "begincmap 1 begincodespacerange <0000> <ffff> endcodespacerange 1 beginbfchar <0001> <0041> endbfchar endcmap"
        );
        byte[] bytes = SmallPdf.Composite(map, "<000100420001>");
        Assert.Equal("A\uFFFDA", new PdfReader().Read(bytes).Document!.Pages[0].Lines[0].Text.Replace(" ", ""));
    }

    [Fact]
    public void Text_in_a_font_without_any_map_is_refused_as_illegible()
    {
        // Identity codes and no map: the numbers of glyphs say nothing about characters.
        PrintedFailure failure = Fails(SmallPdf.Composite([], "<00410042>"));
        Assert.Equal(PrintedFailureKind.Illegible, failure.Kind);
        Assert.Contains("Copying text from it gives nonsense", failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("<0001> <0005> [<fffd> <fffd> <fffd> <fffd> <fffd>]")] // The sign for an unknown character.
    [InlineData("<0001> <00ff> <e001>")] // Private use.
    [InlineData("<0001> <0008> <0001>")] // Control characters.
    public void Map_that_names_no_letters_is_refused_as_illegible(string range)
    {
        byte[] map = Encoding.ASCII.GetBytes(
            $"begincmap 1 begincodespacerange <0000> <ffff> endcodespacerange 1 beginbfrange {range} endbfrange endcmap"
        );
        Assert.Equal(PrintedFailureKind.Illegible, Fails(SmallPdf.Composite(map, "<00010002000300040005>")).Kind);
    }

    [Fact]
    public void Map_that_gives_every_shape_the_same_letter_is_not_believed()
    {
        string same = string.Join(' ', Enumerable.Range(1, 9).Select(i => $"<{i:x4}> <0078>"));
        byte[] map = Encoding.ASCII.GetBytes(
            $"begincmap 1 begincodespacerange <0000> <ffff> endcodespacerange 9 beginbfchar {same} endbfchar endcmap"
        );
        Assert.Equal(
            PrintedFailureKind.Illegible,
            Fails(SmallPdf.Composite(map, "<000100020003000400050006000700080009>")).Kind
        );
    }

    [Fact]
    public void Ranges_and_lists_of_the_map_are_known()
    {
        byte[] map = Encoding.ASCII.GetBytes(
            "begincmap 1 begincodespacerange <0000> <ffff> endcodespacerange 2 beginbfrange <0001> <0003> <0061> <0004> <0005> [<0078> <0079>] endbfrange endcmap"
        );
        Assert.Equal(
            "abcxy",
            new PdfReader()
                .Read(SmallPdf.Composite(map, "<00010002000300040005>"))
                .Document!.Pages[0]
                .Lines[0]
                .Text.Replace(" ", "")
        );
    }

    [Fact]
    public void Missing_font_is_reported()
    {
        byte[] bytes = SmallPdf.With(
            Encoding.ASCII.GetBytes("BT /F1 10 Tf 30 150 Td (seen) Tj /F9 10 Tf (hidden) Tj ET"),
            "",
            "/BaseFont/Courier"
        );
        Assert.Contains("font", Assert.Single(new PdfReader().Read(bytes).Document!.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void Ligatures_and_soft_hyphens_are_kept()
    {
        byte[] map = Encoding.ASCII.GetBytes(
            "begincmap 1 begincodespacerange <0000> <ffff> endcodespacerange 3 beginbfchar <0001> <FB01> <0002> <00AD> <0003> <2019> endbfchar endcmap"
        );
        byte[] bytes = SmallPdf.Composite(map, "<000100020003>");
        Assert.Equal("fi-\u2019", new PdfReader().Read(bytes).Document!.Pages[0].Lines[0].Text.Replace(" ", ""));
    }
}
