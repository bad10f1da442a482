using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Code that is alone in the prose is an example, or a word of it: no program begins or ends with it.</summary>
internal sealed class IsolatedCode(DocumentRows rows)
{
    /// <summary>In a listing that is explained line by line, so many rows of text are between two rows of code, and there are so many of these.</summary>
    private const int MostExplained = 4;
    private const int LeastInterleaved = 6;

    /// <summary>Takes such rows out of the selection.</summary>
    public void Drop(bool[] taken)
    {
        int start = -1;
        for (int i = 0; i <= rows.Count; i++)
        {
            bool on = i < rows.Count && (taken[i] || rows.IsHeaderOrFooter(i));
            if (on && start < 0)
                start = i;
            if (on || start < 0)
                continue;
            int code = 0,
                other = 0;
            for (int j = start; j < i; j++)
            {
                if (!taken[j])
                    continue;
                if (rows.Looks[j] is Look.Code or Look.Comment)
                    code++;
                else
                    other++;
            }

            if (code == 0 || (code < 3 && !IsListingStyle(start, i) && !IsInterleaved(start, i)))
                for (int j = start; j < i; j++)
                    taken[j] = false;
            start = -1;
        }
    }

    // A listing that is explained line by line: code a few rows above and below, at the same place of the page, again and again.
    private bool IsInterleaved(int from, int to)
    {
        int all = 0;
        foreach (int step in (ReadOnlySpan<int>)[-1, 1])
        {
            double at = rows.OperationX(step < 0 ? from : to - 1);
            for (
                int i = step < 0 ? from - 1 : to, since = 0;
                i >= 0 && i < rows.Count && since <= MostExplained;
                i += step
            )
            {
                if (rows.IsHeaderOrFooter(i))
                    continue;
                since++;
                if (rows.Looks[i] != Look.Code || Math.Abs(rows.OperationX(i) - at) > RowLooks.SameColumn)
                    continue;
                all++;
                since = 0;
                if (all >= LeastInterleaved)
                    return true;
            }
        }

        return false;
    }

    private bool IsListingStyle(int from, int to)
    {
        for (int i = from; i < to; i++)
            if (rows.Lines[i].IsMonospaced)
                return true;
        return false;
    }
}
