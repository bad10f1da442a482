namespace AsmLsp.Host.Scans;

/// <summary>The programs that read pictures of pages: not a part of this one, and found on the machine if they are installed.</summary>
/// <param name="Tesseract">Reads the text of a picture; null where it is not installed.</param>
/// <param name="PdfToPpm">Draws the pages of a PDF; null where it is not installed.</param>
/// <param name="PdfInfo">Tells the sizes of the pages; null where it is not installed.</param>
public sealed record ScanTools(string? Tesseract, string? PdfToPpm, string? PdfInfo)
{
    /// <summary>Whether all are there.</summary>
    public bool AreComplete => Tesseract is not null && PdfToPpm is not null && PdfInfo is not null;

    /// <summary>What is installed now.</summary>
    public static ScanTools Find() =>
        new(OutsideTool.Find("tesseract"), OutsideTool.Find("pdftoppm"), OutsideTool.Find("pdfinfo"));

    /// <summary>What is missing and how it is installed here; for a person.</summary>
    public string HowToInstall()
    {
        List<string> missing = [];
        if (Tesseract is null)
            missing.Add("tesseract");
        if (PdfToPpm is null || PdfInfo is null)
            missing.Add("pdftoppm and pdfinfo");
        string how =
            OperatingSystem.IsWindows()
                ? "put the folders of tesseract.exe and of poppler's pdftoppm.exe and pdfinfo.exe on the PATH"
            : OperatingSystem.IsMacOS() ? "brew install tesseract poppler"
            : "on Debian or Ubuntu: sudo apt install tesseract-ocr poppler-utils; on Fedora: sudo dnf install tesseract poppler-utils";
        return $"{string.Join(" and ", missing)} {(missing is ["tesseract"] ? "is" : "are")} not installed ({how})";
    }
}
