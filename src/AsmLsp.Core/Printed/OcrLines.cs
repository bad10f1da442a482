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

    // Rows whose base lines are nearer than this part of the characters' height are one line.
    private const double SameLine = 0.45;

    // Spots of ink, letters counted twice: a lost line leaves as many, less is dirt.
    private const int LostLine = 3;

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
        var drafts = new List<OcrDraft>();
        foreach ((StraightRow row, int column) in laid.Rows)
            drafts.Add(
                laid.Grids[column].Pitch > 0 && row.IsMonospaced
                    ? OcrDraft.OnGrid(row, laid.Grids[column], column)
                    : OcrDraft.Free(row, laid.Height, column)
            );
        foreach (OcrDraft draft in drafts)
            draft.Normalize();
        foreach (IGrouping<int, OcrDraft> column in drafts.GroupBy(static d => d.Column))
        {
            List<OcrDraft> own = [.. column];
            OcrGutter.Normalize([.. own.Select(static d => d.Characters)]);
            PutInColumns(own, laid.Height);
        }

        PlaceInk(page, drafts, laid.Height, laid.Slope);
        ImmutableArray<PrintedLine>.Builder lines = ImmutableArray.CreateBuilder<PrintedLine>();
        foreach (OcrDraft draft in drafts)
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
    private static void PutInColumns(List<OcrDraft> drafts, double height)
    {
        foreach (bool onGrid in (bool[])[true, false])
        {
            OcrDraft[] own = [.. drafts.Where(d => d.IsOnGrid == onGrid)];
            OcrDraft[] code = [.. own.Where(static d => AssemblyLook.Of(d.Text) is Look.Code or Look.Comment)];
            if (own.Length == 0)
                continue;
            if (onGrid)
            {
                int first = (code.Length > 0 ? code : own).Min(static d => d.FirstCell);
                foreach (OcrDraft draft in own)
                    draft.Indent(Math.Max(0, draft.FirstCell - first));
            }
            else
            {
                double left = (code.Length > 0 ? code : own).Min(static d => d.Row.Left);
                foreach (OcrDraft draft in own)
                    draft.Indent(Math.Max(0, (int)Math.Round((draft.Row.Left - left) / (UsualLetter * height))));
            }
        }
    }

    // Ink that was not read belongs to the line that it is on, or is between two lines.
    private static void PlaceInk(OcrPage page, List<OcrDraft> drafts, double height, double slope)
    {
        if (drafts.Count == 0)
            return;
        foreach (InkSpot spot in page.Unread)
        {
            double x = (spot.Left + spot.Right) / 2,
                y = (spot.Top + spot.Bottom) / 2;
            (x, y) = (x + slope * y, y - slope * x);
            List<OcrDraft> beside = Beside(drafts, x);
            OcrDraft? line = beside.Find(d => y > d.Row.BaseLine - 1.4 * height && y < d.Row.BaseLine + 0.5 * height);
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
    private static List<OcrDraft> Beside(List<OcrDraft> drafts, double x)
    {
        if (drafts.TrueForAll(static d => d.Column == 0))
            return drafts;
        int column = drafts[0].Column;
        double best = double.MaxValue;
        foreach (IGrouping<int, OcrDraft> own in drafts.GroupBy(static d => d.Column))
        {
            double left = own.Min(static d => d.Row.Left) - 2;
            if (x >= left && x - left < best)
                (best, column) = (x - left, own.Key);
        }

        return drafts.FindAll(d => d.Column == column);
    }
}
