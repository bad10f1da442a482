using System.Text;
using AsmLsp.Core.Recovery.Gutter;
using AsmLsp.Core.Recovery.Printed;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// The page's own lines: they come again at the same height of other pages with the same words, digits aside, at the
/// upper or lower edge of the text. A line that looks like code is never one.
/// </summary>
internal static class Furniture
{
    /// <summary>How far the heights of repeated lines may differ, in points.</summary>
    private const double SameHeight = 4;

    /// <summary>How many lines at either edge of a page can be the page's own.</summary>
    private const int EdgeLines = 6;

    /// <summary>On how many pages a line has to come again; on two where there are no more than <see cref="FewPages"/>.</summary>
    private const int LeastPages = 3;
    private const int FewPages = 4;

    public static HashSet<PrintedLine> Find(IReadOnlyList<PrintedPage> pages, DocumentGutter gutter)
    {
        HashSet<string> macros = Macros(pages);
        var groups = new Dictionary<string, List<PrintedLine>>(StringComparer.Ordinal);
        var edges = new HashSet<PrintedLine>(ReferenceEqualityComparer.Instance);
        foreach (PrintedPage page in pages)
        {
            PrintedLine[] byHeight = [.. page.Lines.OrderBy(static l => l.Y).ThenBy(static l => l.X)];
            for (int i = 0; i < byHeight.Length; i++)
            {
                if (i >= EdgeLines && i < byHeight.Length - EdgeLines)
                    continue;
                PrintedLine line = byHeight[i];
                // Two programs of one length end at the same height.
                if (
                    gutter.KindOf(line) is RowKind.Listing or RowKind.Rest
                    || AssemblyLook.Of(line.Text) is Look.Code or Look.Comment
                    || AssemblyLook.IsEnd(line.Text)
                    || AssemblyLook.IsInstruction(line.Text)
                    || IsCall(line.Text, macros)
                )
                    continue;
                edges.Add(line);
                string key = Key(line.Text);
                if (!groups.TryGetValue(key, out List<PrintedLine>? group))
                    groups[key] = group = [];
                group.Add(line);
            }
        }

        var found = new HashSet<PrintedLine>(ReferenceEqualityComparer.Instance);
        foreach (List<PrintedLine> group in groups.Values)
        {
            if (group.DistinctBy(static l => l.Page).Count() < (pages.Count <= FewPages ? 2 : LeastPages))
                continue;
            foreach (PrintedLine line in group)
            {
                // Left and right pages may print it at two heights; each has to come again somewhere.
                foreach (PrintedLine other in group)
                {
                    if (other.Page == line.Page || Math.Abs(other.Y - line.Y) > SameHeight)
                        continue;
                    found.Add(line);
                    break;
                }
            }
        }

        foreach (PrintedPage page in pages)
            AddPageNumbers(page, edges, found);
        foreach (PrintedPage page in pages)
            KeepOutermost(page, found);
        NumberedHeads.Add(pages, edges, found);
        foreach (PrintedPage page in pages)
        foreach (PrintedLine line in page.Lines)
            if (PrintedMessage.Is(line.Text) || gutter.KindOf(line) == RowKind.Page)
                found.Add(line);
        return found;
    }

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
        foreach (PrintedLine line in new[] { page.Lines.MinBy(static l => l.Y)!, page.Lines.MaxBy(static l => l.Y)! })
            if (edges.Contains(line) && IsPageNumber(line.Text))
                found.Add(line);
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
