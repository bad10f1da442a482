using System.Globalization;
using System.Text;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Page headers and footers: they come again at the same place of other pages with the same words, digits aside, or count
/// the pages. The place is the row from the upper or lower edge of the text. A line that looks like code is never one.
/// </summary>
internal static class HeadersAndFooters
{
    /// <summary>How many rows at either edge of a page can be headers and footers.</summary>
    private const int EdgeRows = 6;

    /// <summary>On how many pages a line has to come again; on two where there are no more than <see cref="FewPages"/>.</summary>
    private const int LeastPages = 3;
    private const int FewPages = 4;

    public static HashSet<PrintedLine> Find(IReadOnlyList<PrintedPage> pages, DocumentGutter gutter)
    {
        HashSet<string> macros = Macros(pages);
        var names = new EdgeNames(pages.SelectMany(static p => p.Lines));
        var groups = new Dictionary<string, List<PageEdge>>(StringComparer.Ordinal);
        var edges = new HashSet<PrintedLine>(ReferenceEqualityComparer.Instance);
        foreach (PrintedPage page in pages)
        {
            foreach (PageEdge edge in PageEdge.Of(page, EdgeRows))
            {
                if (
                    gutter.KindOf(edge.Line) is GutterRowKind.Listing or GutterRowKind.Rest
                    || !MayBeHeaderOrFooter(edge.Line.Text, macros)
                    || NumbersEmptyLine(page, edge.Line)
                )
                    continue;
                edges.Add(edge.Line);
                string key = Key(edge.Line.Text);
                if (!groups.TryGetValue(key, out List<PageEdge>? group))
                    groups[key] = group = [];
                group.Add(edge);
            }
        }

        var found = new HashSet<PrintedLine>(ReferenceEqualityComparer.Instance);
        foreach (List<PageEdge> group in groups.Values)
        {
            if (
                group.DistinctBy(static e => e.Line.Page).Count() < (pages.Count <= FewPages ? 2 : LeastPages)
                || names.AreOfProgram(group)
            )
                continue;
            // Left and right pages may print it at two places; each has to come again somewhere.
            foreach (PageEdge edge in group)
                if (group.Exists(e => edge.IsPlacedAs(e)))
                    found.Add(edge.Line);
        }

        AddCounts(pages, edges, found);
        foreach (PrintedPage page in pages)
            AddPageNumbers(page, edges, found);
        foreach (PrintedPage page in pages)
            KeepOutermost(page, found);
        NumberedHeads.Add(pages, edges, found);
        MarginRows.Add(pages, edges, found);
        foreach (PrintedPage page in pages)
        foreach (PrintedLine line in page.Lines)
            if (PrintedMessage.Is(line.Text) || gutter.KindOf(line) == GutterRowKind.Page)
                found.Add(line);
        return found;
    }

    // Two programs of one length end at the same height; each program begins with its own head.
    private static bool MayBeHeaderOrFooter(string text, HashSet<string> macros) =>
        AssemblyLook.Of(text) is not (Look.Code or Look.Comment)
        && !AssemblyLook.IsEnd(text)
        && !AssemblyLook.IsInstruction(text)
        && !AssemblyLook.IsHead(text)
        && !IsCall(text, macros);

    // 'page 2 of 7' is proof by itself; '2/7' beside '3/7' of another page, or where there are so many pages.
    private static void AddCounts(
        IReadOnlyList<PrintedPage> pages,
        HashSet<PrintedLine> edges,
        HashSet<PrintedLine> found
    )
    {
        var counted = new List<(PrintedLine Line, int Page, PageCount Count)>();
        for (int i = 0; i < pages.Count; i++)
        {
            if (pages[i].Lines.Length < 2)
                continue;
            foreach (PageEdge edge in PageEdge.Of(pages[i], EdgeRows))
                if (
                    edges.Contains(edge.Line)
                    && IsOutermost(pages[i], edge, found)
                    && PageCount.Find(edge.Line.Text) is { } count
                )
                    counted.Add((edge.Line, i, count));
        }

        foreach ((PrintedLine line, int page, PageCount count) in counted)
        {
            bool isProof =
                (count.IsExplicit && count.Total > 0)
                || (count.Total == pages.Count && count.Number == page + 1)
                || counted.Exists(c =>
                    c.Page != page
                    && c.Count.Number - count.Number == c.Page - page
                    && c.Count.Total == count.Total
                    && c.Count.IsExplicit == count.IsExplicit
                );
            if (isProof)
                found.Add(line);
        }
    }

