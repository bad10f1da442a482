using System.Globalization;
using System.IO.Compression;
using System.Text;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Fonts.Standard14Fonts;
using UglyToad.PdfPig.Writer;

namespace AsmLsp.Pdf.Tests;

/// <summary>Makes PDF files for the tests: ordinary ones with PdfPig's writer, odd and broken ones object by object.</summary>
internal static class Pdfs
{
    public const double Left = 60,
        Top = 780;

    /// <summary>One page of A4 drawn by an action.</summary>
    public static byte[] Page(Action<PdfPageBuilder, Func<Standard14Font, PdfDocumentBuilder.AddedFont>> draw) =>
        Pages(draw);

    public static byte[] Pages(params Action<PdfPageBuilder, Func<Standard14Font, PdfDocumentBuilder.AddedFont>>[] draw)
    {
        using var builder = new PdfDocumentBuilder();
        var fonts = new Dictionary<Standard14Font, PdfDocumentBuilder.AddedFont>();
        PdfDocumentBuilder.AddedFont Font(Standard14Font font) =>
            fonts.TryGetValue(font, out PdfDocumentBuilder.AddedFont? added)
                ? added
                : fonts[font] = builder.AddStandard14Font(font);
        foreach (Action<PdfPageBuilder, Func<Standard14Font, PdfDocumentBuilder.AddedFont>> page in draw)
            page(builder.AddPage(PageSize.A4), Font);
        return builder.Build();
    }

    /// <summary>Lines of Courier, one below the other.</summary>
    public static void Listing(
        PdfPageBuilder page,
        PdfDocumentBuilder.AddedFont font,
        IEnumerable<string> lines,
        double x = Left,
        double top = Top,
        double size = 9,
        double leading = 11
    )
    {
        double y = top;
        foreach (string line in lines)
        {
            if (line.Trim().Length > 0)
                page.AddText(line, size, new PdfPoint(x, y), font);
            y -= leading;
        }
    }

    /// <summary>A file of the given objects (numbered from 1, the first is the catalogue), with a correct table and trailer.</summary>
    public static byte[] Raw(params string[] objects) => Raw([.. objects.Select(Encoding.Latin1.GetBytes)]);

    public static byte[] Raw(IReadOnlyList<byte[]> objects, string trailer = "")
    {
        var file = new MemoryStream();
        void Write(string text) => file.Write(Encoding.Latin1.GetBytes(text));
        Write("%PDF-1.4\n");
        var offsets = new List<long>();
        for (int i = 0; i < objects.Count; i++)
        {
            offsets.Add(file.Position);
            Write($"{i + 1} 0 obj\n");
            file.Write(objects[i]);
            Write("\nendobj\n");
        }

        long table = file.Position;
        Write($"xref\n0 {objects.Count + 1}\n0000000000 65535 f \n");
        foreach (long offset in offsets)
            Write(offset.ToString("D10", CultureInfo.InvariantCulture) + " 00000 n \n");
        Write($"trailer\n<< /Size {objects.Count + 1} /Root 1 0 R {trailer} >>\nstartxref\n{table}\n%%EOF\n");
        return file.ToArray();
    }

    /// <summary>A stream object, packed with zlib if wanted.</summary>
    public static byte[] Stream(byte[] data, string dictionary = "", bool pack = false)
    {
        if (pack)
        {
            using var packed = new MemoryStream();
            using (var zlib = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
                zlib.Write(data);
            data = packed.ToArray();
            dictionary += " /Filter /FlateDecode";
        }

        return
        [
            .. Encoding.Latin1.GetBytes($"<< /Length {data.Length} {dictionary} >>\nstream\n"),
            .. data,
            .. "\nendstream"u8,
        ];
    }

    /// <summary>One page with a content of one's own; F1 is Courier, F2 is Helvetica; more objects start at number 7.</summary>
    public static byte[] WithContent(
        string content,
        string pageEntries = "",
        string resources = "",
        params byte[][] more
    ) =>
        Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            Encoding.Latin1.GetBytes(
                $"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R /F2 6 0 R >> {resources} >> {pageEntries} >>"
            ),
            Stream(Encoding.Latin1.GetBytes(content)),
            "<< /Type /Font /Subtype /Type1 /BaseFont /Courier >>"u8.ToArray(),
            "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"u8.ToArray(),
            .. more,
        ]);
}
