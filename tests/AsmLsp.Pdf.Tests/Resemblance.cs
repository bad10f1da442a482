namespace AsmLsp.Pdf.Tests;

/// <summary>Compares lines whose characters may have been misread.</summary>
internal static class Resemblance
{
    /// <summary>A text with one character for those that scans take for each other; blanks left out.</summary>
    public static string ShapesOf(string text) =>
        string.Concat(
            text.ToLowerInvariant()
                .Where(static c => !char.IsWhiteSpace(c))
                .Select(static c =>
                    c switch
                    {
                        'l' or 'i' or '|' => '1',
                        'o' => '0',
                        'e' => 'c',
                        _ => c,
                    }
                )
        );

    /// <summary>The length of the longest row of characters that both have in order.</summary>
    public static int Common(string a, string b)
    {
        int[] row = new int[b.Length + 1];
        foreach (char c in a)
        {
            int diagonal = 0;
            for (int j = 1; j <= b.Length; j++)
                (diagonal, row[j]) = (row[j], c == b[j - 1] ? diagonal + 1 : Math.Max(row[j], row[j - 1]));
        }

        return row[b.Length];
    }
}
