using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Audit;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>What a printed row is by the numbers in front of it.</summary>
internal enum GutterRowKind
{
    /// <summary>Its numbers do not say.</summary>
    Unknown,

    /// <summary>A row of the listing: its number continues with the count, or it has an address and a word.</summary>
    Listing,

    /// <summary>The rest of the row above: it repeats its number, or has none where every row has one.</summary>
    Rest,

    /// <summary>A page header or footer: it has no number where every row has one, and the row above has room left.</summary>
    Page,
}

/// <summary>
/// The numbers in front of the rows of a document: line numbers, addresses, words, in whatever form. They are found on the printed rows of all
/// pages, before anything else is decided, and prove what a row is.
/// </summary>
internal sealed class DocumentGutter
{
    // A code line in so many may lack a number where every row has one.
    private const int FewRows = 20;
    private const int LeastLines = 8;
    private const int MostSkipped = 5;
    private const int LeastSigns = 4;

    private readonly Dictionary<PrintedLine, (GutterRow Row, GutterMatch Reading)> read = new(
        ReferenceEqualityComparer.Instance
    );
    private readonly Dictionary<PrintedLine, GutterRowKind> kinds = new(ReferenceEqualityComparer.Instance);

    private DocumentGutter(GutterForm? form) => Form = form;

    /// <summary>A document without numbers in front of its rows.</summary>
    public static DocumentGutter None { get; } = new(null);

    /// <summary>The order of the numbers, or null where there are none.</summary>
    public GutterForm? Form { get; }

    /// <summary>By how much the line numbers rise, from one that is printed to the next.</summary>
    public int Step { get; private init; } = 1;

    /// <summary>Whether every row has a line number, those that are blank too.</summary>
    public bool NumbersAll { get; private set; }

    /// <summary>The column in which the gutter ends.</summary>
    public int End { get; private set; }

    /// <summary>What a row is by its numbers.</summary>
    public GutterRowKind KindOf(PrintedLine line) => kinds.GetValueOrDefault(line);

    /// <summary>Whether a row is one of the listing beyond doubt.</summary>
    public bool IsRow(PrintedLine line) => KindOf(line) == GutterRowKind.Listing;

    /// <summary>The numbers of a row; null where it was not looked at.</summary>
    public (GutterRow Row, GutterMatch Reading)? Of(PrintedLine line) =>
        read.TryGetValue(line, out (GutterRow, GutterMatch) found) ? found : null;

    /// <summary>The text of a row after its numbers, in its column.</summary>
    public string TextOf(PrintedLine line)
    {
        if (!read.TryGetValue(line, out (GutterRow Row, GutterMatch Reading) found))
            return line.Text;
        int taken = found.Row.EndOf(found.Reading.Taken);
        return taken == 0 ? line.Text : line.Text[Math.Min(taken, line.Text.Length)..];
    }

    /// <summary>Finds the numbers in front of the rows of all pages.</summary>
    public static DocumentGutter Find(IReadOnlyList<PrintedPage> pages)
    {
        DocumentGutter gutter = Of([.. pages.SelectMany(static p => p.Lines)]);
        gutter.Prove();
        return gutter;
    }

    /// <summary>Finds the numbers in front of rows.</summary>
    public static DocumentGutter Of(IReadOnlyList<PrintedLine> lines)
    {
        var rows = new List<GutterRow>(lines.Count);
        for (int i = 0; i < lines.Count; i++)
            rows.Add(new GutterRow(i, lines[i].Text) { IsOcr = lines[i].IsOcr });
        ResolveSigns(rows);
        GutterRow[] full = [.. rows.Where(static r => !r.IsEmpty || r.HasOwnSign)];
        Look[] looks = [.. full.Select(static r => LookOf(r, false))];
        DocumentGutter gutter;
        GutterMatch[] readings;
        if (GutterForm.Best(full, looks) is { } best)
            (gutter, readings) = (new DocumentGutter(best.Form), best.Readings);
        else if (SparseNumbers.Find(full, looks) is { } sparse)
            (gutter, readings) = (
                new DocumentGutter(new GutterForm([GutterRole.Number])) { Step = sparse.Step },
                sparse.Readings
            );
        else
            return None;
        DropUnaligned(full, readings);
        for (int i = 0; i < full.Length; i++)
            gutter.read[lines[full[i].Line]] = (full[i], readings[i]);
        gutter.End = EndOf(full, readings);
        return gutter;
    }

