using System.Globalization;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Follows the line numbers in front of a listing: where they jump, lines are missing, a page most likely; where they fall back at the top of a
/// page, the pages are in another order or one is there twice.
/// </summary>
internal static class MissingLines
{
    /// <summary>So many numbers at the least say how the listing counts.</summary>
    private const int LeastNumbers = 8;

    /// <summary>As many unnumbered blank lines may be at the end of a page and the top of the next.</summary>
    private const int BlankAtBreak = 3;

    /// <summary>So few lines are no page.</summary>
    private const int FewLines = 4;

    private const int MostQuoted = 3;

    /// <summary>The places at which the numbers jump.</summary>
    /// <param name="lines">The lines of the listing, with their numbers.</param>
    /// <param name="aside">What the document holds beside the listing.</param>
    public static List<MissingPiece> Find(List<ListingLine> lines, IReadOnlyList<AsideLine> aside)
    {
        var found = new List<MissingPiece>();
        List<ListingLine> numbered = Numbered(lines);
        if (numbered.Count < LeastNumbers || Step(numbered) is not { } step)
            return found;
        double pitch = Pitch(numbered, step);
        var pages = new SortedDictionary<int, (int First, int Last)>();
        foreach (ListingLine line in numbered)
            pages[line.Page] = pages.TryGetValue(line.Page, out (int First, int Last) range)
                ? (Math.Min(range.First, line.Number), Math.Max(range.Last, line.Number))
                : (line.Number, line.Number);
        bool skipsBlank = HasUnnumberedBlank(numbered, step, pitch);
        AddStart(found, numbered[0], lines, step);
        AddMoved(found, lines, step);
        for (int i = 1; i < numbered.Count; i++)
        {
            ListingLine before = numbered[i - 1],
                following = numbered[i];
            bool isBreak = before.Page != following.Page;
            int missing = (following.Number - before.Number) / step - 1;
            if (following.Number <= before.Number)
            {
                // A file that is included counts from one.
                if (isBreak && following.Number > step)
                    AddFall(found, before, following, pages);
                continue;
            }

            if (
                missing <= 0
                || missing <= Room(before, following, pitch)
                || (isBreak && skipsBlank && missing <= BlankAtBreak)
                || IsHidden(lines, before)
            )
                continue;
            (List<string> leftOut, int blank) = LeftOut(before, following, aside);
            if (missing > blank)
                AddJump(found, before, following, pages, leftOut, step);
        }

        return found;
    }

    // The lines with a number; one that was misread between two that continue does not count.
    private static List<ListingLine> Numbered(List<ListingLine> lines)
    {
        List<ListingLine> all = [.. lines.Where(static l => l is { Number: >= 0, Printed: not null, IsRest: false })];
        var kept = new List<ListingLine>(all.Count);
        for (int i = 0; i < all.Count; i++)
        {
            bool isOdd =
                i > 0
                && i + 1 < all.Count
                && all[i + 1].Number > all[i - 1].Number
                && all[i + 1].Number - all[i - 1].Number <= 2
                && (all[i].Number <= all[i - 1].Number || all[i].Number >= all[i + 1].Number);
            if (!isOdd)
                kept.Add(all[i]);
        }

        return kept;
    }

    // Two neighbors that changed places, and a line that is there twice. A misread number has its neighbors in order.
    private static void AddMoved(List<MissingPiece> found, List<ListingLine> lines, int step)
    {
        ListingLine[] all = [.. lines.Where(static l => l is { Number: >= 0, Printed: not null, IsRest: false })];
        for (int i = 1; i < all.Length; i++)
        {
            (ListingLine before, ListingLine line) = (all[i - 1], all[i]);
            if (line.Number == before.Number && line.Text.Trim() == before.Text.Trim() && line.Text.Trim().Length > 0)
                found.Add(Moved(before, line, $"line {line.Number} is here twice", "twice"));
            if (
                i + 1 >= all.Length
                || line.Number != all[i + 1].Number + step
                || all[i + 1].Number != before.Number + step
            )
                continue;
            string order = string.Create(
                CultureInfo.InvariantCulture,
                $"line {line.Number} comes before line {all[i + 1].Number}"
            );
            found.Add(Moved(before, line, order, "in another order"));
            found.Add(Moved(line, all[i + 1], order, "in another order"));
        }
    }

