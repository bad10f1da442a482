namespace AsmLsp.Core.Recovery.Document;

/// <summary>One order in which listings print numbers in front of their lines.</summary>
/// <param name="NumberFirst">Whether line numbers stand first.</param>
/// <param name="NumberLast">Whether they stand last.</param>
/// <param name="HasAddress">Whether addresses are among them.</param>
/// <param name="HasWords">Whether words follow the addresses.</param>
internal sealed record GutterForm(bool NumberFirst, bool NumberLast, bool HasAddress, bool HasWords)
{
    private const int LeastLines = 4;

    // One row in so many may be none of the listing.
    private const int FewRows = 20;

    /// <summary>The forms, the fuller ones first.</summary>
    public static GutterForm[] All { get; } =
    [
        new(true, false, true, true),
        new(false, true, true, true),
        new(false, false, true, true),
        new(true, false, false, false),
        new(false, false, true, false),
    ];

    public bool HasNumber => NumberFirst || NumberLast;

    /// <summary>Reads the rows in this form; null where they are printed otherwise.</summary>
    public GutterReading[]? Read(GutterRow[] rows)
    {
        var readings = new GutterReading[rows.Length];
        int numbers = 0,
            rising = 0,
            withWord = 0,
            addresses = 0,
            steps = 0,
            stray = 0;
        int last = -1,
            next = -2;
        int source = SourceColumn(rows);
        for (int i = 0; i < rows.Length; i++)
        {
            GutterReading reading = readings[i] =
                (HasWords && next >= 0 ? Rest(rows[i], next, last) : null) ?? Read(rows[i], last, source);
            if (reading.Taken < rows[i].Cells.Count && rows[i].Cells[reading.Taken].Start < source)
                stray++;
            if (reading.Number >= 0)
            {
                numbers++;
                if (reading.Number > last)
                    rising++;
                else if (reading.Number == last && reading.Words.Count > 0)
                    rising++;
                last = reading.Number;
            }

            if (reading.Words.Count > 0)
                withWord++;
            if (reading.Address < 0 || (HasWords && reading.Words.Count == 0))
                continue;
            addresses++;
            if (reading.Address == next)
                steps++;
            next = reading.Address + Math.Max(1, reading.Words.Count);
        }

        if (stray * FewRows > rows.Length)
            return null;
        // Rows that go on with the words of the line above have no number of their own.
        int numbered =
            rows.Length
            - readings
                .Zip(rows)
                .Count(static r => r.First.Words.Count > 0 && r.First.Number < 0 && r.Second.TextStart < 0);
        if (HasNumber && (numbers < LeastLines || numbers * 10 < numbered * 7 || rising * 10 < numbers * 9))
            return null;
        if (HasAddress && (addresses < LeastLines || steps * 10 < (addresses - 1) * 5))
            return null;
        if (HasWords && withWord < LeastLines)
            return null;
        // Labels such as 'dec1:' read as addresses too; addresses by themselves stand in front of most lines of code.
        if (
            HasAddress
            && !HasWords
            && !HasNumber
            && addresses * 2 < rows.Count(static r => AssemblyLook.Of(r.Text) == Look.Code)
        )
            return null;
        return readings;
    }

    // A row of nothing but words that go on with those above, with their address or without.
    private static GutterReading? Rest(GutterRow row, int next, int last)
    {
        if (row.TextStart >= 0 || row.Cells.Count == 0)
            return null;
        int first = row.Cells[0].IsAddress && row.Cells[0].Hex == next && row.Cells.Count > 1 ? 1 : 0;
        // A line number alone is that of a blank line.
        if (
            first == 0
            && row.Cells.Count == 1
            && row.Cells[0].IsDecimal
            && row.Cells[0].Value > last
            && row.Cells[0].Value <= last + 2
        )
            return null;
        var reading = new GutterReading { Address = next, Taken = row.Cells.Count };
        for (int i = first; i < row.Cells.Count; i++)
        {
            if (!row.Cells[i].IsWord)
                return null;
            reading.Words.Add(row.Cells[i].Hex);
        }

        return reading;
    }

    // Behind the gutter: the leftmost text of the rows that have one. A few rests of comments ('9600 baud') may begin with a number too.
    private static int SourceColumn(GutterRow[] rows)
    {
        var columns = new List<int>();
        foreach (GutterRow row in rows)
            if (row.Cells.Count > 0 && row.TextStart > 0)
                columns.Add(row.TextStart);
        columns.Sort();
        return columns.Count == 0 ? int.MaxValue : columns[columns.Count / FewRows];
    }

    private GutterReading Read(GutterRow row, int last, int source)
    {
        var reading = new GutterReading();
        List<GutterCell> cells = row.Cells;
        int at = 0,
            end = cells.Count;
        while (end > 0 && cells[end - 1].Start >= source)
            end--;
        if (NumberFirst)
        {
            if (end == 0 || !cells[0].IsDecimal)
                return reading;
            reading.Number = cells[0].Value;
            at = 1;
        }

        if (!HasAddress)
        {
            reading.Taken = at;
            return reading;
        }

        int number = NumberLast ? LineNumber(cells, end, last) : end;
        if (at < number && cells[at].IsValue)
        {
            reading.HasValue = true;
            at++;
        }
        else if (at < number && cells[at].IsAddress)
        {
            int words = at + 1;
            while (HasWords && words < number && cells[words].IsWord)
                reading.Words.Add(cells[words++].Hex);
            // An address without a word stands beside 'org' or a name; without line numbers it must have the gutter's place.
            reading.Address = cells[at].Hex;
            at = words;
        }

        if (NumberLast && at == number && number < end)
        {
            reading.Number = cells[number].Value;
            at++;
        }

        reading.Taken = at;
        return reading;
    }

    // Which cell is the line number: the one that goes on with the count, else the last one that could be.
    private static int LineNumber(List<GutterCell> cells, int end, int last)
    {
        for (int i = 0; i < end; i++)
            if (
                cells[i].IsDecimal
                && cells[i].Value is var value
                && (value == last + 1 || value == last)
                && (i != 1 || end == 2 || !cells[0].IsAddress || !cells[1].IsWord)
            )
                return i;
        // An address and its word, and nothing else: a row that shows what a macro has made.
        if (end == 2 && cells[0].IsAddress && cells[1].IsWord)
            return end;
        for (int i = end - 1; i >= 0; i--)
            if (cells[i].IsDecimal && (i == 0 || i > 1 || !cells[i].IsWord || cells[0].IsValue))
                return i;
        return end;
    }
}
