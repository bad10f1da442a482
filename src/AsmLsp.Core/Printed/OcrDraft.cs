using System.Text;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Printed;

/// <summary>A line in the making.</summary>
internal sealed class OcrDraft(StraightRow row, bool isOnGrid, int column)
{
    // Two boxes that share more than this part of the narrower one overlap.
    private const double MostShared = 0.5;

    // Spots of ink, letters counted twice: a lost line leaves as many, less is dirt.
    private const int LostLine = 3;

    // A wider gap, in heights of characters, parts columns of a table where there is no grid.
    private const double WideGap = 1.3;

    // The mean width of a proportional letter, in heights of characters.
    private const double UsualLetter = 0.6;

    // Two readings of one shape; a shape with room for two; a cell without a reading within a word.
    private const float Squeezed = 0.5f,
        Spread = 0.5f;

    // Middles nearer than this part of a cell are one shape's.
    private const double SameShape = 0.6,
        NextCell = 1.6,
        InCell = 0.25;

    private readonly StringBuilder text = new();
    private readonly List<float> confidences = [];
    private readonly List<float> starts = [];
    private readonly SortedSet<int> unread = [];

    public StraightRow Row { get; } = row;

    public bool IsOnGrid { get; } = isOnGrid;

    public int Column { get; } = column;

    public StringBuilder Characters => text;

    public string Text => text.ToString();

    public int FirstCell { get; private init; }

    public int InkAbove { get; set; }

    public int InkBelow { get; set; }

    public static OcrDraft OnGrid(StraightRow row, OcrGrid grid, int column)
    {
        List<OcrCharacter> characters = WithWholeLowLines(row.Characters);
        int first = grid.CellOf(IsLowLine(characters[0]) ? characters[0].Left + grid.Pitch / 2 : characters[0].Center),
            last = first - 1;
        var draft = new OcrDraft(row, true, column) { FirstCell = first };
        for (int i = 0; i < characters.Count; i++)
        {
            OcrCharacter c = characters[i];
            int cell = grid.CellOf(c.Center);
            bool sameCell = i > 0 && cell <= last;
            // A shape read twice gives two characters that lie over each other, or share its cell.
            if (i > 0 && !c.StartsWord && IsSameShape(characters[i - 1], c, sameCell, grid))
            {
                draft.KeepBetter(c, sameCell);
                continue;
            }

            int width = IsLowLine(c) ? Math.Max(1, (int)Math.Round((c.Right - c.Left) / grid.Pitch)) : 1;
            if (width > 1)
                cell = grid.CellOf(c.Left + grid.Pitch / 2);

            // The ink of a comma lies at the side of its cell: what is not far off within a word is next.
            if (
                i > 0
                && !c.StartsWord
                && cell - last > 1
                && c.Center - characters[i - 1].Center < NextCell * grid.Pitch
            )
                cell = last + 1;
            int blanks = Math.Max(0, cell - Math.Max(last + 1, draft.text.Length + first));
            bool parted = i > 0 && cell - last > 1;
            if (parted && blanks == 0)
                blanks = 1;
            float confidence = (float)c.Confidence;
            if (i > 0 && !c.StartsWord && (sameCell || parted))
            {
                confidence = Math.Min(confidence, parted ? Spread : Squeezed);
                draft.confidences[^1] = Math.Min(draft.confidences[^1], confidence);
            }

            draft.Append(
                width > 1 ? c with { Text = new string(c.Text[0], width) } : c,
                i == 0 ? 0 : blanks,
                confidence
            );
            last = Math.Max(cell + width - 1, last);
        }

        return draft;
    }

    // The lines at the foot of two cells touch: they are read as one, or as two that lie over each other.
    private static List<OcrCharacter> WithWholeLowLines(List<OcrCharacter> characters)
    {
        var whole = new List<OcrCharacter>(characters.Count);
        foreach (OcrCharacter c in characters)
        {
            if (
                whole.Count > 0
                && !c.StartsWord
                && IsLowLine(c)
                && IsLowLine(whole[^1])
                && c.Left < whole[^1].Right + 1
            )
                whole[^1] = whole[^1] with
                {
                    Right = Math.Max(c.Right, whole[^1].Right),
                    Confidence = Math.Min(c.Confidence, whole[^1].Confidence),
                };
            else
                whole.Add(c);
        }

        return whole;
    }

    private static bool IsLowLine(in OcrCharacter c) => c.Text is "_" or "\u2014" or "\u2013";

