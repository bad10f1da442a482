using System.Collections.Immutable;
using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Tests.Recovery.Printed;

public class OcrReaderTests
{
    private static readonly byte[] Pdf = [.. "%PDF-1.4"u8];

    [Fact]
    public void A_document_of_text_is_not_recognized()
    {
        var recognizer = new FixedOcr(new Recognition([], [], null));
        PrintedDocument text = Scanned.Document(Scanned.Page("        nop"));
        Assert.Same(text, new OcrReader(new FixedReader(PrintedReading.Of(text)), recognizer).Read(Pdf).Document);
        Assert.Null(recognizer.Asked);
    }

    [Fact]
    public void A_document_of_pictures_is_recognized_on_the_pages_wanted()
    {
        var recognizer = new FixedOcr(new Recognition([Scanned.Page("        nop")], ["grey"], null));
        PrintedDocument? read = new OcrReader(
            new FixedReader(PrintedReading.Of(PrintedFailureKind.ImageOnly, "pictures")),
            recognizer,
            [3, 2]
        )
            .Read(Pdf)
            .Document;
        Assert.Equal("nop", read!.Pages[0].Lines[0].Text.Trim());
        Assert.Equal("grey", Assert.Single(read.Notes));
        Assert.Equal([2, 3], recognizer.Asked!.Value.AsEnumerable());
    }

    [Fact]
    public void Only_the_pictures_among_the_pages_are_recognized() => HoldPage(PrintedPageState.PictureOnly);

    [Fact]
    public void Pages_of_letters_without_a_meaning_are_recognized_too() => HoldPage(PrintedPageState.Illegible);

    private static void HoldPage(PrintedPageState state)
    {
        PrintedPage text = Scanned.Document(Scanned.Page("        nop")).Pages[0];
        var document = new PrintedDocument([text, text with { Number = 2, Lines = [], State = state }]);
        var recognizer = new FixedOcr(new Recognition([Scanned.Page("        sleep") with { Number = 2 }], [], null));
        PrintedDocument? read = new OcrReader(new FixedReader(PrintedReading.Of(document)), recognizer)
            .Read(Pdf)
            .Document;
        Assert.Equal([2], recognizer.Asked!.Value.AsEnumerable());
        Assert.Same(text, read!.Pages[0]);
        Assert.Equal("sleep", read.Pages[1].Lines[0].Text.Trim());
    }

    [Fact]
    public void Without_recognition_a_document_of_pictures_says_what_to_install()
    {
        var recognizer = new FixedOcr(Recognition.Failed(PrintedFailureKind.NoOcr, "install it"));
        PrintedReading read = new OcrReader(
            new FixedReader(PrintedReading.Of(PrintedFailureKind.ImageOnly, "pictures")),
            recognizer
        ).Read(Pdf);
        Assert.Equal(
            new PrintedFailure(
                PrintedFailureKind.NoOcr,
                "This document holds pictures of its pages and no text. install it"
            ),
            read.Failure
        );
    }

    [Fact]
    public void Letters_without_a_meaning_are_recognized_as_a_picture_is()
    {
        var reader = new FixedReader(PrintedReading.Of(PrintedFailureKind.Illegible, "Nobody knows."));
        var recognizer = new FixedOcr(new Recognition([Scanned.Page("        nop")], [], null));
        Assert.True(new OcrReader(reader, recognizer).Read(Pdf).Document!.Pages[0].Lines[0].IsOcr);
        var without = new OcrReader(reader, new FixedOcr(Recognition.Failed(PrintedFailureKind.NoOcr, "Install it.")));
        Assert.Equal(
            new PrintedFailure(PrintedFailureKind.NoOcr, "Nobody knows. Install it."),
            without.Read(Pdf).Failure
        );
    }

    [Fact]
    public void Without_recognition_pages_of_text_are_read_and_the_others_reported()
    {
        PrintedPage text = Scanned.Document(Scanned.Page("        nop")).Pages[0];
        var document = new PrintedDocument([
            text,
            text with
            {
                Number = 2,
                Lines = [],
                State = PrintedPageState.PictureOnly,
            },
        ]);
        PrintedDocument? read = new OcrReader(
            new FixedReader(PrintedReading.Of(document)),
            new FixedOcr(Recognition.Failed(PrintedFailureKind.NoOcr, "install it"))
        )
            .Read(Pdf)
            .Document;
        Assert.Equal("Page 2: install it", Assert.Single(read!.Notes));
        Assert.Equal(PrintedPageState.PictureOnly, read.Pages[1].State);
    }

