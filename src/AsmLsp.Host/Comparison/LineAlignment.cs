using DiffPlex;
using DiffPlex.Chunkers;
using DiffPlex.Model;

namespace AsmLsp.Host.Comparison;

/// <summary>Puts the lines of two texts beside each other, though lines are missing or put in on either side.</summary>
internal static class LineAlignment
{
    // What two lines must have in common to be readings of one line, 0 to 1.
    private const double LeastAlike = 0.45;

    // A larger stretch without a common line is paired from its top: weighing all pairs would take too long.
    private const int LargestStretch = 90_000;

    /// <summary>Pairs of lines by their numbers from 0, in order; -1 where a side has none. No line may hold a line end.</summary>
    public static List<(int First, int Second)> Of(IReadOnlyList<string> first, IReadOnlyList<string> second)
    {
        var pairs = new List<(int, int)>();
        int i = 0,
            j = 0;
        // A lone empty text has one line for the differ: no lines at all are dealt with here.
        if (first.Count > 0 && second.Count > 0)
        {
            DiffResult differences = Differ.Instance.CreateDiffs(
                string.Join('\n', first),
                string.Join('\n', second),
                false,
                false,
                LineChunker.Instance
            );
            foreach (DiffBlock block in differences.DiffBlocks)
            {
                while (i < block.DeleteStartA)
                    pairs.Add((i++, j++));
                Stretch(pairs, first, second, i, block.DeleteCountA, j, block.InsertCountB);
                i += block.DeleteCountA;
                j += block.InsertCountB;
            }

            while (i < first.Count && j < second.Count)
                pairs.Add((i++, j++));
        }

        while (i < first.Count)
            pairs.Add((i++, -1));
        while (j < second.Count)
            pairs.Add((-1, j++));
        return pairs;
    }

    // The pairing of a stretch of lines that all differ, by which the most of their characters agree.
    private static void Stretch(
        List<(int, int)> pairs,
        IReadOnlyList<string> first,
        IReadOnlyList<string> second,
        int a,
        int countA,
        int b,
        int countB
    )
    {
        int i = 0,
            j = 0;
        if (countA > 0 && countB > 0 && (long)countA * countB <= LargestStretch)
        {
            var gain = new double[countA, countB];
            var best = new double[countA + 1, countB + 1];
            for (int x = countA - 1; x >= 0; x--)
            {
                for (int y = countB - 1; y >= 0; y--)
                {
                    gain[x, y] = Likeness(first[a + x], second[b + y]) - LeastAlike;
                    best[x, y] = Math.Max(gain[x, y] + best[x + 1, y + 1], Math.Max(best[x + 1, y], best[x, y + 1]));
                }
            }

            while (i < countA && j < countB)
            {
                if (gain[i, j] > 0 && gain[i, j] + best[i + 1, j + 1] >= best[i, j] - 1e-9)
                    pairs.Add((a + i++, b + j++));
                else if (best[i + 1, j] >= best[i, j + 1])
                    pairs.Add((a + i++, -1));
                else
                    pairs.Add((-1, b + j++));
            }
        }
        else
        {
            while (i < countA && j < countB)
                pairs.Add((a + i++, b + j++));
        }

        while (i < countA)
            pairs.Add((a + i++, -1));
        while (j < countB)
            pairs.Add((-1, b + j++));
    }

    /// <summary>How much two lines have in common, 0 to 1: the share of characters in the longest row that both have in the same order.</summary>
    internal static double Likeness(string first, string second)
    {
        if (first.Length == 0 || second.Length == 0)
            return first.Length == second.Length ? 1 : 0;
        int[] above = new int[second.Length + 1],
            row = new int[second.Length + 1];
        foreach (char c in first)
        {
            for (int j = 0; j < second.Length; j++)
                row[j + 1] = c == second[j] ? above[j] + 1 : Math.Max(above[j + 1], row[j]);
            (above, row) = (row, above);
        }

        return 2.0 * above[second.Length] / (first.Length + second.Length);
    }
}
