using System.Collections.Immutable;

namespace AsmLsp.Core.Printed;

/// <summary>A line of a picture, put straight: characters from left to right on one base line.</summary>
internal sealed class StraightRow(List<OcrCharacter> characters, double baseLine)
{
    public List<OcrCharacter> Characters { get; } = characters;

    /// <summary>The height of the base line on the page.</summary>
    public double BaseLine { get; } = baseLine;

    public double Left => Characters[0].Left;

    public double Right => Characters[^1].Right;

    /// <summary>Whether the characters are on a grid.</summary>
    public bool IsMonospaced { get; set; }
}

/// <summary>
/// The grid on which a typewriter, a line printer or a monospaced font puts its characters: in a picture only their ink is
/// seen, so the grid is found from the distances of their middles.
/// </summary>
/// <param name="Pitch">The width of a cell, in points; 0 where there is no grid.</param>
/// <param name="Phase">The middle of a cell.</param>
internal readonly record struct OcrGrid(double Pitch, double Phase)
{
    // The steps in which the pitch is searched, as parts of it: first roughly,
    private const double RoughStep = 0.02;

    // then finely, so that a row of eighty characters is off by a third of one at most.
    private const double FineStep = 0.0005;

    // The middle of the ink of 'f', 'l' or ',' lies a little beside the middle of its cell. So many of the steps from character to character are
    // as wide as a cell: of 54 pages in a typewriter's font at 150 to 300 dots per inch 0.91 at least, of 36 in a font of wide and narrow letters 0.57 at most.
    private const double Jitter = 0.16,
        OnPage = 0.75,
        OnSide = 0.9;

    // A row of more steps shows by itself that it is set otherwise than those around it.
    private const int LeastRow = 8;
    private const double OffRow = 0.6;

    // So many rows above and below say how a row is set: a short one is on a grid by chance.
    private const int Around = 2;

    /// <summary>The cell of a character, counted from an arbitrary one.</summary>
    public int CellOf(double center) => (int)Math.Round((center - Phase) / Pitch);

    /// <summary>The middle of a cell.</summary>
    public double MiddleOf(int cell) => Phase + cell * Pitch;

    /// <summary>Finds the grid of the rows of a page, and says of each row whether it is on one.</summary>
    public static OcrGrid Of(List<StraightRow> rows)
    {
        List<double>[] steps = [.. rows.Select(static r => StepsOf(r.Characters))];
        double rough = Commonest(steps);
        if (rough <= 0)
            return default;
        (int On, int All)[] counts = [.. steps.Select(s => (s.Count(step => IsOn(step, rough)), s.Count))];
        var centers = new List<double>();
        for (int i = 0; i < rows.Count; i++)
        {
            rows[i].IsMonospaced = IsMonospaced(counts, i);
            if (rows[i].IsMonospaced)
                centers.AddRange(rows[i].Characters.Select(static c => c.Center));
        }

        return centers.Count == 0 ? default : Fit(centers, rough);
    }

    private static bool IsMonospaced((int On, int All)[] counts, int row)
    {
        if (counts[row].All >= LeastRow && counts[row].On < OffRow * counts[row].All)
            return false;
        // The last row of a listing has prose below it, the first one above it.
        return IsOn(counts, row - Around, row + Around, OnPage)
            || IsOn(counts, row - Around, row, OnSide)
            || IsOn(counts, row, row + Around, OnSide);
    }

    private static bool IsOn((int On, int All)[] counts, int from, int to, double least)
    {
        (int on, int all) = (0, 0);
        for (int i = Math.Max(0, from); i <= Math.Min(counts.Length - 1, to); i++)
            (on, all) = (on + counts[i].On, all + counts[i].All);
        return all > 0 && on >= least * all;
    }

    private static bool IsOn(double step, double pitch) => Math.Abs(step - pitch) <= Jitter * pitch;

    // From the middle of a character to that of the next one, within words.
    private static List<double> StepsOf(List<OcrCharacter> characters)
    {
        var steps = new List<double>();
        for (int i = 1; i < characters.Count; i++)
            if (!characters[i].StartsWord)
                steps.Add(characters[i].Center - characters[i - 1].Center);
        return steps;
    }

    // The width that most steps have.
    private static double Commonest(List<double>[] steps)
    {
        double[] all = [.. steps.SelectMany(static s => s).Order()];
        if (all.Length == 0)
            return 0;
        (int most, double best) = (-1, 0);
        for (int i = -15; i <= 15; i++)
        {
            double pitch = all[all.Length / 2] * (1 + i * RoughStep);
            int on = all.Count(step => IsOn(step, pitch));
            if (on > most)
                (most, best) = (on, pitch);
        }

        // The middle of the steps that are so wide.
        double[] own = [.. all.Where(step => IsOn(step, best))];
        return own.Length == 0 ? 0 : own[own.Length / 2];
    }

    // The pitch for which the middles fall together best, by the length of the sum of their unit vectors.
    private static OcrGrid Fit(List<double> centers, double rough)
    {
        (double best, double pitch, double phase) = (-1, rough, 0);
        for (int step = -60; step <= 60; step++)
        {
            double candidate = rough * (1 + step * FineStep);
            double x = 0,
                y = 0;
            foreach (double center in centers)
            {
                (double sin, double cos) = Math.SinCos(2 * Math.PI * center / candidate);
                (x, y) = (x + cos, y + sin);
            }

            double length = x * x + y * y;
            if (length > best)
                (best, pitch, phase) = (length, candidate, Math.Atan2(y, x) / (2 * Math.PI) * candidate);
        }

        return new OcrGrid(pitch, phase);
    }
}
