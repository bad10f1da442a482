using System.Text;
using System.Text.RegularExpressions;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Review;
using AsmLsp.Pdf.Tests.Printing;

namespace AsmLsp.Pdf.Tests;

/// <summary>The review page as Chromium shows it, opened from the disk.</summary>
public class ReviewInBrowserTests
{
    private static string Page(string last)
    {
        string[] lines =
        [
            "        list    p=16f84a",
            "        org     0",
            "start   movlw   0x30",
            "        call    elsewhere",
            "        goto    start",
            last,
            "        end",
        ];
        var content = new StringBuilder("BT /F1 10 Tf 12 TL 60 780 Td ");
        foreach (string line in lines)
            content.Append('(').Append(line).Append(") Tj T* ");
        byte[] file = Pdfs.WithContent(content + "ET");
        PrintedDocument print = new PdfReader().Read(file).Document!;
        var document = new RecoveredDocument("kit.pdf", file, print, null, DocumentRecovery.Run(print));
        return ReviewPage.Of(document, "1.2.3", null, DocumentPictures.Draw(document));
    }

    // The page as it is after it was loaded, with what was done to it then.
    private static string Shown(string folder, string page, string done = "", string hash = "")
    {
        File.WriteAllText(
            Path.Combine(folder, "kit.html"),
            page.Replace(
                "</body>",
                $"<script>window.addEventListener('load', function () {{ {done} }});</script></body>",
                StringComparison.Ordinal
            )
        );
        return Encoding.UTF8.GetString(
            OutsideProgram.Run(
                "chromium",
                [
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--virtual-time-budget=3000",
                    $"--user-data-dir={folder}/profile",
                    "--dump-dom",
                    $"file://{folder}/kit.html{hash}",
                ]
            )
        );
    }

    private static string Count(string shown) => Regex.Match(shown, "id=\"count\"[^>]*>([^<]*)").Groups[1].Value;

    [Fact]
    public void Page_opens_at_its_first_doubt_and_ticks_are_kept_for_the_document()
    {
        string page = Page("        goto    nowhere"),
            other = Page("        goto    anywhere");
        OutsideProgram.InFolder(folder =>
        {
            string first = Shown(folder, page);
            Assert.Equal("1 of 2", Count(first));
            Assert.Matches("class=\"note stop here\" id=\"doubt-1\"", first);
            Shown(folder, page, "document.querySelector('.done').click();");
            // The first that nobody has compared yet.
            string again = Shown(folder, page);
            Assert.Equal("2 of 2, 1 compared", Count(again));
            Assert.Matches("class=\"note stop here\" id=\"doubt-2\"", again);
            Assert.Equal("1 of 2", Count(Shown(folder, other)));
            return 0;
        });
    }

    [Fact]
    public void Frame_on_the_page_is_opened_and_pictures_are_shown()
    {
        string page = Page("        goto    nowhere");
        OutsideProgram.InFolder(folder =>
        {
            string shown = Shown(
                folder,
                page,
                "document.title = Array.from(document.images).every(function (i) { return i.naturalWidth > 0; }) + ' ' + document.images.length;",
                "#frame-page-1-line-6"
            );
            Assert.Contains("<title>true 3</title>", shown, StringComparison.Ordinal);
            Assert.Matches("<details class=\"paper\" open", shown);
            return 0;
        });
    }
}
