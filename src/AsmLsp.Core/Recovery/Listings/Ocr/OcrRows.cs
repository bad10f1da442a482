using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>
/// Corrects in rows that OCR read what cannot be anything else: the sign of a remark that became a digit or a letter, a pound sign in a name, the
/// first digit of <c>Ox2F</c>. What may be two things stays as it was read.
/// </summary>
internal static class OcrRows
{
    /// <summary>The pages with corrected rows; the same pages where no row was read by OCR.</summary>
    public static PrintedPage[] Correct(PrintedPage[] pages)
    {
        if (!Array.Exists(pages, static p => p.Lines.Any(static l => l.IsOcr)))
            return pages;
        List<PrintedLine> rows = [.. pages.SelectMany(static p => p.Lines)];
        var names = MisreadCharacters.NamesOf(rows);
        for (int i = 0; i < rows.Count; i++)
            if (rows[i].IsOcr)
                rows[i] = StraySigns.Correct(
                    MisreadOperations.Correct(MisreadCharacters.Correct(rows[i], names), names)
                );
        MisreadRemarks.Correct(rows);
        MisreadNames.Correct(rows);
        var corrected = new PrintedPage[pages.Length];
        int at = 0;
        for (int p = 0; p < pages.Length; p++)
        {
            corrected[p] = pages[p] with { Lines = [.. rows.GetRange(at, pages[p].Lines.Length)] };
            at += pages[p].Lines.Length;
        }

        return corrected;
    }
}
