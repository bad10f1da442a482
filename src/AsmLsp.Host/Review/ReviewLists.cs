using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Review;

/// <summary>What is above the pages: the places to look at, what concerns the whole document, and the changes by kind.</summary>
internal static class ReviewLists
{
    // A longer list is closed at first: it would push the pages away.
    private const int ShortList = 12;

    public static void Write(HtmlText html, RecoveryResult result, ReviewStops stops)
    {
        ReviewStop[] whole = [.. stops.Files.Prepend(stops).SelectMany(static s => s.At(-1))];
        if (whole.Length > 0)
        {
            html.Line("<section aria-labelledby=\"whole\"><h2 id=\"whole\">About the document</h2>");
            foreach (ReviewStop stop in whole)
                ReviewNotes.Stop(html, stop, stops.Count, LineOrigin.None, null);
            html.Line("</section>");
        }

        if (stops.Count > 1)
            Places(html, stops);
        Changes(html, result);
    }

    private static void Places(HtmlText html, ReviewStops stops)
    {
        html.Markup(stops.Count <= ShortList ? "<details open=\"open\">" : "<details>")
            .Line("<summary>All places to compare</summary><ol class=\"places\">");
        foreach (ReviewStop stop in stops.All)
        {
            html.Markup("<li><a href=\"#").Markup(stop.Anchor).Markup("\">");
            string origin = stop.Entry is { Line: 0, EndColumn: 0 } ? "" : stop.Origin.ToString();
            html.Text(origin.Length > 0 ? $"{char.ToUpperInvariant(origin[0])}{origin[1..]}: " : "")
                .Text(stop.Entry.Message)
                .Line("</a></li>");
        }

        html.Line("</ol></details>");
    }

    private static void Changes(HtmlText html, RecoveryResult result)
    {
        RecoveryEntry[] changes = [.. result.AllEntries.Where(static e => e.Severity == Severity.Information)];
        if (changes.Length == 0)
            return;
        html.Markup("<details><summary>What was changed or left out without a doubt, ")
            .Text(ReviewPage.Count(changes.Length, "time"))
            .Line("</summary><ul>");
        foreach (
            IGrouping<string, RecoveryEntry> same in changes
                .GroupBy(static e => e.Message)
                .OrderByDescending(static g => g.Count())
        )
        {
            html.Markup("<li>").Text(same.Key);
            if (same.Count() > 1)
                html.Markup(" <span class=\"soft\">").Text(ReviewPage.Count(same.Count(), "time")).Markup("</span>");
            html.Line("</li>");
        }

        html.Line("</ul></details>");
    }
}