    private static bool IsOutermost(PrintedPage page, PageEdge edge, HashSet<PrintedLine> found) =>
        edge.Rank == 0
        || page.Lines.All(l =>
            found.Contains(l) || (edge.IsTop ? l.Y >= edge.Line.Y - 0.01 : l.Y <= edge.Line.Y + 0.01)
        );

    // A head has nothing of the program above it, a foot nothing below it.
    private static void KeepOutermost(PrintedPage page, HashSet<PrintedLine> found)
    {
        PrintedLine[] byHeight = [.. page.Lines.OrderBy(static l => l.Y).ThenBy(static l => l.X)];
        int top = 0,
            bottom = byHeight.Length;
        while (top < bottom && found.Contains(byHeight[top]))
            top++;
        while (bottom > top && found.Contains(byHeight[bottom - 1]))
            bottom--;
        for (int i = top; i < bottom; i++)
            found.Remove(byHeight[i]);
    }

    private static HashSet<string> Macros(IReadOnlyList<PrintedPage> pages)
    {
        var macros = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (PrintedPage page in pages)
        foreach (PrintedLine line in page.Lines)
            if (AssemblyLook.MacroDefinedBy(line.Text) is { } name)
                macros.Add(name);
        return macros;
    }

    private static bool IsCall(string text, HashSet<string> macros)
    {
        if (macros.Count == 0)
            return false;
        foreach (string word in text.Split((char[])[' ', '\t', '\u00A0'], 3, StringSplitOptions.RemoveEmptyEntries))
            if (macros.Contains(word))
                return true;
        return false;
    }

    // A number alone, or one with 'page', as the outermost line of a page that is not the program's.
    private static void AddPageNumbers(PrintedPage page, HashSet<PrintedLine> edges, HashSet<PrintedLine> found)
    {
        if (page.Lines.Length < 2)
            return;
        foreach (bool isTop in (ReadOnlySpan<bool>)[true, false])
        {
            PrintedLine line = isTop ? page.Lines.MinBy(static l => l.Y)! : page.Lines.MaxBy(static l => l.Y)!;
            if (edges.Contains(line) && IsPageNumber(line.Text))
                found.Add(line);
        }
    }

    // In a numbered listing, an empty line is its number alone: it counts on with the row beside it.
    private static bool NumbersEmptyLine(PrintedPage page, PrintedLine line)
    {
        if (!IsPageNumber(line.Text) || !TryLeadingNumber(line.Text, out int number))
            return false;
        PrintedLine? below = page.Lines.Where(l => l.Y > line.Y + 0.01).MinBy(static l => l.Y),
            above = page.Lines.Where(l => l.Y < line.Y - 0.01).MaxBy(static l => l.Y);
        return IsBeside(below, number + 1) || IsBeside(above, number - 1);
    }

    private static bool IsBeside(PrintedLine? line, int expected) =>
        line is not null && TryLeadingNumber(line.Text, out int number) && number == expected;

    private static bool TryLeadingNumber(string text, out int number)
    {
        ReadOnlySpan<char> trimmed = text.AsSpan().TrimStart();
        int end = trimmed.IndexOfAnyExceptInRange('0', '9');
        number = 0;
        return (end < 0 ? trimmed : trimmed[..end]) is { Length: > 0 and <= 6 } digits
            && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out number);
    }

    private static bool IsPageNumber(string text)
    {
        ReadOnlySpan<char> trimmed = text.AsSpan().Trim().Trim("-\u2013\u2014").Trim();
        int letters = 0;
        while (letters < trimmed.Length && char.IsLetter(trimmed[letters]))
            letters++;
        if (PageWords.IsPage(trimmed[..letters]))
            trimmed = trimmed[letters..].Trim(" .:");
        return trimmed.Length is > 0 and <= 4 && trimmed.IndexOfAnyExceptInRange('0', '9') < 0;
    }

    private static string Key(string text)
    {
        var key = new StringBuilder();
        foreach (char c in text.AsSpan().Trim())
        {
            char put =
                char.IsDigit(c) ? '#'
                : char.IsWhiteSpace(c) ? ' '
                : char.ToLowerInvariant(c);
            if (key.Length > 0 && put is '#' or ' ' && key[^1] == put)
                continue;
            key.Append(put);
        }

        return key.ToString();
    }
}
