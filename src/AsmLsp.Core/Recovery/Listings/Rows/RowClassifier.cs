using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>What a row of a listing is to the row above it.</summary>
internal enum RowKind
{
    /// <summary>A row of its own.</summary>
    Own,

    /// <summary>The rest of the comment above.</summary>
    Rest,

    /// <summary>The rest of the operands above.</summary>
    Operand,
}

/// <summary>What a row was found to be.</summary>
/// <param name="Kind">The best explanation.</param>
/// <param name="Margin">By how much it is better than the other one, in units of the natural logarithm of odds.</param>
/// <param name="Own">What the row would be by itself.</param>
internal readonly record struct RowVerdict(RowKind Kind, double Margin, OwnKind Own)
{
    /// <summary>Whether the row was asked about at all: it is below a comment, or below an operation without its operand.</summary>
    public bool WasAsked { get; init; }

    /// <summary>Whether the program is another one without the row, or may be.</summary>
    public bool Matters { get; init; }

    /// <summary>Whether the document itself shows where it broke the row above, so that no doubt is left.</summary>
    public bool IsDecided { get; init; }
}

/// <summary>
/// Classifies all rows of a listing at once: each is a row of its own, or continues with the comment or the operands above it. Every
/// explanation of a row has its weight by where the row starts, whether the row above is full, and what its words are; the best
/// explanation of all rows together is found by dynamic programming, and each row says how near its second best is.
/// What is learned from a first round (columns, width, names) weighs in the next.
/// </summary>
internal static class RowClassifier
{
    private const int Rounds = 3;

    // No explanation.
    private const double Never = -1e6;

    /// <summary>Classifies the rows.</summary>
    /// <param name="rows">The rows in order.</param>
    /// <param name="program">The rows, assembled as they are.</param>
    public static RowVerdict[] Classify(IReadOnlyList<Row> rows, ProgramAnalysis program)
    {
        var verdicts = new RowVerdict[rows.Count];
        bool[] rests = new bool[rows.Count];
        for (int round = 0; round < Rounds; round++)
        {
            var names = new RowNames(rows, rests, program);
            OwnKind[] kinds = KindsOf(rows, names, rests);
            if (round == 0)
            {
                // What a sentence names is not used.
                rests = FirstRests(rows, kinds);
                names = new RowNames(rows, rests, program);
                kinds = KindsOf(rows, names, rests);
            }

            var geometry = new RowGeometry(rows, kinds, rests, i => IsSure(rows[i], kinds[i], names));
            var weights = new RowWeights(rows, kinds, rests, names, geometry);
            verdicts = Best(rows, kinds, weights);
            for (int i = 0; i < rows.Count; i++)
            {
                rests[i] = verdicts[i].Kind == RowKind.Rest;
                if (round == Rounds - 1 && verdicts[i].WasAsked)
                    verdicts[i] = verdicts[i] with
                    {
                        Matters = Matters(rows[i], kinds[i], weights, i),
                        IsDecided = weights.IsDecided(i, verdicts[i].Kind == RowKind.Rest),
                    };
            }
        }

        return verdicts;
    }

    private static OwnKind[] KindsOf(IReadOnlyList<Row> rows, RowNames names, bool[] rests)
    {
        var kinds = new OwnKind[rows.Count];
        bool open = false;
        for (int i = 0; i < rows.Count; i++)
        {
            Row row = rows[i];
            if (!row.IsRow || row.Code.Length == 0)
                continue;
            kinds[i] = StandaloneRow.Of(row, names, open);
            if (rests[i])
                continue;
            if (row.Syntax.OperationToken < 0)
                continue;
            if (row.Syntax.Keyword == Keyword.VariableBlock)
                open = true;
            else if (
                row.Syntax.Keyword == Keyword.EndVariableBlock
                || (kinds[i] == OwnKind.Whole && row.Syntax.OperationKind == OperationKind.Instruction)
            )
                open = false;
        }

        return kinds;
    }

    private static bool Matters(Row row, OwnKind kind, RowWeights weights, int at)
    {
        switch (kind)
        {
            case OwnKind.Words or OwnKind.Impossible:
                // What reads as words may be an instruction in which a letter was misread.
                return weights.Words.MayHideCode(at);
            case OwnKind.Name:
                return weights.Words.IsAskedFor(at);
            case OwnKind.Open:
                return false;
            default:
                return true;
        }
    }

