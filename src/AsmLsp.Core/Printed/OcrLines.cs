using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Printed;

/// <summary>Makes printed lines, with their columns, of what a text recognition read from the pictures of pages.</summary>
public static class OcrLines
{
    // A pitch nearer than this part to the usual one is the usual one.
    private const double SamePitch = 0.06;

    // A sign taller than this part of the row says more about its baseline.
    private const double TallSign = 0.6;

    // Two boxes that share more than this part of the narrower one overlap.
    private const double MostShared = 0.5;

    // Rows whose base lines are nearer than this part of the characters' height are one line.
    private const double SameLine = 0.45;

    // Spots of ink, letters counted twice: a lost line leaves as many, less is dirt.
    private const int LostLine = 3;

    // A wider gap, in heights of characters, parts columns of a table where there is no grid.
    private const double WideGap = 1.3;

    // The mean width of a proportional letter, in heights of characters.
    private const double UsualLetter = 0.6;

    /// <summary>The pages, with their lines from top to bottom.</summary>
    public static ImmutableArray<PrintedPage> Of(ImmutableArray<OcrPage> pages)
    {
        List<LaidPage> laid = [.. pages.Select(static p => new LaidPage(p))];

        // One size for the document: the pages of one listing must not seem to be set in different types.
        double[] pitches =
        [
            .. laid.SelectMany(static l => l.Grids.Values)
                .Where(static g => g.Pitch > 0)
                .Select(static g => g.Pitch)
                .Order(),
        ];
        double usual = pitches.Length == 0 ? 0 : pitches[pitches.Length / 2];
        return [.. laid.Select(l => PageOf(l, usual))];
    }

    /// <summary>
    /// The text columns of a page, or null where it has one: a text recognition that takes a page for one column makes one line of two whose heights
    /// differ, so that each column is better read by itself.
    /// </summary>
    public static ColumnLayout? ColumnsOf(OcrPage page)
    {
        ArgumentNullException.ThrowIfNull(page);
        double slope = SlopeOf(page);
        List<StraightRow> rows = Straighten(page, slope);
        return OcrColumns.LayoutOf(rows, HeightOf(rows.SelectMany(static r => r.Characters)), slope);
    }

    /// <summary>The pages on which there may be several text columns that were read as one, by their numbers.</summary>
    internal static ImmutableArray<int> PerhapsInColumns(ImmutableArray<OcrPage> pages) =>
        [.. pages.Where(static p => new LaidPage(p).MayHaveColumns).Select(static p => p.Number)];

    /// <summary>A page put straight and parted into its text columns, each with its grid.</summary>
    private sealed class LaidPage
    {
        public LaidPage(OcrPage page)
        {
            (Page, Slope) = (page, SlopeOf(page));
            List<StraightRow> rows = Straighten(page, Slope);
            Height = HeightOf(rows.SelectMany(static r => r.Characters));
            Rows = OcrColumns.Of(rows, Height, out bool mayHaveColumns);
            MayHaveColumns = mayHaveColumns;
            foreach (IGrouping<int, ColumnRow> column in Rows.GroupBy(static r => r.Column))
                Grids[column.Key] = OcrGrid.Of([.. column.Select(static r => r.Row).OrderBy(static r => r.BaseLine)]);
        }

        public OcrPage Page { get; }

        public double Slope { get; }

        public double Height { get; }

        public List<ColumnRow> Rows { get; }

        public bool MayHaveColumns { get; }

        public Dictionary<int, OcrGrid> Grids { get; } = [];
    }

    private static double SlopeOf(OcrPage page)
    {
        var slopes = new List<double>();
        foreach (OcrRow row in page.Rows)
            if (row.Characters.Length >= 8)
                slopes.Add(row.Slope);
        slopes.Sort();
        return slopes.Count == 0 ? 0 : slopes[slopes.Count / 2];
    }

    private static double HeightOf(IEnumerable<OcrCharacter> characters)
    {
        double[] heights =
        [
            .. characters
                .Where(static c => c.Text.Length == 1 && char.IsAsciiLetterOrDigit(c.Text[0]))
                .Select(static c => c.Bottom - c.Top)
                .Order(),
        ];
        return heights.Length == 0 ? 6 : Math.Max(1, heights[heights.Length / 2]);
    }

    // Turns the page by its slope, and joins what is on one base line.
    private static List<StraightRow> Straighten(OcrPage page, double slope)
    {
        double height = HeightOf(page.Rows.SelectMany(static r => r.Characters));
        var parts = new List<StraightRow>();
        foreach (OcrRow row in page.Rows)
        {
            if (row.Characters.IsEmpty)
                continue;
            double middle = (row.Characters[0].Left + row.Characters[^1].Right) / 2;
            parts.Add(
                new StraightRow(
                    [.. row.Characters.Select(c => Turned(c, slope))],
                    row.BaseLine + (row.Slope - slope) * middle
                )
            );
        }

        var rows = new List<StraightRow>();
        foreach (StraightRow part in parts.OrderBy(static p => p.BaseLine))
        {
            if (rows.Count > 0 && part.BaseLine - rows[^1].BaseLine < SameLine * height && !Overlap(rows[^1], part))
            {
                List<OcrCharacter> joined = [.. rows[^1].Characters, .. part.Characters];
                joined.Sort(static (a, b) => a.Center.CompareTo(b.Center));
                rows[^1] = new StraightRow(joined, rows[^1].BaseLine);
            }
            else
            {
                rows.Add(part);
            }
        }

        return rows;
    }

