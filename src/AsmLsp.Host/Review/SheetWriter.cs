using System.Globalization;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Review;

/// <summary>Writes the pages of a document one after the other: those of the program first, each with its picture; the others are quiet and closed.</summary>
internal sealed class SheetWriter(HtmlText html, ReviewRows rows, ReviewPictures pictures)
{
    /// <summary>Writes all pages.</summary>
    public void Write(IReadOnlyList<ReviewSheet> sheets)
    {
        // A cover or the pages of an article before the listing are not what this page is opened for.
        int before = sheets.TakeWhile(static s => !s.HasProgram).Count();
        if (before == sheets.Count)
            before = 0;
        ReviewSheet[] ordered = [.. sheets.Skip(before), .. sheets.Take(before)];
        for (int i = 0; i < ordered.Length; )
        {
            int first = i++;
            if (ordered[first].HasProgram)
            {
                Program(ordered[first]);
                continue;
            }

            while (i < ordered.Length && !ordered[i].HasProgram && ordered[i].Note == ordered[first].Note)
                i++;
            Quiet([.. ordered[first..i].OrderBy(static s => s.Number)]);
        }
    }

    private static string NameOf(ReviewSheet sheet) =>
        sheet.Number == 0 ? "Pasted text" : string.Create(CultureInfo.InvariantCulture, $"Page {sheet.Number}");

    private static string AnchorOf(ReviewSheet sheet) =>
        string.Create(CultureInfo.InvariantCulture, $"page-{sheet.Number}");

    private void Program(ReviewSheet sheet)
    {
        html.Markup("<section class=\"sheet\" aria-labelledby=\"").Markup(AnchorOf(sheet)).Markup("\">");
        Heading("h3", sheet);
        if (sheet.Note is { } note)
            html.Element("<p class=\"soft\">", note, "p").Line("");
        pictures.Page(sheet.Number);
        rows.Write(sheet, NameOf(sheet));
        html.Line("</section>");
    }

    // They open when they are asked for.
    private void Quiet(ReviewSheet[] sheets)
    {
        html.Markup("<details class=\"sheet\"><summary>");
        if (sheets.Length == 1)
            Heading("h3", sheets[0]);
        else
            html.Element("<h3>", "Pages " + NumberRanges.Of(sheets.Select(static s => s.Number)), "h3");
        string none = $"{ReviewPage.Count(sheets.Sum(static s => s.Rows.Count), "line")}, none of the program";
        html.Markup(" ").Element("<span class=\"soft\">", sheets[0].Note ?? none, "span").Line("</summary>");
        foreach (ReviewSheet sheet in sheets)
        {
            if (sheets.Length > 1)
                Heading("h4", sheet);
            pictures.Page(sheet.Number);
            if (sheet.Rows.Count > 0)
                rows.Write(sheet, NameOf(sheet));
        }

        html.Line("</details>");
    }

    private void Heading(string element, ReviewSheet sheet) =>
        html.Element($"<{element} id=\"{AnchorOf(sheet)}\">", NameOf(sheet), element).Line("");
}
