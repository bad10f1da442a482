using AsmLsp.Core.Printed;

namespace AsmLsp.Host.Scans;

/// <summary>The programs that read pictures of pages: not a part of this one, and found on the machine if they are installed.</summary>
/// <param name="Tesseract">Reads the text of a picture; null where it is not installed.</param>
/// <param name="PdfToPpm">Draws the pages of a PDF; null where it is not installed.</param>
/// <param name="PdfInfo">Reports the sizes of the pages; null where it is not installed.</param>
public sealed record ScanTools(string? Tesseract, string? PdfToPpm, string? PdfInfo)
{
    /// <summary>Whether all are there.</summary>
    public bool AreComplete => Tesseract is not null && PdfToPpm is not null && PdfInfo is not null;

    /// <summary>What is installed now.</summary>
    public static ScanTools Find() =>
        new(OutsideTool.Find("tesseract"), OutsideTool.Find("pdftoppm"), OutsideTool.Find("pdfinfo"));

    /// <summary>What is missing for reading scans, and how it is installed here; for a person.</summary>
    public string HowToInstall() =>
        HowToInstall(Tesseract is null, PdfToPpm is null || PdfInfo is null, "pdftoppm and pdfinfo");

    /// <summary>What is missing for drawing the pages of a document, and how it is installed here; null where nothing is.</summary>
    /// <param name="kind">The kind of document: a picture has to be made a PDF first.</param>
    public string? HowToDraw(DocumentFileKind kind)
    {
        bool needsTesseract = Tesseract is null && kind == DocumentFileKind.Picture;
        return PdfToPpm is not null && !needsTesseract
            ? null
            : HowToInstall(needsTesseract, PdfToPpm is null, "pdftoppm");
    }

    private static string HowToInstall(bool tesseract, bool poppler, string programs)
    {
        string packages = (tesseract, poppler) switch
        {
            (true, true) => OperatingSystem.IsLinux() ? "tesseract-ocr poppler-utils" : "tesseract poppler",
            (true, false) => OperatingSystem.IsLinux() ? "tesseract-ocr" : "tesseract",
            _ => OperatingSystem.IsLinux() ? "poppler-utils" : "poppler",
        };
        string how =
            OperatingSystem.IsWindows()
                ? $"put the folder of {(tesseract, poppler) switch
                {
                    (true, true) => "tesseract.exe, and that of poppler's pdftoppm.exe and pdfinfo.exe,",
                    (true, false) => "tesseract.exe",
                    _ => "poppler's pdftoppm.exe and pdfinfo.exe",
                }} on the PATH"
            : OperatingSystem.IsMacOS() ? $"brew install {packages}"
            : $"on Debian or Ubuntu: sudo apt install {packages}; on Fedora: sudo dnf install {packages.Replace("-ocr", "", StringComparison.Ordinal)}";
        string missing =
            tesseract && poppler ? $"tesseract and {programs}"
            : tesseract ? "tesseract"
            : programs;
        return $"{missing} {(missing is "tesseract" or "pdftoppm" ? "is" : "are")} not installed ({how})";
    }
}