    private static MissingPiece Moved(ListingLine before, ListingLine line, string words, string how) =>
        new(
            DocumentCodes.PageOrder,
            before,
            line,
            words,
            string.Create(
                CultureInfo.InvariantCulture,
                $"The text has line {line.Number} of the listing {how}: '{line.Text.Trim()}'. Put each line where its number belongs."
            )
        );

    // By how much the numbers rise from line to line; null where they do so in no regular manner.
    internal static int? Step(List<ListingLine> numbered)
    {
        var counts = new Dictionary<int, int>();
        for (int i = 1; i < numbered.Count; i++)
        {
            int step = numbered[i].Number - numbered[i - 1].Number;
            if (step > 0)
                counts[step] = counts.GetValueOrDefault(step) + 1;
        }

        if (counts.Count == 0)
            return null;
        (int best, int count) = counts.MaxBy(static c => (c.Value, -c.Key));
        return count * 2 >= numbered.Count ? best : null;
    }

    private static double Pitch(List<ListingLine> numbered, int step)
    {
        var distances = new List<double>();
        for (int i = 1; i < numbered.Count; i++)
            if (IsBelow(numbered[i - 1], numbered[i]) && numbered[i].Number - numbered[i - 1].Number == step)
                distances.Add(numbered[i].Printed!.Y - numbered[i - 1].Printed!.Y);
        distances.Sort();
        return distances.Count == 0 ? 0 : distances[distances.Count / 2];
    }

    private static bool IsBelow(ListingLine before, ListingLine following) =>
        before.Page == following.Page && following.Printed!.Y > before.Printed!.Y;

    // How many blank lines have room between two.
    private static int Room(ListingLine before, ListingLine following, double pitch) =>
        pitch > 0 && IsBelow(before, following)
            ? (int)Math.Round((following.Printed!.Y - before.Printed!.Y) / pitch) - 1
            : 0;

    private static bool HasUnnumberedBlank(List<ListingLine> numbered, int step, double pitch)
    {
        for (int i = 1; i < numbered.Count; i++)
            if (
                (numbered[i].Number - numbered[i - 1].Number) / step is > 1 and <= BlankAtBreak + 1
                && Room(numbered[i - 1], numbered[i], pitch) > 0
            )
                return true;
        return false;
    }

    // What the listing leaves out by wish is not missing.
    private static bool IsHidden(List<ListingLine> lines, ListingLine before)
    {
        for (int i = lines.IndexOf(before), seen = 0; i >= 0 && seen < FewLines; i--, seen++)
            if (AssemblyLook.KeywordOf(lines[i].Text) == Keyword.NoList)
                return true;
        return false;
    }

