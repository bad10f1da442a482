namespace AsmLsp.Core.Recovery.Listings;

/// <summary>A place at which two prints of a program differ.</summary>
/// <param name="Row">The row of the first print, from 0: the one that differs, or the one above lines that only the second has.</param>
/// <param name="Here">The code of the first print; empty where only the second has a line.</param>
/// <param name="There">The code of the second print; empty where only the first has a line.</param>
internal readonly record struct PrintDifference(int Row, string Here, string There);

/// <summary>Finds programs that a document prints a second time with a few other lines: two editions of one program, of which one may be a misprint.</summary>
internal static class NearCopies
{
    // With fewer lines of code two programs are alike by chance.
    private const int LeastLines = 8;

    // So many lines of a hundred are the same.
    private const int LeastSame = 80;

    // So far apart the lines that are the same again are looked for.
    private const int MostApart = 40;

    /// <summary>The earlier listing, by its index, that a listing is a near copy of; -1 where there is none.</summary>
    public static int FirstLike(IReadOnlyList<Listing> listings, int index)
    {
        for (int i = 0; i < index; i++)
            if (IsNear(listings[i], listings[index]))
                return i;
        return -1;
    }

    /// <summary>Whether two listings are prints of one program, with a few other lines.</summary>
    public static bool IsNear(Listing a, Listing b)
    {
        int least = Math.Min(a.Code.Count, b.Code.Count),
            most = Math.Max(a.Code.Count, b.Code.Count);
        if (a.FileName is not null || b.FileName is not null || least < LeastLines || least * 100 < most * LeastSame)
            return false;
        var lines = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (string line in a.Code)
            lines[line] = lines.GetValueOrDefault(line) + 1;
        int same = 0;
        foreach (string line in b.Code)
        {
            if (!lines.TryGetValue(line, out int count) || count == 0)
                continue;
            lines[line] = count - 1;
            same++;
        }

        return same * 100 >= most * LeastSame;
    }

    /// <summary>The places at which two prints differ, in their order.</summary>
    public static List<PrintDifference> Between(Listing first, Listing second)
    {
        var found = new List<PrintDifference>();
        (List<string> a, List<string> b) = (first.Code, second.Code);
        int i = 0,
            j = 0;
        while (i < a.Count || j < b.Count)
        {
            if (i < a.Count && j < b.Count && a[i] == b[j])
            {
                (i, j) = (i + 1, j + 1);
                continue;
            }

            (int skipped, int put) = Next(a, i, b, j);
            for (int k = 0; k < Math.Max(skipped, put); k++)
            {
                bool isHere = k < skipped;
                found.Add(
                    new PrintDifference(
                        first.CodeRows[Math.Clamp(isHere ? i + k : i + skipped - 1, 0, a.Count - 1)],
                        isHere ? a[i + k] : "",
                        k < put ? b[j + k] : ""
                    )
                );
            }

            (i, j) = (i + skipped, j + put);
        }

        return found;
    }

    // How many lines of both are to be left out until they are the same again; two equal lines prove it, or the end of both.
    private static (int Skipped, int Put) Next(List<string> a, int i, List<string> b, int j)
    {
        for (int sum = 1; sum <= 2 * MostApart; sum++)
        for (int skipped = Math.Max(0, sum - MostApart); skipped <= Math.Min(sum, MostApart); skipped++)
        {
            int x = i + skipped,
                y = j + sum - skipped;
            if (x > a.Count || y > b.Count)
                continue;
            bool isEnd = x == a.Count && y == b.Count;
            if (isEnd || (IsSame(x, y) && (IsSame(x + 1, y + 1) || (x + 1 == a.Count && y + 1 == b.Count))))
                return (skipped, sum - skipped);
        }

        return (a.Count - i, b.Count - j);

        bool IsSame(int x, int y) => x < a.Count && y < b.Count && a[x] == b[y];
    }
}
