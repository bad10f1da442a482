using System.Globalization;

namespace AsmLsp.Host.Scans;

/// <summary>Makes a PDF file of a picture file: tesseract reads every usual kind of picture, pages of a TIFF included.</summary>
internal static class PictureWrap
{
    // Tesseract's modes of looking at a page: one line, which costs next to nothing, or a whole block of text.
    private const string OneLine = "7",
        Block = "6";

    /// <summary>Writes the PDF file into a folder; a page has one point for each 72nd part of the dots in an inch.</summary>
    /// <param name="picture">The picture file.</param>
    /// <param name="tesseract">The program.</param>
    /// <param name="folder">A private folder.</param>
    /// <param name="name">The name of the PDF file there, with its ending.</param>
    /// <param name="dotsPerInch">How many dots are an inch, whatever the picture says.</param>
    /// <param name="time">How long it may take.</param>
    /// <param name="cancellation">Stops it.</param>
    public static ToolEnd Make(
        ReadOnlyMemory<byte> picture,
        string tesseract,
        string folder,
        string name,
        int dotsPerInch,
        TimeSpan time,
        CancellationToken cancellation
    )
    {
        using (FileStream copy = File.Create(Path.Combine(folder, "picture")))
            copy.Write(picture.Span);
        // What it reads there is of no interest here: only where the quick mode fails does the thorough one have to help.
        ToolEnd end = ToolEnd.Failed;
        foreach (string mode in (ReadOnlySpan<string>)[OneLine, Block])
        {
            (end, _) = OutsideTool.Run(
                tesseract,
                [
                    "picture",
                    Path.GetFileNameWithoutExtension(name),
                    "--dpi",
                    dotsPerInch.ToString(CultureInfo.InvariantCulture),
                    "--psm",
                    mode,
                    "pdf",
                ],
                folder,
                time,
                cancellation
            );
            if (end == ToolEnd.Done && !File.Exists(Path.Combine(folder, name)))
                end = ToolEnd.Failed;
            if (end != ToolEnd.Failed)
                break;
        }

        return end;
    }
}