    [Fact]
    public void A_page_with_unseen_text_is_recognized_anew_and_reported()
    {
        PrintedPage layer = Scanned.Document(Scanned.Page("        n0p")).Pages[0] with { HasHiddenText = true };
        var recognizer = new FixedOcr(new Recognition([Scanned.Page("        nop")], [], null));
        PrintedDocument? read = new OcrReader(
            new FixedReader(PrintedReading.Of(new PrintedDocument([layer]))),
            recognizer
        )
            .Read(Pdf)
            .Document;
        Assert.Equal("nop", read!.Pages[0].Lines[0].Text.Trim());
        Assert.Contains("page 1 lies unseen", Assert.Single(read.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_recognition_unseen_text_stays_and_is_reported()
    {
        PrintedPage layer = Scanned.Document(Scanned.Page("        n0p")).Pages[0] with { HasHiddenText = true };
        PrintedDocument? read = new OcrReader(
            new FixedReader(PrintedReading.Of(new PrintedDocument([layer]))),
            new FixedOcr(Recognition.Failed(PrintedFailureKind.NoOcr, "install it"))
        )
            .Read(Pdf)
            .Document;
        Assert.Equal("n0p", read!.Pages[0].Lines[0].Text.Trim());
        Assert.Contains("nobody knows how clearly. install it", Assert.Single(read.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_that_could_not_be_read_stays_in_its_place()
    {
        var recognizer = new FixedOcr(
            new Recognition([Scanned.Page("        nop"), Scanned.Page("        nop") with { Number = 3 }], [], null)
            {
                Unread = [2],
            }
        );
        PrintedDocument? read = new OcrReader(
            new FixedReader(PrintedReading.Of(PrintedFailureKind.ImageOnly, "pictures")),
            recognizer
        )
            .Read(Pdf)
            .Document;
        Assert.Equal(
            [PrintedPageState.Read, PrintedPageState.Unrecognized, PrintedPageState.Read],
            read!.Pages.Select(static p => p.State)
        );
        Assert.Equal([1, 2, 3], read.Pages.Select(static p => p.Number));
    }

    [Fact]
    public void A_picture_goes_to_recognition_at_once()
    {
        var recognizer = new FixedOcr(new Recognition([Scanned.Page("        nop")], [], null));
        byte[] png = [0x89, .. "PNG\r\n\x1A\n\0"u8];
        Assert.NotNull(new OcrReader(new FixedReader(default), recognizer).Read(png).Document);
        Assert.Equal(DocumentFileKind.Picture, recognizer.Kind);
    }

    [Theory]
    [InlineData(new byte[] { 0xFF, 0xD8, 0xFF, 0xE0 }, DocumentFileKind.Picture)]
    [InlineData(new byte[] { 0x49, 0x49, 0x2A, 0x00 }, DocumentFileKind.Picture)]
    [InlineData(new byte[] { 0x4D, 0x4D, 0x00, 0x2A }, DocumentFileKind.Picture)]
    [InlineData(new byte[] { 0x20, 0x25, 0x50, 0x44, 0x46, 0x2D }, DocumentFileKind.Pdf)]
    [InlineData(new byte[] { 0x20, 0x6E, 0x6F, 0x70 }, DocumentFileKind.Text)]
    [InlineData(new byte[0], DocumentFileKind.Text)]
    public void Files_are_recognized_by_their_first_bytes(byte[] bytes, DocumentFileKind kind) =>
        Assert.Equal(kind, DocumentFile.KindOf(bytes));

    private sealed class FixedReader(PrintedReading answer) : IPrintedDocumentReader
    {
        public PrintedReading Read(ReadOnlyMemory<byte> bytes, CancellationToken cancellation = default) => answer;
    }

    private sealed class FixedOcr(Recognition answer) : IPageOcr
    {
        public ImmutableArray<int>? Asked { get; private set; }

        public DocumentFileKind Kind { get; private set; }

        public Recognition Recognize(
            ReadOnlyMemory<byte> file,
            DocumentFileKind kind,
            ImmutableArray<int> pages,
            CancellationToken cancellation = default
        )
        {
            (Asked, Kind) = (pages, kind);
            return answer;
        }
    }
}
