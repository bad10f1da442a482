namespace AsmLsp.Core.Recovery.Audit;

/// <summary>Proves that a row is a header or footer: the same row is at the edge of another page, with a number that counts the pages or with no code in it.</summary>
internal sealed class PageEdges
{
    // Rows from the first or the last of a page that can be its header or footer.
    private const int Deep = 3;

    private readonly Dictionary<string, List<AuditRow>> byText = new(StringComparer.Ordinal);
    private readonly HashSet<AuditRow> edges = [];

    // More than this part of the type's size is no step from row to row.
    private const double Room = 1.6;

    // Where the rows of the program begin and end on each page.
    private readonly List<double> tops = [];
    private readonly List<double> bottoms = [];

    public PageEdges(IReadOnlyList<AuditRow> rows)
    {
        for (int i = 0; i < rows.Count; )
        {
            int start = i;
            while (i < rows.Count && rows[i].Printed.Page == rows[start].Printed.Page)
                i++;
            List<double> own =
            [
                .. rows.Skip(start)
                    .Take(i - start)
                    .Where(static r => r.Lines.Count > 0)
                    .Select(static r => r.Printed.Y),
            ];
            if (own.Count > 0)
            {
                tops.Add(own.Min());
                bottoms.Add(own.Max());
            }

            for (int k = start; k < i; k++)
            {
                if (k >= start + Deep && k < i - Deep)
                    continue;
                edges.Add(rows[k]);
                string key = Mask(rows[k].Plain);
                if (!byText.TryGetValue(key, out List<AuditRow>? alike))
                    byText.Add(key, alike = []);
                alike.Add(rows[k]);
            }
        }
    }

    /// <summary>Whether a row is proved to be a header or footer.</summary>
    public bool IsProved(AuditRow row)
    {
        if (!edges.Contains(row))
            return false;
        foreach (AuditRow other in byText[Mask(row.Plain)])
        {
            if (other.Printed.Page == row.Printed.Page || other.Lines.Count > 0)
                continue;
            if (CountsPages(row.Plain, other.Plain, other.Printed.Page - row.Printed.Page))
                return true;
        }

        return false;
    }

    /// <summary>Whether a row is clear of all rows of the program on every page, and several pages show where those begin or end.</summary>
    public bool IsInMargin(AuditRow row)
    {
        if (row.Printed.IsOcr || tops.Count == 0)
            return false;
        double room = Room * row.Printed.FontSize,
            highest = tops.Min(),
            lowest = bottoms.Max();
        return (highest - row.Printed.Y > room && tops.Count(t => t < highest + room) > 1)
            || (row.Printed.Y - lowest > room && bottoms.Count(b => b > lowest - room) > 1);
    }

    /// <summary>Whether the very same text is at the edge of another page.</summary>
    public bool IsRepeated(AuditRow row) =>
        edges.Contains(row)
        && byText[Mask(row.Plain)]
            .Exists(o =>
                o.Printed.Page != row.Printed.Page
                && o.Lines.Count == 0
                && o.Plain.AsSpan().Trim().SequenceEqual(row.Plain.AsSpan().Trim())
            );

    // Digits and room count for nothing.
    private static string Mask(string text) => string.Concat(text.Where(static c => !char.IsDigit(c) && c != ' '));

    // Whether a number of the two texts differs as the pages do.
    private static bool CountsPages(string a, string b, int pages)
    {
        List<int> first = Numbers(a),
            second = Numbers(b);
        if (first.Count != second.Count)
            return false;
        bool counts = false;
        for (int i = 0; i < first.Count; i++)
        {
            if (second[i] - first[i] == pages)
                counts = true;
            else if (second[i] != first[i])
                return false;
        }

        return counts;
    }

    private static List<int> Numbers(string text)
    {
        var numbers = new List<int>();
        for (int i = 0; i < text.Length; i++)
        {
            if (!char.IsAsciiDigit(text[i]))
                continue;
            int value = 0;
            for (; i < text.Length && char.IsAsciiDigit(text[i]); i++)
                value = value > 100_000 ? value : value * 10 + text[i] - '0';
            numbers.Add(value);
        }

        return numbers;
    }
}