    // A listing that begins in the middle: where the head of the program is there, comments alone was above it.
    private static void AddStart(List<MissingPiece> found, ListingLine first, List<ListingLine> lines, int step)
    {
        if (
            first.Number <= step * FewLines
            || lines.Exists(static l => AssemblyLook.IsHead(l.Text) && AssemblyLook.KeywordOf(l.Text) != Keyword.Org)
        )
            return;
        int last = first.Number - step;
        found.Add(
            new MissingPiece(
                DocumentCodes.MissingLines,
                first,
                first,
                string.Create(CultureInfo.InvariantCulture, $"lines 1 to {last} are missing above"),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Lines 1 to {last} of the listing are not in this document: it begins with line {first.Number}{(first.Page > 0 ? string.Create(CultureInfo.InvariantCulture, $", on page {first.Page}") : "")}. The page with the start of the program seems to be missing. Find it, and put its lines in above this one."
                )
            )
        );
    }

    private static void AddFall(
        List<MissingPiece> found,
        ListingLine before,
        ListingLine following,
        SortedDictionary<int, (int First, int Last)> pages
    )
    {
        (int first, int last) = pages[following.Page];
        foreach ((int page, (int First, int Last) range) in pages)
        {
            if (page >= following.Page || range.First > first || range.Last < last)
                continue;
            found.Add(
                new MissingPiece(
                    DocumentCodes.PageOrder,
                    before,
                    following,
                    string.Create(CultureInfo.InvariantCulture, $"lines {first} to {last} are printed twice"),
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Page {following.Page} holds lines {first} to {last} of the listing, which page {page} has already: the page is in this document twice. Remove its lines here if they are the same."
                    )
                )
            );
            return;
        }

        found.Add(
            new MissingPiece(
                DocumentCodes.PageOrder,
                before,
                following,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"line {following.Number} comes after line {before.Number}"
                ),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Page {following.Page} begins with line {following.Number} of the listing, but page {before.Page} ends with line {before.Number}: the pages are in the wrong order. Put the lines of page {following.Page} where their numbers belong."
                )
            )
        );
    }

    private static void AddJump(
        List<MissingPiece> found,
        ListingLine before,
        ListingLine following,
        SortedDictionary<int, (int First, int Last)> pages,
        List<string> leftOut,
        int step
    )
    {
        int first = before.Number + step,
            last = following.Number - step;
        string which =
            first == last
                ? string.Create(CultureInfo.InvariantCulture, $"ine {first}")
                : string.Create(CultureInfo.InvariantCulture, $"ines {first} to {last}");
        string isMissing = first == last ? "is" : "are";
        foreach ((int page, (int First, int Last) range) in pages)
        {
            if (page == before.Page || page == following.Page || range.First < first || range.Last > last)
                continue;
            found.Add(
                new MissingPiece(
                    DocumentCodes.PageOrder,
                    before,
                    following,
                    string.Create(CultureInfo.InvariantCulture, $"l{which} {isMissing} missing above; see page {page}"),
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Page {following.Page} continues with line {following.Number} of the listing, but line {range.First} is on page {page}: the pages are in the wrong order. Put the lines of page {page} where their numbers belong."
                    )
                )
            );
            return;
        }

        string words = $"l{which} {isMissing} missing above";
        string text = string.Create(
            CultureInfo.InvariantCulture,
            $"L{which} of the listing {isMissing} not in this document: "
        );
        if (leftOut.Count > 0)
            text = string.Create(
                CultureInfo.InvariantCulture,
                $"L{which} of the listing {isMissing} missing above this one. By {(leftOut.Count == 1 ? "its number" : "their numbers")} {string.Join(", ", leftOut.Take(MostQuoted))} {(leftOut.Count == 1 ? "belongs" : "belong")} there; put in what was left out."
            );
        else if (before.Page == following.Page)
            text += string.Create(
                CultureInfo.InvariantCulture,
                $"{(following.Page > 0 ? string.Create(CultureInfo.InvariantCulture, $"on page {following.Page} ") : "")}the printed numbers go from {before.Number} to {following.Number}. Compare with the page, and put in above this line what is missing."
            );
        else if (following.Page - before.Page > 1)
            text += string.Create(
                CultureInfo.InvariantCulture,
                $"page {before.Page} ends with line {before.Number}, and page {following.Page} continues with line {following.Number}. Look at {(following.Page - before.Page == 2 ? $"page {before.Page + 1}" : $"pages {before.Page + 1} to {following.Page - 1}")} between them, and put in above this line what is missing."
            );
        else
        {
            string guess =
                (last - first) / step + 1 > FewLines
                    ? "The page between them seems to be missing. Find it, and put its lines in above this one."
                    : $"Compare the end of page {before.Page} and the start of page {following.Page}, and put in above this line what is missing.";
            text += string.Create(
                CultureInfo.InvariantCulture,
                $"page {before.Page} ends with line {before.Number}, and page {following.Page} continues with line {following.Number}. {guess}"
            );
        }

        found.Add(new MissingPiece(DocumentCodes.MissingLines, before, following, words, text));
    }

    // Lines beside the program whose number says that they are of it, and how many are a number and nothing else: blank lines.
    private static (List<string> Texts, int Blank) LeftOut(
        ListingLine before,
        ListingLine following,
        IReadOnlyList<AsideLine> aside
    )
    {
        var texts = new List<string>();
        int blank = 0;
        foreach (AsideLine line in aside)
        {
            if (line.Printed.Page < before.Page || line.Printed.Page > following.Page)
                continue;
            string text = line.Printed.Text.Trim();
            int end = 0;
            while (end < text.Length && char.IsAsciiDigit(text[end]))
                end++;
            if (
                end is 0 or > 6
                || !int.TryParse(text.AsSpan(0, end), NumberStyles.None, CultureInfo.InvariantCulture, out int number)
                || number <= before.Number
                || number >= following.Number
            )
                continue;
            if (text.AsSpan(end).Trim(".:) ").IsEmpty)
                blank++;
            else if (!line.IsHeaderOrFooter)
                texts.Add($"'{text}'");
        }

        return (texts, blank);
    }
}
