using System.Globalization;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>The numbers that are printed on pages: the first and the last one of a page, mostly the same, and how many pages there are by what is printed.</summary>
internal readonly record struct PageNumberRange(int First, int Last, int Total);

/// <summary>
/// Reads the page numbers in heads and feet. Which of the numbers in a head counts the pages shows by its place among the
/// head's words: there it rises by one from page to page, or comes after the word for a page.
/// </summary>
internal static class PageNumbers
{
    /// <summary>The numbers by page of the document; pages without one are not in it.</summary>
    /// <param name="aside">What the document holds beside the listing, the pages' own lines among it.</param>
    public static Dictionary<int, PageNumberRange> Of(IReadOnlyList<AsideLine> aside)
    {
        var slots = new Dictionary<string, Slot>(StringComparer.Ordinal);
        foreach (AsideLine line in aside)
            if (line.IsHeaderOrFooter)
                Collect(slots, line.Printed, isNew: true);
        // Two pages on one sheet have two heads, and the second one may come once only.
        foreach (AsideLine line in aside)
            if (!line.IsHeaderOrFooter)
                Collect(slots, line.Printed, isNew: false);
        var numbers = new Dictionary<int, PageNumberRange>();
        Slot[] counting = [.. slots.Values.Where(static s => s.Counts)];
        // A head that names the page outweighs a number that happens to count.
        bool anyExplicit = Array.Exists(counting, static s => s.IsExplicit);
        foreach (Slot slot in counting)
        {
            if (anyExplicit && !slot.IsExplicit)
                continue;
            foreach ((int page, int number) in slot.Numbers.Select(static n => (n.Key, n.Value)).Concat(slot.More))
            {
                int total = slot.Totals.GetValueOrDefault(page);
                numbers[page] = numbers.TryGetValue(page, out PageNumberRange known)
                    ? new PageNumberRange(
                        Math.Min(known.First, number),
                        Math.Max(known.Last, number),
                        Math.Max(known.Total, total)
                    )
                    : new PageNumberRange(number, number, total);
            }
        }

        return numbers;
    }

    // Each number of a line, by the words around it and its place among the numbers.
    private static void Collect(Dictionary<string, Slot> slots, PrintedLine line, bool isNew)
    {
        string[] words = PageNumber.Words(line.Text);
        string key = string.Concat(line.Text.Where(static c => char.IsLetter(c))).ToLowerInvariant();
        for (int i = 0, index = 0; i < words.Length; i++)
        {
            if (!PageNumber.TryNumber(words[i], out int number))
                continue;
            bool isExplicit = i > 0 && PageNumber.IsWord(words[i - 1]);
            bool isTotal =
                i > 1
                && (words[i - 1] == "/" || PageWords.IsBetween(words[i - 1]))
                && PageNumber.TryNumber(words[i - 2], out _);
            if (isTotal)
            {
                if (slots.TryGetValue(Name(index - 1), out Slot? counted))
                    counted.Totals.TryAdd(line.Page, number);
                continue;
            }

            string name = Name(index++);
            if (!slots.TryGetValue(name, out Slot? slot))
            {
                if (!isNew)
                    continue;
                slots.Add(name, slot = new Slot { IsAlone = key.Length == 0 && words.Count(IsCounted) == 1 });
            }

            slot.IsExplicit |= isExplicit;
            if (!slot.Numbers.TryAdd(line.Page, number))
                slot.More.Add((line.Page, number));
        }

        static bool IsCounted(string word) => PageNumber.TryNumber(word, out _);

        string Name(int index) => string.Create(CultureInfo.InvariantCulture, $"{key}/{index}");
    }

    /// <summary>The numbers at one place of one head.</summary>
    private sealed class Slot
    {
        public SortedDictionary<int, int> Numbers { get; } = [];

        /// <summary>Further numbers of a page that has several heads.</summary>
        public List<(int Page, int Number)> More { get; } = [];

        public Dictionary<int, int> Totals { get; } = [];

        /// <summary>Whether nothing else is printed beside it.</summary>
        public bool IsAlone { get; init; }

        /// <summary>Whether the word for a page is in front of it.</summary>
        public bool IsExplicit { get; set; }

        /// <summary>Whether the numbers count the pages.</summary>
        public bool Counts
        {
            get
            {
                int steps = 0,
                    right = 0,
                    last = -1,
                    lastPage = 0;
                foreach ((int page, int number) in Numbers)
                {
                    if (last >= 0)
                    {
                        steps++;
                        if (number - last == page - lastPage)
                            right++;
                    }

                    (last, lastPage) = (number, page);
                }

                // A number that never changes is no page's.
                if (steps > 0 && Numbers.Values.Distinct().Count() == 1)
                    return false;
                // Pages in any order have each number once, and few are missing.
                bool isDistinct =
                    steps >= 2
                    && Numbers.Values.Distinct().Count() == Numbers.Count
                    && Numbers.Values.Max() - Numbers.Values.Min() <= (IsAlone ? 2 * steps : steps);
                return IsExplicit || (steps >= 2 && right * 2 >= steps) || isDistinct;
            }
        }
    }
}
