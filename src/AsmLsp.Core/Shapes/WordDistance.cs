namespace AsmLsp.Core.Shapes;

/// <summary>How far two words are from each other.</summary>
public static class WordDistance
{
    /// <summary>How many characters have to be changed, put in or taken out (V. Levenshtein's distance); case does not count.</summary>
    public static int Of(string a, string b)
    {
        Span<int> row = stackalloc int[b.Length + 1];
        for (int j = 0; j <= b.Length; j++)
            row[j] = j;
        for (int i = 1; i <= a.Length; i++)
        {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int cost = char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 1]) ? 0 : 1;
                int best = Math.Min(diagonal + cost, 1 + Math.Min(row[j], row[j - 1]));
                (diagonal, row[j]) = (row[j], best);
            }
        }

        return row[b.Length];
    }
}
