using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Running heads whose words change from page to page: the outermost line of each page begins or ends with a number, and
/// that number counts the pages.
/// </summary>
internal static class NumberedHeads
{
    /// <summary>Adds the heads and feet found to page header or footer lines.</summary>
    /// <param name="pages">The pages.</param>
    /// <param name="edges">The lines at the edges of the pages that do not look like code.</param>
    /// <param name="found">The page headers and footers found so far.</param>
    public static void Add(IReadOnlyList<PrintedPage> pages, HashSet<PrintedLine> edges, HashSet<PrintedLine> found)
    {
        foreach (bool top in (bool[])[true, false])
        {
            var votes = new Dictionary<int, List<PrintedLine>>();
            int withText = 0;
            foreach (PrintedPage page in pages)
            {
                if (page.Lines.Length < 2)
                    continue;
                withText++;
                PrintedLine line = top ? page.Lines.MinBy(static l => l.Y)! : page.Lines.MaxBy(static l => l.Y)!;
                if (!edges.Contains(line))
                    continue;
                foreach (int number in Numbers(line.Text).Distinct())
                {
                    if (!votes.TryGetValue(number - page.Number, out List<PrintedLine>? list))
                        votes.Add(number - page.Number, list = []);
                    list.Add(line);
                }
            }

            foreach (List<PrintedLine> lines in votes.Values)
                if (lines.Count >= 2 && lines.Count * 2 > withText)
                    found.UnionWith(lines);
        }
    }

    // The number that the line begins with, and the one that it ends with; 'Listing 7.2' ends with none.
    private static IEnumerable<int> Numbers(string text)
    {
        if (PageCount.Find(text) is { } count)
            yield return count.Number;
        string[] words = text.Split((char[])[' ', '\u00A0', '\t'], StringSplitOptions.RemoveEmptyEntries);
        for (int i = 0; i < words.Length; i += Math.Max(1, words.Length - 1))
            if (PageNumber.TryNumber(words[i], out int number))
                yield return number;
    }
}
