using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// A line as it is assembled: after the substitution of defines and macro parameters. It remembers the line of the
/// file that it was made from, and which of its pieces were put in.
/// </summary>
internal readonly struct EffectiveLine(
    LineSyntax syntax,
    SourceFile file,
    int number,
    Expansion? via,
    PieceMap? pieces = null
)
{
    public LineSyntax Syntax { get; } = syntax;

    public SourceFile File { get; } = file;

    /// <summary>Number of the line in its file, from 0.</summary>
    public int Number { get; } = number;

    /// <summary>The macro call or loop that brought the line here, or null.</summary>
    public Expansion? Via { get; } = via;

    public PieceMap? Pieces { get; } = pieces;

    public EffectiveLine With(LineSyntax other) => new(other, File, Number, Via, Pieces);

    /// <summary>The place in the file of a stretch of this line; for a macro's argument, its place in the call.</summary>
    public SourcePlace Place(TextSpan span)
    {
        if (Pieces is null)
            return new SourcePlace(File, Number, span);
        return Pieces.SourceOf(span) ?? new SourcePlace(File, Number, Pieces.ToOrigin(span));
    }

    /// <summary>The place of a token.</summary>
    public SourcePlace Place(int token) => Place(Syntax.Tokens[token].Span);

    /// <summary>The place of the operation, or of all code where there is none.</summary>
    public SourcePlace OperationPlace =>
        Syntax.OperationToken >= 0 ? Place(Syntax.OperationToken) : Place(Syntax.CodeSpan);
}

/// <summary>Leads the columns of a line that substitution made back to the columns of the line it was made from.</summary>
internal sealed class PieceMap
{
    private readonly List<Piece> pieces = [];

    /// <summary>Notes that columns <paramref name="start"/> to <paramref name="end"/> were put in place of <paramref name="origin"/>.</summary>
    /// <remarks><paramref name="source"/> is where the text itself was written, to the letter, where that is known.</remarks>
    public void Add(int start, int end, TextSpan origin, SourcePlace? source = null) =>
        pieces.Add(new Piece(start, end, origin, source));

    /// <summary>Where a stretch that lies inside one piece was written, or null.</summary>
    public SourcePlace? SourceOf(TextSpan span)
    {
        foreach (Piece piece in pieces)
        {
            if (span.Start < piece.Start || span.End > piece.End || piece.Source is not { } source)
                continue;
            return source with { Columns = new TextSpan(source.Columns.Start + span.Start - piece.Start, span.Length) };
        }

        return null;
    }

    /// <summary>The stretch of the original line that a stretch of the new one means.</summary>
    public TextSpan ToOrigin(TextSpan span) =>
        TextSpan.FromBounds(Map(span.Start, false), Math.Max(Map(span.Start, false), Map(span.End, true)));

    /// <summary>This map, made on top of an earlier one.</summary>
    public PieceMap Over(PieceMap? earlier)
    {
        if (earlier is null)
            return this;
        var both = new PieceMap();
        foreach (Piece piece in pieces)
            both.Add(piece.Start, piece.End, earlier.ToOrigin(piece.Origin), piece.Source);
        foreach (Piece piece in earlier.pieces)
        {
            if (pieces.Exists(p => p.Origin.Start < piece.End && piece.Start < p.Origin.End))
                continue;
            both.Add(Forward(piece.Start), Forward(piece.End), piece.Origin, piece.Source);
        }

        both.pieces.Sort(static (a, b) => a.Start.CompareTo(b.Start));
        return both;
    }

    private int Forward(int column)
    {
        int shift = 0;
        foreach ((int start, int end, TextSpan origin, SourcePlace? _) in pieces)
        {
            if (origin.End > column)
                break;
            shift = end - origin.End;
        }

        return column + shift;
    }

    private int Map(int column, bool atEnd)
    {
        int shift = 0;
        foreach ((int start, int end, TextSpan origin, SourcePlace? _) in pieces)
        {
            if (column < start || (atEnd && column == start))
                break;
            if (column < end || (atEnd && column == end))
                return atEnd ? origin.End : origin.Start;
            shift = origin.End - end;
        }

        return column + shift;
    }

    private readonly record struct Piece(int Start, int End, TextSpan Origin, SourcePlace? Source);
}
