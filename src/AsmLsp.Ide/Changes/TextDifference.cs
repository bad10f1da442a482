using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Changes;

/// <summary>What has to be edited to make one text of another.</summary>
public static class TextDifference
{
    /// <summary>The edits that make one text of another, line by line, as small as they can simply be.</summary>
    public static List<TextEdit> Between(SourceText before, SourceText after)
    {
        var edits = new List<TextEdit>();
        var from = new Lines(before);
        var to = new Lines(after);
        Compare(from, 0, from.Count, to, 0, to.Count, edits);
        return edits;
    }

    private static void Compare(
        Lines from,
        int first,
        int end,
        Lines to,
        int newFirst,
        int newEnd,
        List<TextEdit> edits
    )
    {
        while (first < end && newFirst < newEnd && from[first] == to[newFirst])
        {
            (first, newFirst) = (first + 1, newFirst + 1);
        }

        while (first < end && newFirst < newEnd && from[end - 1] == to[newEnd - 1])
        {
            (end, newEnd) = (end - 1, newEnd - 1);
        }

        if (first == end && newFirst == newEnd)
        {
            return;
        }

        if (end - first == newEnd - newFirst)
        {
            for (int i = 0; i < end - first; i++)
            {
                if (from[first + i] != to[newFirst + i])
                {
                    edits.Add(Narrow(from.Start(first + i), from[first + i], to[newFirst + i]));
                }
            }

            return;
        }

        // Lines that occur once on each side cannot be mistaken: the pieces between them are compared on their own.
        List<(int Old, int New)> anchors =
            first == end || newFirst == newEnd ? [] : Anchors(from, first, end, to, newFirst, newEnd);
        if (anchors.Count == 0)
        {
            edits.Add(Narrow(from.Start(first), from.Join(first, end), to.Join(newFirst, newEnd)));
            return;
        }

        foreach ((int old, int now) in anchors)
        {
            Compare(from, first, old, to, newFirst, now, edits);
            (first, newFirst) = (old, now);
        }

        Compare(from, first, end, to, newFirst, newEnd, edits);
    }

    private static List<(int Old, int New)> Anchors(Lines from, int first, int end, Lines to, int newFirst, int newEnd)
    {
        Dictionary<string, int> once = Once(from, first, end),
            newOnce = Once(to, newFirst, newEnd);
        var anchors = new List<(int Old, int New)>();
        for (int i = first; i < end; i++)
        {
            // In order on both sides: one that would cross an earlier one is passed over.
            if (
                once.GetValueOrDefault(from[i], -1) == i
                && newOnce.TryGetValue(from[i], out int now)
                && now >= 0
                && (anchors.Count == 0 || now > anchors[^1].New)
            )
            {
                anchors.Add((i, now));
            }
        }

        return anchors;
    }

    private static Dictionary<string, int> Once(Lines lines, int first, int end)
    {
        var found = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = first; i < end; i++)
        {
            if (!found.TryAdd(lines[i], i))
            {
                found[lines[i]] = -1;
            }
        }

        return found;
    }

    private static TextEdit Narrow(int start, string before, string after)
    {
        int head = 0,
            tail = 0,
            least = Math.Min(before.Length, after.Length);
        while (head < least && before[head] == after[head])
        {
            head++;
        }

        while (tail < least - head && before[^(tail + 1)] == after[^(tail + 1)])
        {
            tail++;
        }

        // Never between the halves of a pair, be it CR LF or a surrogate pair.
        if (head > 0 && (before[head - 1] == '\r' || char.IsHighSurrogate(before[head - 1])))
        {
            head--;
        }

        if (tail > 0 && (before[^tail] == '\n' || char.IsLowSurrogate(before[^tail])))
        {
            tail--;
        }

        return new TextEdit(
            TextSpan.FromBounds(start + head, start + before.Length - tail),
            after[head..(after.Length - tail)]
        );
    }

    private sealed class Lines
    {
        private readonly List<string> lines = [];
        private readonly List<int> starts = [];

        public Lines(SourceText text)
        {
            int at = 0;
            foreach (TextLine line in text.Lines)
            {
                lines.Add(line.Text + line.Ending);
                starts.Add(at);
                at += line.FullLength;
            }

            starts.Add(at);
        }

        public int Count => lines.Count;

        public string this[int line] => lines[line];

        public int Start(int line) => starts[line];

        public string Join(int first, int end) => string.Concat(lines.GetRange(first, end - first));
    }
}
