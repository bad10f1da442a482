using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Review;

/// <summary>What is said about a line: a doubt or problem with its number and its neighbors, or a change.</summary>
internal static class ReviewNotes
{
    public static void Stop(HtmlText html, ReviewStop stop, int count, LineOrigin origin, string? frame)
    {
        html.Markup("<div class=\"note stop\" id=\"")
            .Markup(stop.Anchor)
            .Markup("\" data-key=\"")
            .Markup(stop.Key)
            .Markup("\" tabindex=\"-1\"><p><strong>")
            .Text(stop.Word)
            .Markup(" ")
            .Number(stop.Number)
            .Markup(" of ")
            .Number(count)
            .Markup("</strong> ");
        html.Text(stop.Entry.Message);
        string place = origin.IsNone
            ? stop.Entry.Page is { } page
                ? $"page {page}"
                : ""
            : origin.ToString();
        bool isSaid = stop.Entry.Message.Contains(place, StringComparison.Ordinal);
        if (!isSaid)
            html.Markup(" <span class=\"soft\">")
                .Text(origin is { IsNone: false, Page: 0 } ? "Pasted as " : "Printed on ")
                .Text(place)
                .Markup(".</span>");
        html.Markup("</p><p class=\"links\"><label><input type=\"checkbox\" class=\"done\"/> compared</label>");
        if (stop.Number > 1)
            html.Markup(" <a href=\"#").Markup(ReviewStop.AnchorOf(stop.Number - 1)).Markup("\">previous</a>");
        if (stop.Number < count)
            html.Markup(" <a href=\"#").Markup(ReviewStop.AnchorOf(stop.Number + 1)).Markup("\">next</a>");
        if (frame is not null)
            html.Markup(" <a href=\"#").Markup(frame).Markup("\">on its page</a>");
        html.Line("</p></div>");
    }

    public static void Change(HtmlText html, RecoveryEntry entry) =>
        html.Markup("<p class=\"note\"><span class=\"kind\">Changed:</span> ").Text(entry.Message).Line("</p>");
}
