using System.Collections.Immutable;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>What a number in front of a line can be.</summary>
internal enum GutterRole
{
    Number,
    Address,
    Words,
}

/// <summary>
/// One order in which listings print numbers in front of their lines. No order is known beforehand: each is tried, and the one whose numbers go
/// on best from row to row is that of the listing. Line numbers rise by one, addresses by the words of the row above, words have four digits.
/// </summary>
/// <param name="Roles">What is there, from the left.</param>
internal sealed record GutterForm(ImmutableArray<GutterRole> Roles)
{
    private const int LeastLines = 4;
    private const int LeastBeside = 2;

    // One row in so many may be none of the listing.
    private const int FewRows = 20;

    // Numbers that rise by so much at most continue, with blank lines left out between them.
    private const int MostSkipped = 5;

    private const int RowsAhead = 3;

    private const GutterRole N = GutterRole.Number,
        A = GutterRole.Address,
        W = GutterRole.Words;

    private static GutterForm[] All { get; } =
    [
        new([N]),
        new([A]),
        new([A, W]),
        new([W, A]),
        new([N, A]),
        new([A, N]),
        new([N, W]),
        new([W, N]),
        new([N, A, W]),
        new([A, W, N]),
        new([W, A, N]),
        new([N, W, A]),
        new([A, N, W]),
        new([W, N, A]),
    ];

    public bool HasNumber => Roles.Contains(N);

    public bool HasAddress => Roles.Contains(A);

    public bool HasWords => Roles.Contains(W);

    /// <summary>The form that says most about the rows, with what it reads in them; null where no form does.</summary>
    /// <param name="rows">The rows, with the signs after their numbers resolved.</param>
    /// <param name="looks">How the text after the numbers of each row looks.</param>
    public static (GutterForm Form, GutterMatch[] Readings)? Best(GutterRow[] rows, Look[] looks)
    {
        if (rows.Count(static r => r.Cells.Count > 0) < LeastLines)
            return null;
        (GutterForm, GutterMatch[])? best = null;
        int most = int.MinValue;
        int source = SourceColumn(rows),
            step = Step(rows);
        foreach (GutterForm form in All)
        {
            // Where columns are lost, the text of some rows begins where others have an address.
            foreach (int column in (int[])[source, int.MaxValue])
            {
                if (form.Read(rows, looks, column, step) is not { } readings)
                    continue;
                int score = 0;
                foreach (GutterMatch reading in readings)
                    score += reading.Score;
                if (score > most)
                    (most, best) = (score, (form, readings));
            }
        }

        return best;
    }

    private GutterMatch[]? Read(GutterRow[] rows, Look[] looks, int source, int step)
    {
        var readings = new GutterMatch[rows.Length];
        int numbers = 0,
            rising = 0,
            withWord = 0,
            addresses = 0,
            steps = 0,
            stray = 0,
            code = 0,
            numberedCode = 0,
            instructions = 0,
            withBoth = 0;
        var state = new FormState { Step = step };
        Stack<int> interrupted = state.Interrupted;
        for (int i = 0; i < rows.Length; i++)
        {
            GutterRow row = rows[i];
            int end = row.Cells.Count;
            while (end > 0 && row.Cells[end - 1].Start >= source)
                end--;
            GutterMatch reading = ReadRow(row, end, state, true);
            if (
                reading.Number >= 0
                && state.Last >= 0
                && (reading.Number > state.Last + MostSkipped * step || reading.Number < state.Last)
                && !row.IsOcr
                && !(
                    IsAligned(row, reading, state) && AssemblyLook.HasOperation(row.Text[Math.Max(0, row.TextStart)..])
                )
                && IsStray(rows, i, reading.Number, state.Last, step)
            )
                reading = ReadRow(row, end, state, false);
            readings[i] = reading;
            bool isCode = looks[i] is Look.Code or Look.Comment;
            if (isCode)
            {
                code++;
                if (reading.Taken < end)
                    stray++;
                if (reading.Number >= 0)
                    numberedCode++;
            }

            if (looks[i] == Look.Code)
                instructions++;
            if (reading.Number >= 0)
            {
                numbers++;
                if (reading.Number == 1 && state.Last > 0)
                    interrupted.Push(state.Last);
                // An included file counts from one, and after it the count continues.
                bool isAnew =
                    reading.Number == 1 || (interrupted.Count > 0 && reading.Number == interrupted.Peek() + 1);
                if (isAnew && reading.Number > 1)
                    interrupted.Pop();
                if (
                    isAnew
                    || reading.Number > state.Last
                    || (reading.Number == state.Last && (reading.Words.Count > 0 || !isCode))
                )
                    rising++;
                state.Last = reading.Number;
                state.LastCell = row.Cells[reading.NumberCell];
            }

            if (reading.Words.Count > 0)
            {
                withWord++;
                if (looks[i] == Look.Code)
                    withBoth++;
            }

            if (reading.Address < 0 || (HasWords && reading.Words.Count == 0))
                continue;
            addresses++;
            if (reading.Address == state.Next)
                steps++;
            state.Next = reading.Address + Math.Max(1, reading.Words.Count);
        }

        if (stray * FewRows > Math.Max(code, LeastLines))
            return null;
        // Rows that continue with the words of the line above have no number of their own, nor have the rows that show what a macro has made.
        if (
            HasNumber
            && (
                numbers < LeastLines
                || numberedCode * 10
                    < (code - WrappedComments(readings, looks) - (HasWords ? WithoutNumber(readings, looks) : 0)) * 7
                || rising * 10 < numbers * 9
            )
        )
            return null;
        // Beside numbers that count, a few are enough.
        int least = HasNumber ? LeastBeside : LeastLines;
        if (HasAddress && (addresses < least || steps * 10 < (addresses - 1) * 5))
            return null;
        if (HasWords && withWord < least)
            return null;
        // Labels such as 'dec1:' read as addresses too; addresses or words by themselves are in front of most lines of code.
        if (HasAddress && !HasWords && !HasNumber && addresses * 2 < instructions)
            return null;
        if (HasWords && !HasAddress && withBoth * 10 < instructions * 2)
            return null;
        return readings;
    }

