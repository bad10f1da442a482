namespace AsmLsp.Pdf;

/// <summary>Letters that share a base line, from left to right.</summary>
internal sealed class PdfRow
{
    public List<PdfLetter> Letters { get; } = [];

    /// <summary>The base line of most of it, in points from the top of the page.</summary>
    public double Y { get; private set; }

    /// <summary>The largest letter of it, in points.</summary>
    public double Size { get; private set; }

    /// <summary>Where its first visible letter begins.</summary>
    public double X { get; private set; } = double.MaxValue;

    /// <summary>Where its last visible letter ends.</summary>
    public double End { get; private set; } = double.MinValue;

    /// <summary>How many of its letters are no blanks.</summary>
    public int Visible { get; private set; }

    /// <summary>Puts letters into rows, from top to bottom; rows without a visible letter are left out.</summary>
    public static List<PdfRow> Of(IEnumerable<PdfLetter> letters, CancellationToken cancellation)
    {
        var sorted = new List<PdfLetter>(letters);
        cancellation.ThrowIfCancellationRequested();
        // The order is whole: equal letters at one place would make it depend on the sorting otherwise.
        sorted.Sort(static (a, b) => a.Y != b.Y ? a.Y.CompareTo(b.Y) : a.X != b.X ? a.X.CompareTo(b.X) : string.CompareOrdinal(a.Value, b.Value));
        var rows = new List<PdfRow>();
        PdfRow? row = null;
        foreach (PdfLetter letter in sorted)
        {
            // Raised and lowered characters are smaller than their row and stand near its base line.
            double reach = row is null ? 0 : letter.Size < 0.8 * row.Size || row.Size < 0.8 * letter.Size ? 0.42 * Math.Max(letter.Size, row.Size) : 0.3 * Math.Min(letter.Size, row.Size);
            if (row is null || letter.Y - row.Y > reach)
            {
                row = new PdfRow { Y = letter.Y, Size = letter.Size };
                rows.Add(row);
            }
            else if (letter.Size > 1.25 * row.Size && !letter.IsBlank)
            {
                row.Y = letter.Y;
                row.Size = letter.Size;
            }

            row.Add(letter);
        }

        rows.RemoveAll(static r => r.Visible == 0);
        foreach (PdfRow each in rows) each.Letters.Sort(static (a, b) => a.X != b.X ? a.X.CompareTo(b.X) : string.CompareOrdinal(a.Value, b.Value));
        return rows;
    }

    private void Add(in PdfLetter letter)
    {
        Letters.Add(letter);
        if (letter.IsBlank) return;
        Visible++;
        X = Math.Min(X, letter.X);
        End = Math.Max(End, letter.End);
    }
}
