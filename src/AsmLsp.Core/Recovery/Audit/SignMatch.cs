namespace AsmLsp.Core.Recovery.Audit;

/// <summary>A visible character of a printed row or of a line of the source.</summary>
/// <param name="Value">The character in lower case.</param>
/// <param name="Owner">The row or line that it belongs to.</param>
/// <param name="Column">Its column there.</param>
/// <param name="InComment">Whether it comes after a <c>;</c> there.</param>
internal readonly record struct Sign(char Value, int Owner, int Column, bool InComment)
{
    /// <summary>The visible characters of a text.</summary>
    public static void Add(List<Sign> signs, string text, int owner, int commentAt)
    {
        for (int i = 0; i < text.Length; i++)
            if (text[i] != ' ')
                signs.Add(new Sign(char.ToLowerInvariant(text[i]), owner, i, i >= commentAt));
    }
}

/// <summary>Finds which printed character became which of the source: the longest common sequence of both.</summary>
internal static class SignMatch
{
    // Most cells of the table; a group of lines that needs more is compared by its ends alone.
    private const int MostCells = 1_000_000;

    /// <summary>For each printed character the place of its partner, or -1.</summary>
    public static int[] Of(List<Sign> printed, List<Sign> made)
    {
        var partner = new int[printed.Count];
        Array.Fill(partner, -1);
        int first = 0,
            last = 0;
        // The gutter is in front, so the ends come first.
        while (last < Math.Min(printed.Count, made.Count) && printed[^(last + 1)].Value == made[^(last + 1)].Value)
        {
            last++;
            partner[^last] = made.Count - last;
        }

        int most = Math.Min(printed.Count, made.Count) - last;
        while (first < most && printed[first].Value == made[first].Value)
            partner[first] = first++;
        int n = printed.Count - first - last,
            m = made.Count - first - last;
        if (n == 0 || m == 0 || (long)n * m > MostCells)
            return partner;
        var length = new ushort[(n + 1) * (m + 1)];
        for (int i = n - 1; i >= 0; i--)
        {
            for (int j = m - 1; j >= 0; j--)
                length[i * (m + 1) + j] =
                    printed[first + i].Value == made[first + j].Value
                        ? (ushort)(length[(i + 1) * (m + 1) + j + 1] + 1)
                        : Math.Max(length[(i + 1) * (m + 1) + j], length[i * (m + 1) + j + 1]);
        }

        for (int i = 0, j = 0; i < n && j < m; )
        {
            // Gutter characters that are in the source by chance come first: they give way where that costs nothing.
            if (length[(i + 1) * (m + 1) + j] == length[i * (m + 1) + j])
                i++;
            else if (printed[first + i].Value == made[first + j].Value)
                partner[first + i++] = first + j++;
            else
                j++;
        }

        return partner;
    }
}