    // Where lines were wrapped between code and comment, the comment begins a row without a number, below one with it.
    private static int WrappedComments(GutterMatch[] readings, Look[] looks)
    {
        int count = 0;
        for (int i = 1; i < readings.Length; i++)
            if (
                looks[i] == Look.Comment
                && readings[i] is { Number: < 0, Words.Count: 0 }
                && looks[i - 1] == Look.Code
                && readings[i - 1].Number >= 0
            )
                count++;
        return count;
    }

    private static int WithoutNumber(GutterMatch[] readings, Look[] looks)
    {
        int count = 0;
        for (int i = 0; i < readings.Length; i++)
            if (readings[i] is { Number: < 0, Words.Count: > 0 } && looks[i] is Look.Code or Look.Comment)
                count++;
        return count;
    }

    private static bool IsAligned(GutterRow row, GutterMatch reading, FormState state) =>
        row.TextStart >= 0 && row.Cells[reading.NumberCell].End == state.LastCell.End;

    // A number that leaves the count, where the rows below continue with it, is none: '9600 baud' is the rest of a comment.
    private static bool IsStray(GutterRow[] rows, int at, int number, int last, int step)
    {
        for (int i = at + 1, seen = 0; i < rows.Length && seen < RowsAhead; i++)
        {
            if (rows[i].Cells.Count == 0)
                continue;
            seen++;
            foreach (GutterCell cell in rows[i].Cells)
            {
                if (!cell.IsDecimal)
                    continue;
                if (cell.Value > number && cell.Value <= number + MostSkipped * step)
                    return false;
                if (cell.Value > last && cell.Value <= last + MostSkipped * step)
                    return true;
            }
        }

        return false;
    }

    // The reading of a row that continues best with the rows above.
    private GutterMatch ReadRow(GutterRow row, int end, FormState state, bool mayCount)
    {
        var best = new GutterMatch { Score = -4 * end };
        if (end > 0)
            Try(row, end, state, mayCount, 0, 0, [], ref best);
        return best;
    }

    private void Try(
        GutterRow row,
        int end,
        FormState state,
        bool mayCount,
        int role,
        int cell,
        List<(GutterRole Role, int Cell, int Count)> given,
        ref GutterMatch best
    )
    {
        if (role == Roles.Length || cell == end)
        {
            GutterMatch reading = Make(row, end, state, cell, given);
            if (reading.Score > best.Score)
                best = reading;
            return;
        }

        GutterCell at = row.Cells[cell];
        int most = Roles[role] switch
        {
            N => mayCount && at.IsDecimal ? 1 : 0,
            A => at.IsAddress || at.IsValue ? 1 : 0,
            _ => at.IsWord ? end - cell : 0,
        };
        for (int count = 1; count <= most; count++)
        {
            if (count > 1 && !row.Cells[cell + count - 1].IsWord)
                break;
            given.Add((Roles[role], cell, count));
            Try(row, end, state, mayCount, role + 1, cell + count, given, ref best);
            given.RemoveAt(given.Count - 1);
        }

        Try(row, end, state, mayCount, role + 1, cell, given, ref best);
    }

