using System.IO.Compression;
using System.Text;
using AsmLsp.Core.Printed;

namespace AsmLsp.Documents.Tests;

/// <summary>What the text of a document without pages is, kind by kind.</summary>
public class FlowDocumentTests
{
    private static readonly FlowDocuments Reader = new(new NoPages());

    private static string Read(string content) => Read(Encoding.UTF8.GetBytes(content));

    private static string Read(byte[] bytes)
    {
        PrintedReading reading = Reader.Read(bytes);
        Assert.Null(reading.Failure);
        return reading.FlowingText!;
    }

    [Theory]
    [InlineData("<!DOCTYPE html>\n<html><body>x</body></html>", DocumentFileKind.WebPage)]
    [InlineData("\uFEFF<!-- saved -->\n<HTML lang=de><body>x", DocumentFileKind.WebPage)]
    [InlineData("<?xml version=\"1.0\"?><!DOCTYPE html PUBLIC \"x\"><html>", DocumentFileKind.WebPage)]
    [InlineData(
        "MIME-Version: 1.0\r\nContent-Type: multipart/related; boundary=q\r\n\r\n--q",
        DocumentFileKind.WebPage
    )]
    [InlineData("{\\rtf1\\ansi x}", DocumentFileKind.RichText)]
    [InlineData("PK\u0003\u0004rest", DocumentFileKind.Package)]
    // A listing may begin with an include that lost its word, or with a comment about a page.
    [InlineData("<p16f84a.inc>\n nop\n", DocumentFileKind.Text)]
    [InlineData("; <html> is no page\n nop\n", DocumentFileKind.Text)]
    [InlineData("<header.inc>\n", DocumentFileKind.Text)]
    public void Kind_is_recognized_by_the_first_bytes(string content, DocumentFileKind kind) =>
        Assert.Equal(kind, DocumentFile.KindOf(Encoding.UTF8.GetBytes(content)));

    [Fact]
    public void Preformatted_text_of_a_page_keeps_its_columns_and_loses_its_colors() =>
        Assert.Equal(
            "The lamp\n        bsf     PORTB,3 ; on & off\nloop    goto    loop\n",
            Read(
                "<html><head><title>no</title><style>.k{}</style></head><body><h1>The\n  lamp</h1><pre>"
                    + "        <span class=k>bsf</span>     PORTB,3 <i>; on &amp; off</i>\nloop    goto    loop\n</pre><script>var a;</script></body></html>"
            )
        );

    [Fact]
    public void Lines_that_end_with_breaks_keep_the_blanks_that_cannot_be_broken() =>
        Assert.Equal(
            "start\n    movlw 5\n    movwf TRISB\nThat is all.\n",
            Read(
                "<html><p>start<br>\n&nbsp;&nbsp;&nbsp; movlw 5<br/>&#160;&#160;&#160; movwf\n   TRISB</p><div>That is all.</div>"
            )
        );

    [Fact]
    public void Numbers_in_a_cell_of_their_own_stand_beside_their_lines() =>
        Assert.Equal(
            "1   nop\n2  x goto x\n3   end\n",
            Read(
                "<html><body><table><tr><td><pre>1\n2\n3</pre></td><td><pre> nop\nx goto x\n end\n</pre></td></tr></table>"
            )
        );

    [Fact]
    public void Each_row_of_a_table_is_a_line() =>
        Assert.Equal(
            "loop  movf  count,w\n  goto  loop\n",
            Read(
                "<html><table><tr><td>loop</td><td>movf</td><td>count,w</td></tr><tr><td></td><td>goto</td><td>loop</td></tr></table>"
            )
        );

    [Fact]
    public void Page_saved_in_one_file_is_decoded() =>
        Assert.Equal(
            " movlw '=' ; gr\u00FCn\n",
            Read(
                "From: <Saved>\r\nMIME-Version: 1.0\r\nContent-Type: multipart/related; boundary=\"q\"; type=\"text/html\"\r\n\r\n--q\r\n"
                    + "Content-Type: text/html; charset=utf-8\r\nContent-Transfer-Encoding: quoted-printable\r\n\r\n"
                    + "<html><body><pre> movlw '=3D' ; gr=C3=BCn</pre></body></html>\r\n--q--\r\n"
            )
        );

    [Fact]
    public void Rich_text_gives_characters_and_lines_and_nothing_of_its_tables() =>
        Assert.Equal(
            "loop\tmovlw\t'{' ; \u00E4 \u20AC\n nop\n",
            Read(
                @"{\rtf1\ansi\ansicpg1252\uc1{\fonttbl{\f0 Courier;}}{\stylesheet{\s0 Normal;}}{\*\generator Any;}{\info{\title no}}\pard loop\tab movlw\tab '\{' ; \'e4 \u8364?\par"
                    + "\n nop{\\v hidden}\\par }"
            )
        );

    [Theory]
    [InlineData(@"{\rtf1\ansi \bin2147483647 x}")]
    [InlineData(@"{\rtf1\ansi a\u-3913?\par}}}}")]
    [InlineData(@"{\rtf1 \'")]
    public void Broken_rich_text_ends(string content)
    {
        PrintedReading reading = Reader.Read(Encoding.UTF8.GetBytes(content));
        Assert.True(reading.FlowingText is not null ^ reading.Failure is not null);
    }

    [Fact]
    public void Deeply_nested_documents_are_refused_or_read_and_never_overflow()
    {
        string rich = @"{\rtf1 " + new string('{', 100_000);
        Assert.NotNull(Reader.Read(Encoding.UTF8.GetBytes(rich)).Failure);
        string page = "<html><body>" + string.Concat(Enumerable.Repeat("<div>", 20_000)) + " nop";
        PrintedReading reading = Reader.Read(Encoding.UTF8.GetBytes(page));
        Assert.True(reading.FlowingText is not null ^ reading.Failure is not null);
    }

    [Fact]
    public void Package_that_unpacks_to_far_more_than_it_says_is_refused()
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, true))
        {
            using Stream part = zip.CreateEntry("word/document.xml", CompressionLevel.Fastest).Open();
            byte[] blanks = new byte[1 << 20];
            Array.Fill(blanks, (byte)' ');
            for (int i = 0; i < 40; i++)
                part.Write(blanks);
        }

        PrintedReading reading = Reader.Read(stream.ToArray());
        Assert.Contains("more text than any printed listing", reading.Failure!.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Other_package_is_refused_with_a_sentence()
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, true))
            zip.CreateEntry("xl/workbook.xml");
        PrintedReading reading = Reader.Read(stream.ToArray());
        Assert.Equal(PrintedFailureKind.NotADocument, reading.Failure!.Kind);
    }

    [Fact]
    public void Entity_that_names_a_file_is_not_followed()
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, true))
        {
            using (var kind = new StreamWriter(zip.CreateEntry("mimetype").Open()))
                kind.Write("application/vnd.oasis.opendocument.text");
            using var part = new StreamWriter(zip.CreateEntry("content.xml").Open());
            part.Write("<!DOCTYPE x [<!ENTITY e SYSTEM \"file:///etc/hostname\">]><x>&e;</x>");
        }

        Assert.NotNull(Reader.Read(stream.ToArray()).Failure);
    }
}
