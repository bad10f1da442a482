using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Comparison;

namespace AsmLsp.Host.Review;

/// <summary>The rows of a page: printed lines on the left, the source line on the right, what is said about it below.</summary>
/// <param name="html">Where they go.</param>
/// <param name="result">The source of the right side.</param>
/// <param name="stops">What there is to look at in it.</param>
/// <param name="pictures">The pictures of printed lines.</param>
/// <param name="prefix">What the anchors of an included file begin with; those of the program have none.</param>
internal sealed class ReviewRows(
    HtmlText html,
    RecoveryResult result,
    ReviewStops stops,
    ReviewPictures pictures,
    string prefix = ""
)
{
    public void Write(ReviewSheet sheet, string name)
    {
        html.Line("<table role=\"table\"><colgroup><col/><col/></colgroup>");
        html.Markup("<thead role=\"rowgroup\"><tr role=\"row\"><th scope=\"col\" role=\"columnheader\">")
            .Text(sheet.Number == 0 ? "As pasted" : $"As printed on {char.ToLowerInvariant(name[0])}{name[1..]}");
        html.Line(
            "</th><th scope=\"col\" role=\"columnheader\">Recovered source</th></tr></thead><tbody role=\"rowgroup\">"
        );
        bool leftOut = false;
        foreach (ReviewRow row in sheet.Rows)
        {
            Row(row, first: !leftOut);
            leftOut = row.IsLeftOut;
        }

        html.Line("</tbody></table>");
    }

    private void Row(ReviewRow row, bool first)
    {
        int line = row.SourceLine;
        bool isStop = line >= 0 && stops.At(line).Count > 0;
        string kind =
            row.IsLeftOut ? "out"
            : isStop ? "open"
            : line >= 0 && stops.ChangesAt(line).Count > 0 ? "changed"
            : "";
        string source = line >= 0 ? result.Source[line].Text : "";
        string printed = string.Join('\n', row.Printed.Select(static p => p.Text));
        (List<WordPiece> before, List<WordPiece> after) =
            line >= 0 && row.Printed.Count > 0 ? WordDifference.Between(printed, DoubtMark.Remove(source)) : ([], []);
        // Small windows show a line once where both sides say the same.
        if (
            kind.Length == 0
            && row.Printed.Count > 0
            && !before.Exists(static p => !p.IsShared)
            && !after.Exists(static p => !p.IsShared)
        )
            kind = "same";
        // Above what was made of it, in the full width of the page: a small picture hides what it is there for.
        if (isStop && pictures.Has(result.Origins[line]))
        {
            html.Markup("<tr role=\"row\" class=\"open cut\"><td role=\"cell\" colspan=\"2\">");
            pictures.Lines(result.Origins[line]);
            html.Line("</td></tr>");
        }

        html.Markup(kind.Length > 0 ? $"<tr role=\"row\" class=\"{kind}\">" : "<tr role=\"row\">");
        Printed(row, printed, source, before, after);
        html.Markup("<td role=\"cell\" class=\"source\">");
        if (line >= 0)
        {
            Source(line, source, after);
            foreach (ReviewStop stop in stops.At(line))
                ReviewNotes.Stop(html, stop, stops.Count, result.Origins[line], pictures.FrameOf(result.Origins[line]));
            foreach (RecoveryEntry entry in stops.ChangesAt(line))
                ReviewNotes.Change(html, entry);
            if (row.Printed.Count == 0 && !row.IsSplit && source.Length > 0)
                html.Line("<p class=\"note\"><span class=\"kind\">Put in:</span> the document has no such line.</p>");
            if (row.IsSplit)
                html.Line(
                    "<p class=\"note\"><span class=\"kind\">Parted:</span> printed on one line with the one above.</p>"
                );
        }
        else if (row.JoinedTo >= 0)
        {
            html.Markup("<p class=\"note\"><span class=\"kind\">Joined:</span> it continues from <a href=\"#")
                .Markup(prefix)
                .Markup("line-")
                .Number(row.JoinedTo + 1)
                .Markup("\">line ")
                .Number(row.JoinedTo + 1)
                .Line("</a>.</p>");
        }
        else if (first)
        {
            html.Line("<p class=\"soft\">left out</p>");
        }

        html.Line("</td></tr>");
    }

    private void Printed(ReviewRow row, string printed, string source, List<WordPiece> before, List<WordPiece> after)
    {
        html.Markup("<td role=\"cell\" class=\"print\">");
        int start = 0;
        // Numbers in front that the source has not are the listing's own columns, no change of a word.
        bool hasOwn =
            after.Count > 0
            && (after[0].IsShared || !IsNumber(DoubtMark.Remove(source).AsSpan(after[0].Start, after[0].Length)));
        int own = hasOwn
            ? before.TakeWhile(p => !p.IsShared && IsNumber(printed.AsSpan(p.Start, p.Length))).Count()
            : 0;
        foreach (ShownPrint print in row.Printed)
        {
            html.Markup("<div class=\"row\">");
            if (print.Place.Line > 0)
            {
                html.Markup("<span class=\"number\" id=\"")
                    .Markup(prefix)
                    .Markup(ReviewPage.AnchorOf(print.Place))
                    .Markup("\"><span class=\"hidden\">printed line </span>")
                    .Number(print.Place.Line)
                    .Markup("</span>");
            }
            else
                html.Markup("<span class=\"number\"></span>");
            html.Markup("<code>");
            Pieces(print.Text, start, before, own, "was");
            html.Markup("</code></div>");
            start += print.Text.Length + 1;
        }

        html.Line("</td>");
    }

    private void Source(int line, string source, List<WordPiece> after)
    {
        html.Markup("<div class=\"row\"><span class=\"number\" id=\"")
            .Markup(prefix)
            .Markup("line-")
            .Number(line + 1)
            .Markup("\"><span class=\"hidden\">source line </span>")
            .Number(line + 1)
            .Markup("</span><code>");
        TextSpan? mark = DoubtMark.Find(source);
        Pieces(mark is { } span ? source[..span.Start] : source, 0, after, 0, "now");
        if (mark is { } at)
            html.Element("<mark class=\"doubt\">", source[at.Start..], "mark");
        html.Line("</code></div>");
    }

    // A line with its changed words marked; neighbors share one mark.
    private void Pieces(string text, int offset, List<WordPiece> pieces, int quiet, string change)
    {
        int at = 0;
        for (int i = 0; i < pieces.Count; i++)
        {
            int start = pieces[i].Start - offset,
                end = start + pieces[i].Length;
            if (pieces[i].IsShared || start < at || end > text.Length)
                continue;
            bool isQuiet = i < quiet;
            while (
                i + 1 < pieces.Count
                && !pieces[i + 1].IsShared
                && i + 1 < quiet == isQuiet
                && pieces[i + 1].Start - offset + pieces[i + 1].Length <= text.Length
            )
                end = pieces[++i].Start - offset + pieces[i].Length;
            html.Text(text[at..start])
                .Element(
                    isQuiet ? "<span class=\"own\">" : $"<mark class=\"{change}\">",
                    text[start..end],
                    isQuiet ? "span" : "mark"
                );
            at = end;
        }

        html.Text(text[at..]);
    }

    private static bool IsNumber(ReadOnlySpan<char> word)
    {
        foreach (char c in word)
            if (!char.IsAsciiHexDigit(c) && c is not (':' or '.' or ')'))
                return false;
        return true;
    }
}