    private GutterMatch Make(
        GutterRow row,
        int end,
        FormState state,
        int taken,
        List<(GutterRole Role, int Cell, int Count)> given
    )
    {
        var reading = new GutterMatch { Taken = taken };
        int score = -4 * (end - taken);
        foreach ((GutterRole role, int cell, int count) in given)
        {
            GutterCell at = row.Cells[cell];
            switch (role)
            {
                case N:
                    (reading.Number, reading.NumberCell) = (at.Value, cell);
                    score += OfNumber(at, state);
                    break;
                case A when at.IsValue:
                    reading.HasValue = true;
                    score++;
                    break;
                case A:
                    reading.Address = at.Hex;
                    break;
                default:
                    for (int i = cell; i < cell + count; i++)
                        reading.Words.Add(row.Cells[i].Hex);
                    score += 2 + count;
                    break;
            }
        }

        bool goesOn = row.TextStart < 0 && reading.Words.Count > 0;
        if (reading.Address >= 0)
            score +=
                reading.Address == state.Next ? 5
                : HasWords && reading.Words.Count == 0 ? 0
                : state.Next < 0 || reading.Address > state.Next ? 1
                : -1;
        // Words that continue with those of the line above.
        else if (goesOn && HasAddress && reading.Number < 0 && state.Next >= 0)
            reading.Address = state.Next;
        // A value has no words, and words without their address are in rows of words alone.
        if (reading.Words.Count > 0 && HasAddress && (reading.HasValue || reading.Address < 0))
            score -= 6;
        reading.Score = score;
        return reading;
    }

    private static int OfNumber(GutterCell cell, FormState state)
    {
        int number = cell.Value;
        if (state.Last < 0)
            return number == 1 || number == state.Step ? 2
                : number == 0 ? -1
                : 1;
        int score =
            number == state.Last + state.Step ? 5
            : number == state.Last || number == 1 ? 2
            : number > state.Last && number <= state.Last + MostSkipped * state.Step ? 3
            : state.Interrupted.Count > 0 && number == state.Interrupted.Peek() + 1 ? 3
            : -1;
        // Line numbers are below each other.
        return score < 0 && cell.End == state.LastCell.End ? 1 : score;
    }

    // By how much the first or the last numbers of the rows rise.
    private static int Step(GutterRow[] rows)
    {
        var counts = new Dictionary<int, int>();
        (int first, int last) = (-1, -1);
        foreach (GutterRow row in rows)
        {
            if (row.Cells.Count == 0)
                continue;
            GutterCell left = row.Cells[0],
                right = row.Cells[^1];
            if (left.IsDecimal)
            {
                if (first >= 0 && left.Value > first)
                    counts[left.Value - first] = counts.GetValueOrDefault(left.Value - first) + 1;
                first = left.Value;
            }

            if (right.IsDecimal && row.Cells.Count > 1)
            {
                if (last >= 0 && right.Value > last)
                    counts[right.Value - last] = counts.GetValueOrDefault(right.Value - last) + 1;
                last = right.Value;
            }
        }

        return counts.Count == 0 ? 1 : counts.MaxBy(static c => (c.Value, -c.Key)).Key;
    }

    // After the gutter: the leftmost text of the rows that have one. A few rests of comments ('9600 baud') may begin with a number too.
    private static int SourceColumn(GutterRow[] rows)
    {
        var columns = new List<int>();
        foreach (GutterRow row in rows)
            if (row.Cells.Count > 0 && row.TextStart > 0)
                columns.Add(row.TextStart);
        columns.Sort();
        return columns.Count == 0 ? int.MaxValue : columns[columns.Count / FewRows];
    }

    private sealed class FormState
    {
        public int Last { get; set; } = -1;

        public GutterCell LastCell { get; set; }

        /// <summary>The numbers of the rows at which an included file begins.</summary>
        public Stack<int> Interrupted { get; } = new();

        public int Next { get; set; } = -2;

        public int Step { get; init; } = 1;
    }
}
