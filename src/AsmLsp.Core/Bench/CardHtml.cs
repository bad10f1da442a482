using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Bench;

/// <summary>The card as one page that needs nothing beside itself: no network, no other file, no script.</summary>
public static class CardHtml
{
    /// <summary>The page, to be written as UTF-8; the same card gives the same bytes.</summary>
    public static string Of(BenchCard card)
    {
        ArgumentNullException.ThrowIfNull(card);
        var html = new HtmlText();
        Head(html, card);
        html.Markup("<header><h1>").Text(card.Subject.Name).Markup(" <span class=\"soft\">in ").Text(card.Device.Name);
        html.Line("</span></h1>");
        Warnings(html, card);
        html.Line("</header>").Line("<main>");
        Chip(html, card);
        Facts(html, card);
        Configuration(html, card);
        List(html, "The board must have", card.Board);
        Probes(html, "Probe before programming, with a blank chip", card.Before);
        Probes(html, "Probe after programming", card.After);
        html.Markup("<p class=\"soft\">").Text(CardNotes.OfRuns(card)).Line("</p>");
        Steps(html, card);
        Batch(html, card);
        Labels(html, card);
        html.Line("</main>").Line("</body>").Line("</html>");
        return html.ToString();
    }

    private static void Head(HtmlText html, BenchCard card)
    {
        html.Line("<!DOCTYPE html>").Line("<html lang=\"en\">").Line("<head>").Line("<meta charset=\"utf-8\"/>");
        html.Line("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>");
        html.Line("<meta name=\"color-scheme\" content=\"light dark\"/>");
        html.Line(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>"
        );
        html.Line("<meta name=\"generator\" content=\"relist bench card\"/>");
        html.Markup("<title>").Text($"Bench card: {card.Subject.Name}").Line("</title>");
        html.Line("<style>").Markup(Style()).Line("</style>").Line("</head>").Line("<body>");
    }

    private static void Warnings(HtmlText html, BenchCard card)
    {
        foreach (string warning in CardNotes.Warnings(card))
            html.Markup("<p class=\"warning\">").Text(warning).Line("</p>");
    }

    private static void Chip(HtmlText html, BenchCard card)
    {
        html.Line("<section class=\"chip-section\">").Line("<h2>The chip from above, after the start</h2>");
        if (card.Pins.IsEmpty)
            html.Markup("<p>")
                .Text(
                    $"No dual-in-line package is known for {card.Device.Name}: see the data sheet {card.Device.DataSheet}."
                )
                .Line("</p>");
        else
            ChipDrawing.Write(html, card);
        html.Line("</section>");
    }

    private static void Facts(HtmlText html, BenchCard card)
    {
        html.Line("<section>").Line("<h2>HEX file and chip</h2>").Line("<table class=\"facts\">");
        foreach (BenchFact fact in card.Facts)
            Row(html, fact.Name, fact.Value);
        html.Line("</table>").Line("</section>");
    }

    private static void Configuration(HtmlText html, BenchCard card)
    {
        html.Line("<section>").Line("<h2>Configuration</h2>");
        if (!card.HasConfiguration)
            html.Line(
                "<p class=\"warning\">The HEX does not set all of it. What it leaves out is shown as in a blank chip.</p>"
            );
        html.Line("<table class=\"facts\">");
        foreach ((ConfigurationWord _, DecodedField field) in card.Configuration.Fields)
            Row(html, field.Field.Name, field.Meaning);
        html.Line("</table>").Line("</section>");
    }

    private static void List(HtmlText html, string title, ImmutableArray<string> lines)
    {
        html.Line("<section>").Markup("<h2>").Text(title).Line("</h2>").Line("<ul>");
        foreach (string line in lines)
            html.Markup("<li>").Text(line).Line("</li>");
        html.Line("</ul>").Line("</section>");
    }

    private static void Probes(HtmlText html, string title, ImmutableArray<Probe> probes)
    {
        html.Line("<section>").Markup("<h2>").Text(title).Line("</h2>");
        if (probes.IsEmpty)
        {
            html.Line("<p>Nothing can be said.</p>").Line("</section>");
            return;
        }

        html.Line("<table class=\"probes\">");
        html.Line(
            "<tr><th class=\"tick\"><span class=\"hidden\">done</span></th><th>where</th><th>what is to be seen</th></tr>"
        );
        foreach (Probe probe in probes)
        {
            html.Markup(probe.IsKnown ? "<tr>" : "<tr class=\"unknown\">")
                .Markup("<td class=\"tick\"><span class=\"box\"></span></td>")
                .Element("<td class=\"where\">", probe.Where, "td")
                .Markup("<td>");
            for (int i = 0; i < probe.Cases.Length; i++)
                html.Markup(i > 0 ? "<br/>" : "").Text(probe.Cases[i]);
            html.Markup("</td>").Line("</tr>");
        }

        html.Line("</table>").Line("</section>");
    }

    private static void Steps(HtmlText html, BenchCard card)
    {
        html.Line("<section>").Line("<h2>Programming, step by step</h2>").Line("<ol class=\"steps\">");
        foreach (BenchStep step in card.Steps)
        {
            html.Markup("<li><span class=\"box\"></span> ").Text(step.Text);
            foreach (string caution in step.Cautions)
                html.Markup("<p class=\"caution\"><b>Caution:</b> ").Text(caution).Markup("</p>");
            html.Line("</li>");
        }

        html.Line("</ol>").Line("</section>");
    }

    private static void Batch(HtmlText html, BenchCard card)
    {
        if (card.Subject.Boards == 0)
            return;
        html.Line("<section class=\"batch\">").Line("<h2>The batch</h2>").Line("<table class=\"batch\">");
        html.Markup("<thead><tr>");
        foreach (string column in CardNotes.BatchColumns)
            html.Element("<th>", column, "th");
        html.Line("</tr></thead>").Line("<tbody>");
        for (int board = 1; board <= card.Subject.Boards; board++)
        {
            html.Markup("<tr><td class=\"where\">").Number(board).Markup("</td>");
            foreach (string column in CardNotes.BatchColumns.Skip(1))
                html.Markup(
                    CardNotes.IsTick(column) ? "<td class=\"tick\"><span class=\"box\"></span></td>" : "<td></td>"
                );
            html.Line("</tr>");
        }

        html.Line("</tbody>").Line("</table>").Line("</section>");
    }

    private static void Labels(HtmlText html, BenchCard card)
    {
        if (card.Subject.Labels == 0)
            return;
        html.Line("<section class=\"labels\">").Line("<h2>Labels</h2>").Line("<div class=\"sheet\">");
        for (int i = 0; i < card.Subject.Labels; i++)
            html.Markup("<div class=\"label\"><b>")
                .Text(card.Subject.Name)
                .Markup("</b><br/>")
                .Text(CardNotes.LabelText(card))
                .Line("<br/>date ____________</div>");
        html.Line("</div>").Line("</section>");
    }

    private static void Row(HtmlText html, string name, string value) =>
        html.Markup("<tr>").Element("<th scope=\"row\">", name, "th").Element("<td>", value, "td").Line("</tr>");

    private static string Style()
    {
        using Stream stream =
            typeof(CardHtml).Assembly.GetManifestResourceStream("bench/card.css")
            ?? throw new InvalidOperationException("the style of the card is missing from the program");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
