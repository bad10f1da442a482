using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Takes the rows that continue with the row above. Each is judged once, from top to bottom: by its place below the words of a remark, whatever its
/// typeface is used for, and in the typeface of listings by what the row above leaves open.
/// </summary>
internal sealed class ContinuationRows(DocumentRows rows, CodeNearby near)
{
    /// <summary>A comment continues in so many rows at most.</summary>
    public const int MostRests = 8;

    /// <summary>Lines of one paragraph are set closer than this part of the type's size.</summary>
    private const double RoomOfLine = 1.9;

    // So many rows above continue, up to the row that is judged.
    private int open;

    // Where the words of the remark start that the rows above continue; -1 where they continue none.
    private double remarkX = -1;

    /// <summary>Adds them to the rows that are taken already.</summary>
    public void Take(bool[] taken, TypefaceCounts typefaces)
    {
        int above = -1;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            bool isBelow = above >= 0 && taken[above] && rows.TypefaceOf(i) == rows.TypefaceOf(above);
            bool hangs = Hangs(i, above, isBelow && !taken[i]);
            taken[i] |= hangs | (typefaces.IsOfListings(rows.TypefaceOf(i)) ? Continues(i, above, isBelow) : Close());
            above = i;
        }
    }

    // A row that starts below the words of a remark continues with it; so do the rows below at the same place.
    private bool Hangs(int row, int above, bool isBelow)
    {
        if (!isBelow || !IsNext(rows.Lines[above], rows.Lines[row]))
        {
            remarkX = -1;
            return false;
        }

        if (remarkX < 0)
            remarkX = RemarkX(above);
        bool hangs =
            rows.Looks[row] == Look.Other
            && remarkX > 0
            && Math.Abs(rows.Lines[row].X - remarkX) <= RowLooks.SameColumn;
        if (!hangs)
            remarkX = -1;
        return hangs;
    }

    // What is right below a comment continues with it, and so do the rows below that; a name with a comment is a variable.
    private bool Continues(int row, int above, bool isBelow)
    {
        if (rows.Looks[row] is Look.Code or Look.Comment)
            return Close();
        bool continues =
            isBelow
            && open < MostRests
            && (open > 0 || HasComment(above) || BreaksOff(above))
            && (
                IsNext(rows.Lines[above], rows.Lines[row])
                || (IsElsewhere(rows.Lines[above], rows.Lines[row]) && (near.IsAboveCode(row) || BreaksOff(above)))
            );
        open = continues && !HasComment(row) ? open + 1 : 0;
        return continues
            || (isBelow && (AssemblyLook.IsEnd(rows.Texts[row]) || HasComment(row)))
            || (HasComment(row) && near.IsBetweenCode(row));
    }

    private bool Close()
    {
        open = 0;
        return false;
    }

    // Where the words of the remark after the code of a row start on paper; -1 where it has none, or is nothing but a remark.
    private double RemarkX(int line)
    {
        string text = rows.Lines[line].Text;
        int column = text.IndexOf(';', StringComparison.Ordinal);
        if (column <= 0 || text.AsSpan(0, column).IsWhiteSpace())
            return -1;
        while (column < text.Length && text[column] is ';' or ' ')
            column++;
        return column < rows.Lines[line].CharacterStarts.Length ? rows.Lines[line].CharacterStarts[column] : -1;
    }

    // No sentence has a blank in front of its semicolon.
    private bool HasComment(int line) =>
        rows.Texts[line].IndexOf(';', StringComparison.Ordinal) is var at and >= 0
        && (at == 0 || rows.Texts[line][at - 1] is ' ' or '\t');

    // After an operator, or in the midst of a file's name.
    private bool BreaksOff(int line)
    {
        ReadOnlySpan<char> text = rows.Texts[line].AsSpan().TrimEnd();
        return !text.IsEmpty
            && (
                text[^1] is '&' or '|' or ',' or '+'
                || (
                    AssemblyLook.KeywordOf(rows.Texts[line]) == Keyword.Include
                    && text.Contains('<')
                    && !text.Contains('>')
                )
            );
    }

    private static bool IsElsewhere(PrintedLine above, PrintedLine line) =>
        above.Page != line.Page || above.TextColumn != line.TextColumn;

    // No room for a line between two lines; nobody knows where another text column or page begins.
    private static bool IsNext(PrintedLine above, PrintedLine line) =>
        above.Page == line.Page
        && above.TextColumn == line.TextColumn
        && line.Y - above.Y < RoomOfLine * Math.Max(line.FontSize, above.FontSize);
}
