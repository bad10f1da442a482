namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>
/// What speaks for each row continuing with the row above, in units of the natural logarithm of odds; 0 is a row of its own. The sizes follow
/// counts over printed programs: a row of plain words below a full comment at the left edge, or below the comment's text, is a rest nearly always;
/// a row in the column of operations is one in six hundred times.
/// </summary>
internal sealed class RowWeights(
    IReadOnlyList<Row> rows,
    OwnKind[] kinds,
    bool[] rests,
    RowNames names,
    RowGeometry geometry
)
{
    /// <summary>The weight of what cannot be.</summary>
    public const double Never = -1e6;

    private readonly WordWeights words = new(rows, kinds, rests, names, geometry);
    private readonly PlaceWeights place = new(rows, kinds, geometry);
    private readonly OperandWeights operands = new(rows, kinds, names);
    private readonly double[] restOfRow = new double[rows.Count];
    private readonly bool[] known = new bool[rows.Count];

    /// <summary>What the words of rows say.</summary>
    public WordWeights Words => words;

    /// <summary>Whether the page itself shows that a row continues with the comment above, or that it does not.</summary>
    public bool IsDecided(int row, bool isRest) => place.IsDecided(row, isRest);

    /// <summary>The weight of a row as one kind, with the row above as another.</summary>
    public double Step(int row, RowKind above, RowKind kind)
    {
        if (kind == RowKind.Own)
            return 0;
        if (!rows[row].IsRow || !rows[row - 1].IsRow || rows[row].Code.Length == 0)
            return Never;
        if (kind == RowKind.Operand)
            return above == RowKind.Rest || rows[row - 1].HasComment ? Never : operands.Of(row);
        if (above != RowKind.Rest && !rows[row - 1].HasComment)
            return Never;
        double weight = RestWeight(row);
        // What could be a row of the program is not made a rest for the sake of the words below it: these may be page header or footer.
        if (
            above == RowKind.Rest
            && kinds[row - 1] is not (OwnKind.Words or OwnKind.Impossible)
            && !rows[row - 1].HasComment
        )
            weight = Math.Min(weight, 2);
        if (above == RowKind.Rest && Math.Abs(rows[row].Column - rows[row - 1].Column) <= 1)
            weight += 0.5;
        // The operands of the row above continue, and not its comment.
        if (above != RowKind.Rest && OperandWeights.Continues(rows[row - 1], rows[row]))
            weight -= 30;
        return weight;
    }

    private double RestWeight(int at)
    {
        if (known[at])
            return restOfRow[at];
        known[at] = true;
        Row row = rows[at],
            above = rows[at - 1];
        double weight = words.Of(at) + place.Of(at);
        if (!row.IsSigns)
            weight += geometry.BreakOf(above);
        // A comment of its own after a gap: the rest of a comment has none.
        if (row.HasComment && row.CommentStart > 1 && row.Text[(row.CommentStart - 2)..row.CommentStart] == "  ")
            weight -= 6;
        // A name that nobody uses below a full comment is a variable once in four hundred times.
        if (
            kinds[at] == OwnKind.Members
            && place.Room(above, row) >= 2
            && !row.HasComment
            && words.UsesOfMembers(row) == 0
        )
            weight += 3;
        // A comment does not continue after a paragraph of the text around the listing.
        if (row.Line.FollowsText && kinds[at] is not (OwnKind.Words or OwnKind.Impossible))
            weight -= 20;
        // Whatever the width is, the longest row fits: a word for which the row above had room there was not wrapped.
        if (
            kinds[at] == OwnKind.Name
            && geometry.FullnessOf(above, row) == Fullness.Unknown
            && geometry.FullnessByLongest(above, row) == Fullness.HasRoom
        )
            weight -= 1;
        return restOfRow[at] = weight;
    }
}
