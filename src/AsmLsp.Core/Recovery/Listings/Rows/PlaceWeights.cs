using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>What the page says for a row continuing with the row above: where it starts, whether it had room there, what is printed in front of it.</summary>
internal sealed class PlaceWeights(IReadOnlyList<Row> rows, OwnKind[] kinds, RowGeometry geometry)
{
    // What nothing but a name that is asked for outweighs.
    private const double DecidedPlace = 10;

    /// <summary>The weight of the place of a row.</summary>
    public double Of(int at) =>
        Column(at) + Room(rows[at - 1], rows[at]) + Sentence(rows[at - 1], rows[at]) + Gutter(at);

    // Where the row starts, against where the rows of its kind and the known rests start.
    private double Column(int at)
    {
        Row row = rows[at],
            above = rows[at - 1];
        int column = row.Column;
        OwnKind kind = kinds[at];
        bool below = IsBelowComment(at);
        int own =
            kind == OwnKind.Members ? geometry.MembersAt(column)
            : row.Syntax.LabelToken >= 0 ? geometry.LabelsAt(column)
            : geometry.OperationsAt(column);
        if (below && geometry.IsDecidedByPlace(column))
            return DecidedPlace;
        if (kind is OwnKind.Impossible or OwnKind.Words)
            return below ? 3
                : geometry.RestsAt(column) > 1 ? 1
                : 0;
        double place = Math.Log((geometry.RestsAt(column) + 0.3) / (own + 0.3));
        if (below && column >= 12 && own * 4 <= geometry.Aligned + 2)
            place = Math.Max(place, own == 0 ? 3.5 : Math.Log((geometry.Aligned + 0.5) / (own + 0.3)));
        // Rests are known, and none of them starts where this row and others of its kind do.
        if (geometry.Rests >= 3 && geometry.RestsAt(column) == 0 && own >= 3)
            place -= 3;
        if (geometry.Rests == 0)
            place -= above.HasComment && LineShape.IsUnfinished(above.Text) ? 0.5 : 2;
        return Math.Clamp(place, -8, 5);
    }

    /// <summary>Whether the page itself shows that a row continues with the comment above, or that it does not.</summary>
    public bool IsDecided(int row, bool isRest) =>
        (geometry.IsDecidedByBreak(rows[row - 1]) && geometry.BreakOf(rows[row - 1]) > 0 == isRest)
        || (
            isRest
            && IsBelowComment(row)
            && geometry.IsDecidedByPlace(rows[row].Column)
            && kinds[row] is not (OwnKind.Firm or OwnKind.Call)
            && (kinds[row] != OwnKind.Whole || (rows[row].Syntax.Traits & WordTraits.Natural) != 0)
        );

    private bool IsBelowComment(int at)
    {
        Row row = rows[at];
        for (int i = at - 1; i >= 0 && at - i < 8 && rows[i].IsRow; i--)
        {
            if (rows[i].HasComment)
                return Math.Abs(row.Column - rows[i].CommentColumn) <= 1;
            if (Math.Abs(row.Column - rows[i].Column) > 1)
                return false;
        }

        return false;
    }

    /// <summary>Whether the first word of a row had no room after the row above.</summary>
    public double Room(Row above, Row row)
    {
        if (row.IsSigns)
            return 0;
        // Blanks after the sign of an empty comment are not seen.
        if (!above.EndsInBlank && above.IsComment && above.CommentColumn >= above.Text.TrimEnd().Length)
            return 0;
        switch (geometry.FullnessOf(above, row))
        {
            case Fullness.Full:
                return 2.5;
            case Fullness.Nearly:
                return 1;
            case Fullness.HasRoom:
                return -5;
        }

        // Nothing is known of the width but the longest row.
        return geometry.FullnessByLongest(above, row) switch
        {
            Fullness.Full => 2,
            Fullness.Nearly => 0.5,
            Fullness.HasRoom => -1.5,
            _ => -0.5,
        };
    }

    private double Sentence(Row above, Row row)
    {
        if (row.IsSigns)
            return 8;
        if (above.EndsInRuler)
            return -9;
        ReadOnlySpan<char> text = above.Text.AsSpan().TrimEnd();
        // A sign with nothing after it continues with nothing.
        if (above.HasComment && above.CommentColumn >= text.Length)
            return geometry.IsDecidedByBreak(above) && above.EndsInBlank ? 0 : -7;
        double weight = char.IsLower(row.Text[row.Column]) ? 0.3 : 0;
        if (above.HasComment && LineShape.IsUnfinished(above.Text))
            return weight + 1.5;
        return text[^1] is '.' or '!' or '?' ? weight - 1 : weight;
    }

    // A row with an address or a word is code; a row with the number of the row above continues with it.
    private double Gutter(int at)
    {
        Row row = rows[at],
            above = rows[at - 1];
        if (row.Line.IsRest)
            return 20;
        if (row.HasWord || row.Line.IsRow)
            return -50;
        // The first word of a rest may be a number.
        if (AssemblyLook.IsNumberedCode(row.Text) && !(IsBelowComment(at) && geometry.IsDecidedByPlace(row.Column)))
            return -50;
        if (row.Line.Number < 0)
            return above.Line.Number >= 0 && MostAreNumbered ? 8 : 0;
        return row.Line.Number == above.Line.Number ? 4 : -30;
    }

    private bool MostAreNumbered
    {
        get
        {
            if (mostAreNumbered is { } answer)
                return answer;
            int all = 0,
                numbered = 0;
            foreach (Row row in rows)
            {
                if (!row.IsRow)
                    continue;
                all++;
                if (row.Line.Number >= 0)
                    numbered++;
            }

            mostAreNumbered = numbered * 10 >= all * 8;
            return mostAreNumbered.Value;
        }
    }

    private bool? mostAreNumbered;
}