    // Line numbers are below each other, by their first digits or by their last: the number of a page's head is elsewhere.
    private static void DropUnaligned(GutterRow[] rows, GutterMatch[] readings)
    {
        Dictionary<int, int> starts = [],
            ends = [];
        int all = 0;
        for (int i = 0; i < rows.Length; i++)
        {
            if (readings[i].Number < 0)
                continue;
            if (rows[i].IsOcr)
                return;
            GutterCell cell = rows[i].Cells[readings[i].NumberCell];
            starts[cell.Start] = starts.GetValueOrDefault(cell.Start) + 1;
            ends[cell.End] = ends.GetValueOrDefault(cell.End) + 1;
            all++;
        }

        if (all == 0)
            return;
        (int start, int atStart) = starts.MaxBy(static s => s.Value);
        (int end, int atEnd) = ends.MaxBy(static e => e.Value);
        if (Math.Max(atStart, atEnd) * 20 < all * 19)
            return;
        bool byStart = atStart > atEnd;
        for (int i = 0; i < rows.Length; i++)
        {
            if (readings[i].Number < 0)
                continue;
            GutterCell cell = rows[i].Cells[readings[i].NumberCell];
            if (byStart ? cell.Start != start : cell.End != end)
                readings[i] = new GutterMatch();
        }
    }

    // Where the gutter ends in most rows that have all of it.
    private static int EndOf(GutterRow[] rows, GutterMatch[] readings)
    {
        var ends = new Dictionary<int, int>();
        for (int i = 0; i < rows.Length; i++)
            if (readings[i].Taken > 0 && rows[i].EndOf(readings[i].Taken) is var end)
                ends[end] = ends.GetValueOrDefault(end) + 1;
        return ends.Count == 0 ? 0 : ends.MaxBy(static e => (e.Value, e.Key)).Key;
    }

    private static Look LookOf(GutterRow row, bool withoutSign)
    {
        ReadOnlySpan<char> text = row.After(withoutSign).Trim();
        return text.IsEmpty ? Look.Other : AssemblyLook.Of(text.ToString());
    }

    // The sign after which rows read as code, nine in ten of those with numbers, is the gutter's.
    private static void ResolveSigns(List<GutterRow> rows)
    {
        var after = new Dictionary<char, int>();
        int without = 0;
        foreach (GutterRow row in rows)
        {
            if (row.Cells.Count == 0)
                continue;
            if (row.Sign != '\0' && (row.IsGlued || row.IsSignAlone || row.TextStart < 0))
                after[row.Sign] = after.GetValueOrDefault(row.Sign) + (IsCode(row, true) ? 1 : 0);
            else if (row.Sign == '\0' && IsCode(row, false))
                without++;
        }

        char? sign = null;
        if (
            after.Count > 0
            && after.MaxBy(static b => b.Value) is var (most, count)
            && count >= LeastSigns
            && count >= 9 * without
        )
            sign = most;
        foreach (GutterRow row in rows)
            row.ResolveSign(sign);
    }

    private static bool IsCode(GutterRow row, bool withoutSign) =>
        LookOf(row, withoutSign) is Look.Code or Look.Comment;

