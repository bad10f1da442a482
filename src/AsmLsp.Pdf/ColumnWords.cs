namespace AsmLsp.Pdf;

/// <summary>What the rows of one side of a band are.</summary>
/// <param name="Rows">How many there are.</param>
/// <param name="Statements">Whole statements.</param>
/// <param name="Comments">Rows that begin with a semicolon.</param>
/// <param name="Remarks">Those of them that have words.</param>
/// <param name="LoneWords">One word that is no instruction.</param>
/// <param name="Numbers">Numbers alone.</param>
/// <param name="Numbered">Numbers alone or in front.</param>
/// <param name="Open">Operations whose operands are not there.</param>
internal readonly record struct SideWords(
    int Rows,
    int Statements,
    int Comments,
    int Remarks,
    int LoneWords,
    int Numbers,
    int Numbered,
    int Open
)
{
    // One row in so many of a listing has an operation, and there are so many of them, though each of its lines was wrapped.
    private const int ShareOfOperations = 5;
    private const int LeastOperations = 4;

    /// <summary>Whether the side is a listing: its operations are in it, with their operands or wrapped in front of them.</summary>
    public bool HasOperations =>
        Statements + Open >= LeastOperations && (Statements + Open) * ShareOfOperations >= Rows;

    /// <summary>Counts the rows of a side.</summary>
    public static SideWords Of(List<HalfTraits> side) =>
        new(
            side.Count,
            side.Count(static t => (t & HalfTraits.Statement) != 0),
            side.Count(static t => (t & HalfTraits.Comment) != 0),
            side.Count(static t => (t & HalfTraits.Remark) != 0),
            side.Count(static t => (t & (HalfTraits.LoneWord | HalfTraits.Statement)) == HalfTraits.LoneWord),
            side.Count(static t => (t & HalfTraits.Numbers) != 0),
            side.Count(static t => (t & (HalfTraits.Numbers | HalfTraits.Numbered)) != 0),
            side.Count(static t => (t & (HalfTraits.Open | HalfTraits.Comment)) == HalfTraits.Open)
        );
}

/// <summary>What the words on both sides of a band say.</summary>
internal sealed class ColumnWords
{
    private ColumnWords(SideWords left, SideWords right) => (Left, Right) = (left, right);

    /// <summary>The rows on the left.</summary>
    public SideWords Left { get; }

    /// <summary>The rows on the right.</summary>
    public SideWords Right { get; }

    /// <summary>Rows with text on both sides.</summary>
    public int Both { get; private set; }

    /// <summary>Of these, rows that have code on the left.</summary>
    public int BesideCode { get; private set; }

    /// <summary>Rows that the white would tear: an operation from its operand, a number from its text, a name from its value.</summary>
    public int Torn { get; private set; }

    /// <summary>Rows that have an empty comment on the left.</summary>
    public int BareSigns { get; private set; }

    /// <summary>Rows that hold two lines: no line has two operations, and none has code after its comment.</summary>
    public int TwoLines { get; private set; }

    /// <summary>Rows that hold two comments.</summary>
    public int TwoComments { get; private set; }

    /// <summary>Statements that are alone on the right of rows that have nothing on the left.</summary>
    public int OwnStatements { get; private set; }

    /// <summary>Reads the rows of a band.</summary>
    public static ColumnWords Of(List<GlyphRow> rows, in ColumnBand band)
    {
        var left = new List<HalfTraits>();
        var right = new List<HalfTraits>();
        int both = 0,
            besideCode = 0,
            torn = 0,
            bare = 0,
            twoLines = 0,
            twoComments = 0,
            own = 0;
        for (int i = band.First; i <= band.Last; i++)
        {
            HalfTraits? l = band.LeftOf(rows[i]) is { } leftPart ? HalfLine.Of(leftPart) : null,
                r = band.RightOf(rows[i]) is { } rightPart ? HalfLine.Of(rightPart) : null;
            if (l is { } a)
                left.Add(a);
            if (r is { } b)
                right.Add(b);
            if (l is null && (r & HalfTraits.Statement) != 0)
                own++;
            if (l is not { } on || r is not { } off)
                continue;
            both++;
            if ((on & (HalfTraits.Statement | HalfTraits.Open | HalfTraits.Perhaps)) != 0)
                besideCode++;
            if (HalfLine.IsTorn(on, off))
                torn++;
            else if ((on & HalfTraits.BareSign) != 0)
                bare++;
            else if (HalfLine.AreTwoLines(on, off))
                twoLines++;
            if ((on & HalfTraits.HasComment) != 0 && (off & HalfTraits.Comment) != 0)
                twoComments++;
        }

        return new ColumnWords(SideWords.Of(left), SideWords.Of(right))
        {
            Both = both,
            BesideCode = besideCode,
            Torn = torn,
            BareSigns = bare,
            TwoLines = twoLines,
            TwoComments = twoComments,
            OwnStatements = own,
        };
    }
}
