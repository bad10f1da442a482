using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>
/// Finds text columns that stand side by side, and gives the reading order: the left one whole before the right one.
/// A table and a listing also have empty strips inside; they are told from columns by what stands beside the strip.
/// </summary>
internal static class PdfColumns
{
    /// <summary>Fewer rows side by side than this are no columns.</summary>
    private const int LeastRows = 6;

    /// <summary>Columns of running text hold at least this many characters a line, the half of them.</summary>
    private const int LeastCharacters = 18;

    /// <summary>Columns inside columns end here.</summary>
    private const int Deepest = 4;

    /// <summary>Splits a page into blocks of rows in reading order; each block is one stretch of one text column.</summary>
    public static List<List<PdfRow>> Split(List<PdfLetter> letters, CancellationToken cancellation)
    {
        var blocks = new List<List<PdfRow>>();
        Split(PdfRow.Of(letters, cancellation), blocks, 0, cancellation);
        return blocks;
    }

    private static void Split(List<PdfRow> rows, List<List<PdfRow>> blocks, int depth, CancellationToken cancellation)
    {
        if (rows.Count == 0) return;
        if (depth >= Deepest || FindStrip(rows, cancellation) is not { } strip)
        {
            blocks.Add(rows);
            return;
        }

        // What stands over the columns belongs to the block above them, and is read first.
        Split(rows[..strip.First], blocks, depth + 1, cancellation);
        var side = rows[strip.First..(strip.Last + 1)].SelectMany(static r => r.Letters).ToList();
        Split(PdfRow.Of(side.Where(l => l.X < strip.X), cancellation), blocks, depth + 1, cancellation);
        Split(PdfRow.Of(side.Where(l => l.X >= strip.X), cancellation), blocks, depth + 1, cancellation);
        Split(rows[(strip.Last + 1)..], blocks, depth + 1, cancellation);
    }

    private readonly record struct Strip(double X, int First, int Last);

    private static Strip? FindStrip(List<PdfRow> rows, CancellationToken cancellation)
    {
        if (rows.Count < LeastRows) return null;
        double left = rows.Min(static r => r.X), right = rows.Max(static r => r.End);
        var candidates = new SortedDictionary<int, int>();
        double margin = 0.12 * (right - left);
        foreach (PdfRow row in rows)
        {
            // Right-hand columns begin on one line, left-hand ones end anywhere: the strip lies right before text.
            // Columns whose base lines differ have rows of their own, which begin there.
            if (row.X > left + margin && row.X < right - margin) Count(candidates, (int)Math.Floor(row.X - 0.5));
            foreach ((double from, double to) in Gaps(row))
                if (from > left + margin && to < right - margin) Count(candidates, (int)Math.Floor(to - 0.5));
        }

        Strip? best = null;
        int most = 0;
        foreach (int x in candidates.OrderByDescending(static c => c.Value).Take(24).Select(static c => c.Key))
        {
            cancellation.ThrowIfCancellationRequested();
            int first = 0;
            for (int i = 0; i <= rows.Count; i++)
            {
                if (i < rows.Count && !Crosses(rows[i], x)) continue;
                if (i - first >= LeastRows && Trim(rows, first, i - 1, x) is var (from, to) && to - from + 1 >= LeastRows)
                {
                    int weight = rows.GetRange(from, to - from + 1).Sum(static r => r.Visible);
                    if (weight > most && AreColumns(rows, from, to, x)) (best, most) = (new Strip(x, from, to), weight);
                }

                first = i + 1;
            }
        }

        return best;
    }

    private static void Count(SortedDictionary<int, int> counts, int x)
    {
        counts.TryGetValue(x, out int n);
        counts[x] = n + 1;
    }

    private static IEnumerable<(double From, double To)> Gaps(PdfRow row)
    {
        double end = double.NaN;
        foreach (PdfLetter letter in row.Letters)
        {
            if (letter.IsBlank) continue;
            if (letter.X - end > 0.9 * row.Size) yield return (end, letter.X);
            end = double.IsNaN(end) ? letter.End : Math.Max(end, letter.End);
        }
    }