    // What the numbers prove about the rows.
    private void Prove()
    {
        if (Form is null)
            return;
        PrintedLine[] lines = [.. read.Keys];
        Array.Sort(lines, (a, b) => read[a].Row.Line.CompareTo(read[b].Row.Line));
        if (Array.Exists(lines, static l => l.IsOcr))
            return;
        if (Form.HasNumber)
            ProveByNumbers(lines);
        if (Form.HasWords)
            ProveByWords(lines);
        else if (!Form.HasNumber)
            foreach (PrintedLine line in lines)
                if (read[line].Reading.Address >= 0 && LookOf(read[line].Row, false) == Look.Code)
                    kinds[line] = GutterRowKind.Listing;
        int first = Array.FindIndex(lines, IsRow),
            last = Array.FindLastIndex(lines, IsRow);
        if (first < 0)
            return;
        int numbered = 0,
            unnumbered = 0;
        for (int i = first; i <= last; i++)
        {
            GutterMatch reading = read[lines[i]].Reading;
            if (reading.Number >= 0)
                numbered++;
            else if (reading.Words.Count == 0 && LookOf(read[lines[i]].Row, false) is Look.Code or Look.Comment)
                unnumbered++;
        }

        NumbersAll = Form.HasNumber && Step == 1 && numbered >= LeastLines && unnumbered * FewRows <= numbered;
        UnnumberedRows.Classify(lines, first, last, this, kinds);
    }

    // A run of numbers that count on counts the lines of a listing where much of it is code; the steps of a recipe count, too.
    private void ProveByNumbers(PrintedLine[] lines)
    {
        int[] numbered = [.. Enumerable.Range(0, lines.Length).Where(i => read[lines[i]].Reading.Number >= 0)];
        int width = numbered.Length == 0 ? 0 : numbered.Max(i => lines[i].Text.Length);
        var returns = new HashSet<int>();
        for (int i = 1; i < numbered.Length; i++)
            if (NumberOf(numbered[i]) == 1)
                returns.Add(NumberOf(numbered[i - 1]) + 1);
        int from = 0;
        for (int i = 1; i <= numbered.Length; i++)
        {
            if (i < numbered.Length)
            {
                int step = NumberOf(numbered[i]) - NumberOf(numbered[i - 1]);
                if (step >= 0 && step <= MostSkipped * Step)
                    continue;
            }

            int code = 0,
                filled = 0;
            for (int j = from; j < i; j++)
            {
                GutterRow row = read[lines[numbered[j]]].Row;
                if (row.TextStart < 0)
                    continue;
                filled++;
                if (LookOf(row, false) is Look.Code or Look.Comment)
                    code++;
            }

            bool isListing = i - from >= 3 ? code * 3 >= filled && code > 0 : code == filled && code > 0;
            for (int j = from; j < i && isListing; j++)
            {
                GutterMatch reading = read[lines[numbered[j]]].Reading;
                bool repeats =
                    j > from
                    && Step == 1
                    && NumberOf(numbered[j]) == NumberOf(numbered[j - 1])
                    && reading.Words.Count == 0
                    && read[lines[numbered[j]]].Row.TextStart >= 0
                    && Repeats(numbered[j - 1], numbered[j], j - 1 == from);
                kinds[lines[numbered[j]]] = repeats ? GutterRowKind.Rest : GutterRowKind.Listing;
            }

            from = i;
        }

        int NumberOf(int line) => read[lines[line]].Reading.Number;

        // A number that comes twice is that of a row that was broken, unless an included file ends here with as many lines as are above it.
        bool Repeats(int above, int here, bool isFirst)
        {
            if (UnnumberedRows.IsFull(lines[above], TextOf(lines[here]), width))
                return true;
            string text = lines[above].Text;
            if (text.Length > 1 && text[^1] is '-' or '\u2010' && char.IsLetter(text[^2]))
                return true;
            return !isFirst && !returns.Contains(NumberOf(here));
        }
    }

    private void ProveByWords(PrintedLine[] lines)
    {
        int next = -1;
        bool hadWords = false;
        foreach (PrintedLine line in lines)
        {
            (GutterRow row, GutterMatch reading) = read[line];
            if (reading.Words.Count == 0)
            {
                hadWords &= row.TextStart < 0;
                continue;
            }

            bool goesOn =
                (reading.Address >= 0 && reading.Address == next)
                || (!Form!.HasAddress && hadWords && row.TextStart < 0);
            hadWords = true;
            if (goesOn || (row.TextStart >= 0 && LookOf(row, false) is Look.Code))
                kinds[line] = GutterRowKind.Listing;
            next = reading.Address < 0 ? -1 : reading.Address + reading.Words.Count;
        }
    }
}