    // What no row of its own could be, below a comment.
    private static bool[] FirstRests(IReadOnlyList<Row> rows, OwnKind[] kinds)
    {
        bool[] rests = new bool[rows.Count];
        int[] starts = new int[256];
        for (int i = 0; i < rows.Count; i++)
            if (rows[i].IsRow && kinds[i] == OwnKind.Whole && rows[i].Syntax.LabelToken < 0)
                starts[Math.Min(rows[i].Column, 255)]++;
        bool open = false;
        for (int i = 0; i < rows.Count; i++)
        {
            Row row = rows[i];
            if (!row.IsRow)
            {
                open &= !row.IsBlank;
                continue;
            }

            if (
                open
                && row.Code.Length > 0
                && !row.HasWord
                && (kinds[i] == OwnKind.Impossible || (kinds[i] == OwnKind.Words && IsPlain(row, starts)))
            )
            {
                rests[i] = true;
                continue;
            }

            open = row.HasComment;
        }

        return rests;
    }

    // Two words in the column of operations may be the call of a macro that is not here.
    private static bool IsPlain(Row row, int[] starts) =>
        starts[Math.Min(row.Column, 255)] < 3
        || row.Code.Split(' ', StringSplitOptions.RemoveEmptyEntries).Length > 2
            && !row.Code.Contains(',', StringComparison.Ordinal);

    private static bool IsSure(Row row, OwnKind kind, RowNames names) =>
        kind switch
        {
            OwnKind.Whole or OwnKind.Firm or OwnKind.Close => true,
            OwnKind.Name or OwnKind.Label => names.UsesOf(row.Code.TrimEnd(':')) > 0,
            OwnKind.Members => row.HasComment || RowNames.MembersOf(row.Code)!.Exists(n => names.UsesOf(n) > 0),
            _ => false,
        };

    // Forward and backward over the rows: the best explanation with each row as what it may be.
    private static RowVerdict[] Best(IReadOnlyList<Row> rows, OwnKind[] kinds, RowWeights weights)
    {
        int count = rows.Count;
        var forward = new double[count][];
        for (int i = 0; i < count; i++)
        {
            forward[i] = [Never, Never, Never];
            for (int kind = 0; kind < 3; kind++)
            {
                double best = i == 0 ? (kind == 0 ? 0 : Never) : Never;
                for (int before = 0; i > 0 && before < 3; before++)
                    best = Math.Max(best, forward[i - 1][before] + weights.Step(i, (RowKind)before, (RowKind)kind));
                forward[i][kind] = Math.Max(Never, best);
            }
        }

        var verdicts = new RowVerdict[count];
        double[] backward = [0, 0, 0];
        for (int i = count - 1; i >= 0; i--)
        {
            double own = forward[i][0] + backward[0],
                rest = forward[i][1] + backward[1],
                operand = forward[i][2] + backward[2];
            double best = Math.Max(own, Math.Max(rest, operand));
            RowKind kind =
                own == best ? RowKind.Own
                : rest == best ? RowKind.Rest
                : RowKind.Operand;
            double second =
                kind == RowKind.Own ? Math.Max(rest, operand)
                : kind == RowKind.Rest ? Math.Max(own, operand)
                : Math.Max(own, rest);
            verdicts[i] = new RowVerdict(kind, best - second, kinds[i])
            {
                WasAsked = Math.Max(rest, operand) > Never / 2,
            };
            if (i == 0)
                break;
            double[] next = [Never, Never, Never];
            for (int before = 0; before < 3; before++)
            for (int here = 0; here < 3; here++)
                next[before] = Math.Max(next[before], backward[here] + weights.Step(i, (RowKind)before, (RowKind)here));
            backward = next;
        }

        // What each row is must fit what the row above is.
        for (int i = 1; i < count; i++)
            if (verdicts[i].Kind != RowKind.Own && weights.Step(i, verdicts[i - 1].Kind, verdicts[i].Kind) <= Never / 2)
                verdicts[i] = verdicts[i] with { Kind = RowKind.Own, Margin = 0 };
        return verdicts;
    }

    /// <summary>Whether a weight means what cannot be.</summary>
    public static double Impossible => Never;
}
