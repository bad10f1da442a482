using System.Collections.Immutable;

namespace AsmLsp.Core.Recovery.Printed;

/// <summary>A line of a picture, put straight: characters from left to right on one base line.</summary>
internal sealed class StraightRow(List<RecognizedCharacter> characters, double baseLine)
{
    public List<RecognizedCharacter> Characters { get; } = characters;

    /// <summary>The height of the base line on the page.</summary>
    public double BaseLine { get; } = baseLine;

    public double Left => Characters[0].Left;

    public double Right => Characters[^1].Right;

    /// <summary>Whether the characters stand on a grid; null where there are too few to tell.</summary>
    public bool? IsMonospaced { get; set; }
}

/// <summary>
/// The grid on which a typewriter, a line printer or a monospaced font puts its characters: in a picture only their ink is
/// seen, so the grid is found from the distances of their middles.
/// </summary>
/// <param name="Pitch">The width of a cell, in points; 0 where there is no grid.</param>
/// <param name="Phase">The middle of a cell.</param>
internal readonly record struct RecognizedGrid(double Pitch, double Phase)
{
    // The middle of the ink of 'f', 'l' or ',' lies a little beside the middle of its cell (measured on four monospaced fonts).
    private const double Jitter = 0.2;

    // A shorter word tells too little.
    private const int LeastWord = 4;

    // So many steps from character to character tell of a row whether it is on the grid; a shorter one is taken as most rows are.
    private const int LeastRow = 8;

    /// <summary>The cell of a character, counted from an arbitrary one.</summary>
    public int CellOf(double center) => (int)Math.Round((center - Phase) / Pitch);

    /// <summary>Finds the grid of the rows of a page, and says of each row whether it is on one.</summary>
    public static RecognizedGrid Of(List<StraightRow> rows)
    {
        var pitches = new List<double>();
        int words = 0;
        foreach (StraightRow row in rows)
        {
            foreach ((int from, int to) in WordsOf(row.Characters))
            {
                if (to - from < LeastWord) continue;
                words++;
                if (Regular(row.Characters, from, to) is { } mean) pitches.Add(mean);
            }
        }

        if (pitches.Count * 3 < words || pitches.Count == 0) return default;
        pitches.Sort();
        double rough = pitches[pitches.Count / 2];
        foreach (StraightRow row in rows) row.IsMonospaced = IsOn(row.Characters, rough);
        var centers = new List<double>();
        foreach (StraightRow row in rows)
            if (row.IsMonospaced == true) centers.AddRange(row.Characters.Select(static c => c.Center));
        return centers.Count == 0 ? default : Fit(centers, rough);
    }

    /// <summary>The words of a row, as places from and to (not included) in its characters.</summary>
    public static IEnumerable<(int From, int To)> WordsOf(List<RecognizedCharacter> characters)
    {
        int start = 0;
        for (int i = 1; i <= characters.Count; i++)
        {
            if (i < characters.Count && !characters[i].StartsWord) continue;
            yield return (start, i);
            start = i;
        }
    }

    // The mean step of a word whose steps are all alike, or null.
    private static double? Regular(List<RecognizedCharacter> characters, int from, int to)
    {
        double mean = (characters[to - 1].Center - characters[from].Center) / (to - 1 - from);
        double sum = 0;
        for (int i = from + 1; i < to; i++)
        {
            double off = characters[i].Center - characters[i - 1].Center - mean;
            sum += off * off;
        }

        return mean > 0 && Math.Sqrt(sum / (to - 1 - from)) <= Jitter * mean ? mean : null;
    }

    private static bool? IsOn(List<RecognizedCharacter> characters, double pitch)
    {
        int on = 0, all = 0;
        for (int i = 1; i < characters.Count; i++)
        {
            if (characters[i].StartsWord) continue;
            all++;
            if (Math.Abs(characters[i].Center - characters[i - 1].Center - pitch) <= 1.3 * Jitter * pitch) on++;
        }

        return all < LeastRow ? null : on * 4 >= all * 3;
    }

    // The pitch for which the middles fall together best, by the length of the sum of their unit vectors.
    private static RecognizedGrid Fit(List<double> centers, double rough)
    {
        (double best, double pitch, double phase) = (-1, rough, 0);
        for (int step = -60; step <= 60; step++)
        {
            double candidate = rough * (1 + step * 0.0005);
            double x = 0, y = 0;
            foreach (double center in centers)
            {
                (double sin, double cos) = Math.SinCos(2 * Math.PI * center / candidate);
                (x, y) = (x + cos, y + sin);
            }

            double length = x * x + y * y;
            if (length > best) (best, pitch, phase) = (length, candidate, Math.Atan2(y, x) / (2 * Math.PI) * candidate);
        }

        return new RecognizedGrid(pitch, phase);
    }
}