    // Whether text stands on the strip: over it, or so close on both sides that it reads on.
    private static bool Crosses(PdfRow row, double x)
    {
        double before = double.MinValue, behind = double.MaxValue;
        foreach (PdfLetter letter in row.Letters)
        {
            if (letter.IsBlank) continue;
            if (letter.X < x && letter.End > x + 0.5) return true;
            if (letter.X < x) before = Math.Max(before, letter.End);
            else behind = Math.Min(behind, letter.X);
        }

        return before != double.MinValue && behind != double.MaxValue && behind - before < 0.7 * row.Size;
    }

    // A header or footer that stands apart is no part of the columns below or above it.
    private static (int First, int Last) Trim(List<PdfRow> rows, int first, int last, double x)
    {
        double pitch = Pitch(rows, first, last);
        for (int i = 0; i < 3 && first < last && rows[first + 1].Y - rows[first].Y > 1.9 * pitch; i++) first++;
        for (int i = 0; i < 3 && first < last && rows[last].Y - rows[last - 1].Y > 1.9 * pitch; i++) last--;
        while (first < last && rows[first].X >= x) first++;
        return (first, last);
    }

    private static double Pitch(List<PdfRow> rows, int first, int last)
    {
        var steps = new List<double>();
        for (int i = first; i < last; i++) steps.Add(rows[i + 1].Y - rows[i].Y);
        steps.Sort();
        return steps.Count == 0 ? 0 : steps[steps.Count / 2];
    }

    private static bool AreColumns(List<PdfRow> rows, int first, int last, double x)
    {
        var lefts = new List<int>();
        var rights = new List<int>();
        int both = 0, instructionsTwice = 0, mono = 0, letters = 0;
        for (int i = first; i <= last; i++)
        {
            PdfRow row = rows[i];
            int l = 0, r = 0;
            foreach (PdfLetter letter in row.Letters)
            {
                if (letter.IsBlank) continue;
                if (letter.X < x) l++;
                else r++;
                letters++;
                if (letter.Font.IsMonospaced) mono++;
            }

            if (l > 0) lefts.Add(l);
            if (r > 0) rights.Add(r);
            if (l == 0 || r == 0) continue;
            both++;
            if (HasOperation(row, double.MinValue, x) && HasOperation(row, x, double.MaxValue)) instructionsTwice++;
        }

        if (lefts.Count < LeastRows || rights.Count < LeastRows) return false;
        // One listing has one operation a line, and its comments behind it; two listings side by side have two.
        if (mono * 2 > letters) return instructionsTwice * 3 >= both && instructionsTwice >= 4;
        lefts.Sort();
        rights.Sort();
        return lefts[lefts.Count / 2] >= LeastCharacters && rights[rights.Count / 2] >= LeastCharacters;
    }

    // Whether one of the first words between two places, before any comment, is an instruction.
    private static bool HasOperation(PdfRow row, double from, double to)
    {
        Span<char> word = stackalloc char[16];
        int length = 0, words = 0;
        double end = double.NaN;
        foreach (PdfLetter letter in row.Letters)
        {
            if (letter.X < from || letter.X >= to) continue;
            bool apart = letter.IsBlank || letter.X - end > 0.3 * Math.Max(1, letter.End - letter.X);
            if (apart && length > 0)
            {
                if (IsOperation(word[..length])) return true;
                length = 0;
                if (++words == 2) return false;
            }

            if (letter.IsBlank) continue;
            end = letter.End;
            char c = letter.Value[0];
            if (c == ';') break;
            if (length < word.Length) word[length++] = c;
        }

        return length > 0 && IsOperation(word[..length]);
    }

    private static bool IsOperation(ReadOnlySpan<char> word) =>
        InstructionSet.Find(word) is not null || Shorthand.Find(word) is not null;
}
