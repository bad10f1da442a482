using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Line numbers on every fifth or tenth line only: numbers that rise by the same step, with no more rows between two of them than the step says,
/// in columns that are blank in all other rows.
/// </summary>
internal static class SparseNumbers
{
    private const int LeastNumbers = 4;

    // So few are enough where nothing else is in their columns.
    private const int LeastInColumn = 3;

    // Rows of wrapped lines that may be between two numbers beside those that are counted.
    private const int MostMore = 3;

    /// <summary>The readings, and the step; null where there are no such numbers.</summary>
    public static (GutterMatch[] Readings, int Step)? Find(GutterRow[] rows, Look[] looks)
    {
        var numbered = new List<(int Row, int Value)>();
        for (int i = 0; i < rows.Length; i++)
            if (rows[i].Cells is [{ IsDecimal: true, Value: > 0 } cell, ..] && cell.Digits <= 5)
                numbered.Add((i, cell.Value));
        if (numbered.Count < LeastInColumn || StepOf(numbered) is not { } step)
            return null;
        // What does not count on is text: '16 keys', the rest of a comment.
        var counting = new List<(int Row, int Value)>();
        for (int i = 0; i < numbered.Count; i++)
            if (numbered[i].Value % step == 0 && (GoesOn(i - 1, i) || GoesOn(i, i + 1)))
                counting.Add(numbered[i]);
        int steps = 0,
            columns = 0,
            code = 0;
        for (int i = 0; i < counting.Count; i++)
        {
            if (i > 0 && counting[i].Value - counting[i - 1].Value == step)
                steps++;
            if (looks[counting[i].Row] is not Look.Other || rows[counting[i].Row].TextStart < 0)
                code++;
        }

        if (counting.Count < LeastInColumn || steps * 10 < (counting.Count - 1) * 8 || code * 2 < counting.Count)
            return null;
        int end = counting.Max(c => rows[c.Row].EndOf(1));
        foreach (GutterRow row in rows)
            if (row.Cells.Count == 0 && row.TextStart >= 0 && row.TextStart < end)
                columns++;
        // Where blanks in front are lost, the count alone has to say, and all of it.
        if (columns * 10 > rows.Length && steps != counting.Count - 1)
            return null;
        if (counting.Count < LeastNumbers && columns * 20 > rows.Length)
            return null;
        var readings = new GutterMatch[rows.Length];
        for (int i = 0; i < rows.Length; i++)
            readings[i] = new GutterMatch();
        foreach ((int row, int value) in counting)
            (readings[row].Number, readings[row].NumberCell, readings[row].Taken) = (value, 0, 1);
        return (readings, step);

        bool GoesOn(int above, int below) =>
            above >= 0
            && below < numbered.Count
            && numbered[below].Value - numbered[above].Value == step
            && numbered[below].Row - numbered[above].Row <= step + MostMore;
    }

    // The step that most numbers rise by; on every line is no such step.
    private static int? StepOf(List<(int Row, int Value)> numbered)
    {
        var counts = new Dictionary<int, int>();
        for (int i = 1; i < numbered.Count; i++)
        {
            int step = numbered[i].Value - numbered[i - 1].Value;
            if (
                step is > 1 and <= 100
                && numbered[i].Row - numbered[i - 1].Row is > 1 and var rows
                && rows <= step + MostMore
            )
                counts[step] = counts.GetValueOrDefault(step) + 1;
        }

        if (counts.Count == 0)
            return null;
        (int best, int count) = counts.MaxBy(static c => (c.Value, -c.Key));
        return count >= LeastInColumn - 1 ? best : null;
    }
}