    private static OcrCharacter Turned(OcrCharacter c, double slope)
    {
        double x = slope * (c.Top + c.Bottom) / 2,
            y = -slope * c.Center;
        return c with { Left = c.Left + x, Right = c.Right + x, Top = c.Top + y, Bottom = c.Bottom + y };
    }

    private static bool Overlap(StraightRow a, StraightRow b) => a.Left < b.Right - 1 && b.Left < a.Right - 1;

    private static PrintedPage PageOf(LaidPage laid, double usual)
    {
        OcrPage page = laid.Page;
        var drafts = new List<Draft>();
        foreach ((StraightRow row, int column) in laid.Rows)
            drafts.Add(
                laid.Grids[column].Pitch > 0 && row.IsMonospaced
                    ? Draft.OnGrid(row, laid.Grids[column], column)
                    : Draft.Free(row, laid.Height, column)
            );
        foreach (Draft draft in drafts)
            draft.Normalize();
        foreach (IGrouping<int, Draft> column in drafts.GroupBy(static d => d.Column))
        {
            List<Draft> own = [.. column];
            OcrGutter.Normalize([.. own.Select(static d => d.Characters)]);
            PutInColumns(own, laid.Height);
        }

        PlaceInk(page, drafts, laid.Height, laid.Slope);
        ImmutableArray<PrintedLine>.Builder lines = ImmutableArray.CreateBuilder<PrintedLine>();
        foreach (Draft draft in drafts)
        {
            double pitch = laid.Grids[draft.Column].Pitch;
            double size = pitch > 0 && usual > 0 && Math.Abs(pitch / usual - 1) < SamePitch ? usual : pitch;
            lines.Add(
                draft.Line(page.Number, lines.Count + 1, draft.IsOnGrid ? size / 0.6 : 10) with
                {
                    IsInkUnknown = page.IsDirty,
                }
            );
        }

        bool isBlank = drafts.Count > 0 || (!page.IsDirty && page.Unread.Length < LostLine);
        return new PrintedPage(
            page.Number,
            page.Width,
            page.Height,
            lines.ToImmutable(),
            [],
            isBlank ? PrintedPageState.Read : PrintedPageState.Unrecognized
        )
        {
            QuarterTurns = page.QuarterTurns,
            Slope = laid.Slope,
        };
    }

    // Column one is that of the program's leftmost line: a heading may be further left.
    private static void PutInColumns(List<Draft> drafts, double height)
    {
        foreach (bool onGrid in (bool[])[true, false])
        {
            Draft[] own = [.. drafts.Where(d => d.IsOnGrid == onGrid)];
            Draft[] code = [.. own.Where(static d => AssemblyLook.Of(d.Text) is Look.Code or Look.Comment)];
            if (own.Length == 0)
                continue;
            if (onGrid)
            {
                int first = (code.Length > 0 ? code : own).Min(static d => d.FirstCell);
                foreach (Draft draft in own)
                    draft.Indent(Math.Max(0, draft.FirstCell - first));
            }
            else
            {
                double left = (code.Length > 0 ? code : own).Min(static d => d.Row.Left);
                foreach (Draft draft in own)
                    draft.Indent(Math.Max(0, (int)Math.Round((draft.Row.Left - left) / (UsualLetter * height))));
            }
        }
    }

    // Ink that was not read belongs to the line that it is on, or is between two lines.
    private static void PlaceInk(OcrPage page, List<Draft> drafts, double height, double slope)
    {
        if (drafts.Count == 0)
            return;
        foreach (InkSpot spot in page.Unread)
        {
            double x = (spot.Left + spot.Right) / 2,
                y = (spot.Top + spot.Bottom) / 2;
            (x, y) = (x + slope * y, y - slope * x);
            List<Draft> beside = Beside(drafts, x);
            Draft? line = beside.Find(d => y > d.Row.BaseLine - 1.4 * height && y < d.Row.BaseLine + 0.5 * height);
            if (line is not null)
            {
                line.AddUnread(x);
                continue;
            }

            // A tall shape is a letter rather than dirt.
            int weight = spot.Bottom - spot.Top > TallSign * height ? 2 : 1;
            if (beside.Find(d => d.Row.BaseLine > y) is { } below)
                below.InkAbove += weight;
            else
                beside[^1].InkBelow += weight;
        }
    }

    // The lines of the text column that a place belongs to: the one that begins nearest to the left of it.
    private static List<Draft> Beside(List<Draft> drafts, double x)
    {
        if (drafts.TrueForAll(static d => d.Column == 0))
            return drafts;
        int column = drafts[0].Column;
        double best = double.MaxValue;
        foreach (IGrouping<int, Draft> own in drafts.GroupBy(static d => d.Column))
        {
            double left = own.Min(static d => d.Row.Left) - 2;
            if (x >= left && x - left < best)
                (best, column) = (x - left, own.Key);
        }

        return drafts.FindAll(d => d.Column == column);
    }

    /// <summary>A line in the making.</summary>
    private sealed class Draft(StraightRow row, bool isOnGrid, int column)
    {
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

        public static Draft OnGrid(StraightRow row, OcrGrid grid, int column)
        {
            List<OcrCharacter> characters = WithWholeLowLines(row.Characters);
            int first = grid.CellOf(
                    IsLowLine(characters[0]) ? characters[0].Left + grid.Pitch / 2 : characters[0].Center
                ),
                last = first - 1;
            var draft = new Draft(row, true, column) { FirstCell = first };
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

        public static Draft Free(StraightRow row, double height, int column)
        {
            var draft = new Draft(row, false, column);
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
            };
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
}