    public static OcrDraft Free(StraightRow row, double height, int column)
    {
        var draft = new OcrDraft(row, false, column);
        for (int i = 0; i < row.Characters.Count; i++)
        {
            OcrCharacter c = row.Characters[i];
            double gap = i == 0 ? 0 : c.Left - row.Characters[i - 1].Right;
            int blanks =
                i == 0 || !c.StartsWord ? 0
                : gap <= WideGap * height ? 1
                : Math.Max(2, (int)Math.Round(gap / (UsualLetter * height)));
            draft.Append(c, blanks, (float)c.Confidence);
        }

        return draft;
    }

    public void Indent(int blanks)
    {
        text.Insert(0, " ", blanks);
        for (int i = 0; i < blanks; i++)
        {
            confidences.Insert(0, 1);
            starts.Insert(0, (float)Row.Left);
        }
    }

    public void AddUnread(double x)
    {
        int column = starts.FindIndex(s => s > x);
        unread.Add(column < 0 ? text.Length : Math.Max(0, column - 1));
    }

    /// <summary>Puts right what can be nothing else in a program; to be called once the line is whole.</summary>
    public void Normalize() => CodeCharacters.Normalize(text, confidences);

    public PrintedLine Line(int page, int number, double size)
    {
        float least = 1;
        foreach (float confidence in confidences)
            least = Math.Min(least, confidence);
        return new PrintedLine(
            Text,
            page,
            number,
            Math.Round(Row.Left, 2),
            Math.Round(Row.BaseLine, 2),
            IsOnGrid ? "monospaced" : "",
            Math.Round(size, 2),
            IsOnGrid
        )
        {
            Confidence = Math.Min(least, 0.99),
            IsOcr = true,
            CharacterConfidences = [.. confidences],
            CharacterStarts = [.. starts],
            UnreadColumns = [.. unread],
            HasUnreadAbove = InkAbove >= LostLine,
            HasUnreadBelow = InkBelow >= LostLine,
            TextColumn = Column,
            HasAllInk = HasAllInk(),
        };
    }

    // Up to the comment.
    private bool HasAllInk()
    {
        foreach (OcrCharacter c in Row.Characters)
        {
            if (c.Text == ";")
                return true;
            if (!c.HasOwnInk)
                return false;
        }

        return true;
    }

    private void Append(in OcrCharacter c, int blanks, float confidence)
    {
        for (int i = 0; i < blanks; i++)
        {
            text.Append(' ');
            confidences.Add(1);
            starts.Add((float)c.Left);
        }

        foreach (char part in c.Text)
        {
            text.Append(part);
            confidences.Add(confidence);
            starts.Add((float)c.Left);
        }
    }

    // The surer of two readings stays; that there were two unlike ones is a reason to look.
    private void KeepBetter(in OcrCharacter c, bool sameCell)
    {
        bool sameShape = sameCell && c.Text.Length == 1 && IsSameReading(text[^1], c.Text[0]);
        bool better = c.Confidence > confidences[^1] && c.Text.Length == 1;
        if (better)
            text[^1] = c.Text[0];
        // Two names for one shape leave no doubt about the shape.
        confidences[^1] = sameShape ? Math.Max(confidences[^1], (float)c.Confidence) : Squeezed;
    }

    // Two names of one shape: a program has no letter where a digit is meant. D and 0 are both digits.
    private static bool IsSameReading(char a, char b)
    {
        static char Plain(char c) =>
            c switch
            {
                'O' or 'o' => '0',
                'l' or 'I' or 'i' or '|' => '1',
                _ => char.ToLowerInvariant(c),
            };
        return Plain(a) == Plain(b);
    }

    private static bool IsSameShape(in OcrCharacter a, in OcrCharacter b, bool sameCell, in OcrGrid grid)
    {
        if (sameCell && Covers(a, b))
            return true;
        // In the middle of the next cell there is the next character.
        if (!sameCell && Math.Abs(b.Center - grid.MiddleOf(grid.CellOf(b.Center))) < InCell * grid.Pitch)
            return false;
        return b.Center - a.Center < SameShape * grid.Pitch
            && a.Text.Length == 1
            && b.Text.Length == 1
            && GlyphConfusion.Shape(a.Text[0]) == GlyphConfusion.Shape(b.Text[0]);
    }

    private static bool Covers(in OcrCharacter a, in OcrCharacter b)
    {
        double common = Math.Min(a.Right, b.Right) - Math.Max(a.Left, b.Left);
        return common > MostShared * Math.Min(a.Right - a.Left, b.Right - b.Left);
    }
}
