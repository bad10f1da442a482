using System.Net;
using System.Text;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>Prints a page of HTML with Chromium: subset fonts, own characters for joined letters, words placed one by one.</summary>
internal sealed class ChromiumPrinter : IPrinter
{
    public string Name => "Chromium";

    public byte[] Print(Sheets sheets)
    {
        string font = sheets.IsProportional
            ? "'Liberation Serif', 'DejaVu Serif', serif"
            : "'Liberation Mono', 'DejaVu Sans Mono', monospace";
        var html = new StringBuilder(
            $"<!DOCTYPE html><html><head><meta charset='utf-8'><style>@page {{ size: A4; margin: 0 }} body {{ margin: 0 }} .page {{ height: 280mm; padding: 8mm 15mm; break-after: page; position: relative }} .columns {{ display: flex; gap: 8mm }} pre {{ font: 8.5pt/13pt {font}; margin: 4mm 0; width: 100% }} .two pre {{ font-size: 7pt }} p {{ font: 8pt 'Liberation Sans', 'DejaVu Sans', sans-serif; margin: 0 }} .foot {{ position: absolute; bottom: 5mm; left: 90mm }}</style></head><body>"
        );
        for (int i = 0; i < sheets.Pages.Length; i++)
        {
            html.Append("<div class='page'><p>").Append(WebUtility.HtmlEncode(sheets.Headers[i])).Append("</p>");
            html.Append(sheets.Pages[i].Length > 1 ? "<div class='columns two'>" : "<div class='columns'>");
            foreach (var column in sheets.Pages[i])
                html.Append("<pre>\n").Append(WebUtility.HtmlEncode(string.Join('\n', column))).Append("</pre>");
            html.Append("</div><p class='foot'>").Append(WebUtility.HtmlEncode(sheets.Footers[i])).Append("</p></div>");
        }

        html.Append("</body></html>");
        return OutsideProgram.InFolder(folder =>
        {
            File.WriteAllText(Path.Combine(folder, "page.html"), html.ToString());
            OutsideProgram.Run(
                "chromium",
                [
                    "--headless",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--no-pdf-header-footer",
                    $"--user-data-dir={folder}/profile",
                    $"--print-to-pdf={folder}/page.pdf",
                    $"{folder}/page.html",
                ]
            );
            return File.ReadAllBytes(Path.Combine(folder, "page.pdf"));
        });
    }
}
