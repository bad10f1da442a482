using System.Diagnostics;
using AsmLsp.Core.Printed;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Fonts.Standard14Fonts;
using UglyToad.PdfPig.Writer;

namespace AsmLsp.Pdf.Tests;

/// <summary>Makes PDFs for tests.</summary>
internal sealed class Paper : IDisposable
{
    private readonly PdfDocumentBuilder builder = new();
    private PdfPageBuilder page;
    private byte[]? bytes;

    public Paper()
    {
        Courier = builder.AddStandard14Font(Standard14Font.Courier);
        Roman = builder.AddStandard14Font(Standard14Font.TimesRoman);
        page = builder.AddPage(PageSize.A4);
    }

    public PdfDocumentBuilder.AddedFont Courier { get; }

    public PdfDocumentBuilder.AddedFont Roman { get; }

    public PdfPageBuilder Page => page;

    public Paper NextPage()
    {
        page = builder.AddPage(PageSize.A4);
        return this;
    }

    /// <summary>Writes a line; <paramref name="fromTop"/> is the base line from the top of the A4 page (842 points).</summary>
    public Paper Write(
        string text,
        double x,
        double fromTop,
        PdfDocumentBuilder.AddedFont? font = null,
        double size = 10
    )
    {
        page.AddText(text, size, new PdfPoint(x, 842 - fromTop), font ?? Courier);
        return this;
    }

    public Paper Listing(string lines, double x = 60, double fromTop = 80, double pitch = 12)
    {
        foreach (string line in lines.Split('\n'))
        {
            // A letter's column is set by hand, as programs that print do it with blanks: blanks are drawn too.
            if (line.Length > 0)
                Write(line, x, fromTop);
            fromTop += pitch;
        }

        return this;
    }

    /// <summary>The file; nothing can be written after it.</summary>
    public byte[] Bytes() => bytes ??= builder.Build();

    public void Dispose() => builder.Dispose();

    public PrintedDocument Read()
    {
        PrintedReading reading = new PdfReader().Read(Bytes());
        Assert.Null(reading.Failure);
        return reading.Document!;
    }

    public static string Text(PrintedPage page) => string.Join('\n', page.Lines.Select(l => l.Text));

    /// <summary>What <c>pdftotext -layout</c> of poppler-utils says of a PDF: an independent reader of the same pages.</summary>
    public static string Outside(byte[] pdf)
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".pdf");
        File.WriteAllBytes(path, pdf);
        try
        {
            using Process process = Process.Start(
                new ProcessStartInfo("pdftotext", ["-layout", "-enc", "UTF-8", path, "-"])
                {
                    RedirectStandardOutput = true,
                }
            )!;
            string text = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            Assert.Equal(0, process.ExitCode);
            return text;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
