using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Fonts.Standard14Fonts;
using UglyToad.PdfPig.Writer;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>Writes with PdfPig, in fonts that every viewer has.</summary>
internal sealed class BuilderPrinter : IPrinter
{
    public string Name => "PdfPig";

    public byte[] Print(Sheets sheets)
    {
        using var builder = new PdfDocumentBuilder();
        PdfDocumentBuilder.AddedFont font = builder.AddStandard14Font(
            sheets.IsProportional ? Standard14Font.TimesRoman : Standard14Font.Courier
        );
        PdfDocumentBuilder.AddedFont edge = builder.AddStandard14Font(Standard14Font.Helvetica);
        for (int i = 0; i < sheets.Pages.Length; i++)
        {
            PdfPageBuilder page = builder.AddPage(PageSize.A4);
            Write(page, sheets.Headers[i], 8, 50, 810, edge);
            Write(page, sheets.Footers[i], 8, 260, 30, edge);
            // As large as the widest line allows; Courier is 0.6 of its height wide.
            double room = sheets.Pages[0].Length > 1 ? 245 : 500;
            double size = Math.Min(8.5, room / (0.6 * Math.Max(1, sheets.Width)));
            for (int column = 0; column < sheets.Pages[i].Length; column++)
            {
                double y = 785;
                foreach (string line in sheets.Pages[i][column])
                {
                    Write(page, line, size, 50 + 262 * column, y, font);
                    y -= 13;
                }
            }
        }

        return builder.Build();
    }

    // The fonts have one blank only.
    private static void Write(
        PdfPageBuilder page,
        string text,
        double size,
        double x,
        double y,
        PdfDocumentBuilder.AddedFont font
    )
    {
        text = text.Replace('\u00A0', ' ');
        if (text.Trim().Length > 0)
            page.AddText(text, size, new PdfPoint(x, y), font);
    }
}
