using AsmLsp.Core.Shapes;

namespace AsmLsp.Pdf;

/// <summary>The characters of a page parted in those of its lines and those of its figures.</summary>
/// <param name="Lines">The characters of the lines.</param>
/// <param name="Figures">Each figure with the characters in it.</param>
internal readonly record struct PartedPage(List<Glyph> Lines, List<(DrawnFigure Figure, List<Glyph> Glyphs)> Figures);

/// <summary>
/// Takes the words of flow charts, tables and other drawings out of the lines of a page. Frames are drawn around listings, too, around all of one, around
/// each of its rows or around a part of a row: what is in such a frame stays.
/// </summary>
internal sealed class FigureText
{
    // A frame that goes around a larger part of the page is that of the page.
    private const double MostOfPage = 0.6;

    // A listing in a frame has so many rows of code at least, and of ten rows so many.
    private const int LeastCode = 4;
    private const int CodeOfTen = 3;

    // The boxes of a flow chart hold so many rows at most.
    private const int MostInBox = 3;

    // Frames of one listing on several pages begin and end at the same places, in points.
    private const double SameEdge = 2;

    // Cells nearer than this share a border; in a table drawn cell by cell there is a little white between them.
    private const double NearCells = 2.5;

    // Rows of one paragraph lie nearer than so many heights of their type, a word beside a line of the drawing than so many.
    private const double MostPitch = 1.9;
    private const double NearLine = 1.5;
    private const int MostLabel = 12;

    // Statements of one column start so near to each other, in heights of their type.
    private const double SameStart = 0.6;

    // A caption is so near, in heights of its type, has so many rows at most, and is not much wider than what it belongs to.
    private const double NearCaption = 2.5;
    private const int MostCaption = 4;
    private const double MostWider = 1.3;

    private readonly List<PageText> pages;
    private readonly List<(double Left, double Right)> listingEdges = [];

    private FigureText(List<PageText> pages) => this.pages = pages;

    /// <summary>Parts the pages of a document.</summary>
    /// <param name="frames">The pages; null where one has no text.</param>
    /// <param name="guard">Ends the work in time.</param>
    public static List<PartedPage> Of(IReadOnlyList<PageFrame?> frames, ReadingGuard guard)
    {
        var pages = new List<PageText>(frames.Count);
        foreach (PageFrame? frame in frames)
        {
            guard.Check();
            pages.Add(new PageText(frame));
        }

        var text = new FigureText(pages);
        foreach (PageText page in pages)
            text.FindListings(page);
        foreach (PageText page in pages)
        foreach (Drawing drawing in page.Drawings)
            drawing.IsListing |= drawing.Groups.Exists(text.HasEdgesOfListing);
        var result = new List<PartedPage>(frames.Count);
        foreach (PageText page in pages)
        {
            guard.Check();
            result.Add(Part(page));
        }

        return result;
    }

    private void FindListings(PageText page)
    {
        foreach (Drawing drawing in page.Drawings)
        {
            foreach (Group group in drawing.Groups)
            {
                bool isListing = group.Area.Width * group.Area.Height >= MostOfPage * page.Size;
                int code = 0;
                foreach (RowPart row in group.Rows)
                {
                    // The author's comments are drawn in cells of their own.
                    isListing |= (row.Traits & HalfTraits.Comment) != 0;
                    code += (row.Traits & HalfTraits.Statement) != 0 ? 1 : 0;
                }

                // What is written over a picture is the listing's where most of the page's code is.
                if (
                    code >= LeastCode
                    && code * 10 >= CodeOfTen * group.Rows.Count
                    && (drawing.Figure.Cells.Count > 0 || code * 2 > page.Code)
                )
                    isListing = true;
                if (!isListing)
                    continue;
                drawing.IsListing = true;
                listingEdges.Add((group.Area.Left, group.Area.Right));
            }
        }
    }

    private bool HasEdgesOfListing(Group group) =>
        listingEdges.Exists(e =>
            Math.Abs(e.Left - group.Area.Left) < SameEdge && Math.Abs(e.Right - group.Area.Right) < SameEdge
        );

    private static PartedPage Part(PageText page)
    {
        List<Drawing> others = page.Drawings.FindAll(static d => !d.IsListing);
        if (others.Count == 0)
            return new PartedPage(page.Glyphs, []);
        // What is outside of all drawings, row by row.
        List<RowPart> body =
        [
            .. page
                .Rows.Select(r => r.Where(g => !others.Exists(d => d.Figure.Area.Holds(g))))
                .OfType<GlyphRow>()
                .Select(static r => new RowPart(r)),
        ];
        var figures = new List<(DrawnFigure Figure, List<Glyph> Glyphs)>();
        var taken = new HashSet<int>();
        foreach (Drawing drawing in others)
        {
            if (drawing.Rows.Count == 0 || !IsFigure(drawing, body))
                continue;
            List<Glyph> own = [];
            foreach (GlyphRow row in page.Rows)
            foreach (Glyph glyph in row.Glyphs)
                if (drawing.Figure.Area.Holds(glyph) && taken.Add(glyph.Order))
                    own.Add(glyph);
            foreach (Glyph glyph in Labels(drawing, body).Concat(Captions(drawing, body)))
                if (taken.Add(glyph.Order))
                    own.Add(glyph);
            if (own.Exists(static g => !g.IsBlank))
                figures.Add((drawing.Figure, own));
        }

        return figures.Count == 0
            ? new PartedPage(page.Glyphs, [])
            : new PartedPage([.. page.Glyphs.Where(g => !taken.Contains(g.Order))], figures);
    }

    // Whether the words of a drawing are none of the listing.
    private static bool IsFigure(Drawing drawing, List<RowPart> body)
    {
        (string, double) own = TypeOf(drawing.Rows);
        List<RowPart> code = body.FindAll(static r => (r.Traits & HalfTraits.Statement) != 0);
        bool isSameType = code.Count == 0 || TypeOf(code) == own;
        bool isBeside = body.Exists(r =>
            (r.Traits & (HalfTraits.Statement | HalfTraits.HasComment)) != 0
            && r.Row.Y > drawing.Figure.Area.Top
            && r.Row.Y < drawing.Figure.Area.Bottom
        );
        bool hasCode = drawing.Rows.Exists(static r => (r.Traits & HalfTraits.Statement) != 0);
        // Areas under the words of listings are filled for many reasons.
        if (drawing.Figure.Cells.Count + drawing.Figure.Pictures.Count == 0)
            return isBeside && !isSameType && !hasCode;
        if (isSameType && (IsAmong(drawing, body) || !drawing.IsInCells))
            return false;
        return isBeside || !hasCode || !isSameType || drawing.IsChart;
    }

    // A line around a part of the listing: rows of its type are right above or below, or right beside it.
    private static bool IsAmong(Drawing drawing, List<RowPart> body)
    {
        Area area = drawing.Figure.Area;
        double first = drawing.Rows[0].Row.Y,
            last = drawing.Rows[^1].Row.Y;
        foreach (RowPart part in body)
        {
            GlyphRow row = part.Row;
            double reach = MostPitch * row.Size;
            bool isNext =
                (row.Y < first && first - row.Y < reach && row.Y > area.Top - reach)
                || (row.Y > last && row.Y - last < reach && row.Y < area.Bottom + reach);
            if (isNext && row.Glyphs.Exists(g => !g.IsBlank && g.EndX > area.Left && g.X < area.Right))
                return true;
            // The words beside the lines of a chart are its own.
            double beside = drawing.IsChart ? 0 : 0.5 * row.Size;
            if (
                drawing.Rows.Exists(r => Math.Abs(r.Row.Y - row.Y) < 0.35 * row.Size)
                && row.Glyphs.Exists(g =>
                    !g.IsBlank && g.EndX > area.Left - 0.5 * row.Size && g.X < area.Right + beside - 0.5
                )
            )
                return true;
        }

        return false;
    }

    // 'yes' and 'no' beside the lines of a flow chart. A word that starts where statements beside the chart do is one of the listing's.
    private static IEnumerable<Glyph> Labels(Drawing drawing, List<RowPart> body)
    {
        if (!drawing.IsChart)
            yield break;
        Area area = drawing.Figure.Area;
        List<double> starts =
        [
            .. body.Where(static r => (r.Traits & HalfTraits.Statement) != 0)
                .Select(static r => r.Row.Glyphs.First(static g => !g.IsBlank).X),
        ];
        foreach (RowPart part in body)
        {
            if (part.Row.Y < area.Top || part.Row.Y > area.Bottom)
                continue;
            foreach (List<Glyph> word in part.Pieces())
            {
                double gap = word[0].X - area.Right,
                    room = SameStart * word[0].Size;
                if (word.Count > MostLabel || gap <= -0.5 || gap >= NearLine * word[0].Size)
                    continue;
                if (!starts.Exists(x => Math.Abs(x - word[0].X) < room))
                    foreach (Glyph glyph in word)
                        yield return glyph;
            }
        }
    }

    // The words right above or below, in a type that is not the listing's, or with the first words of a caption.
    private static List<Glyph> Captions(Drawing drawing, List<RowPart> body)
    {
        var found = new List<Glyph>();
        List<RowPart> code = body.FindAll(static r => (r.Traits & HalfTraits.Statement) != 0);
        if (code.Count == 0 || drawing.Figure.Cells.Count + drawing.Figure.Pictures.Count == 0)
            return found;
        (string, double) listing = TypeOf(code);
        Area area = drawing.Figure.Area;
        foreach (int step in (ReadOnlySpan<int>)[-1, 1])
        {
            double edge = step < 0 ? area.Top : area.Bottom;
            bool isFirst = true;
            for (
                int i = step < 0 ? body.Count - 1 : 0, rows = 0;
                i >= 0 && i < body.Count && rows < MostCaption;
                i += step
            )
            {
                GlyphRow row = body[i].Row;
                double distance = step * (row.Y - edge);
                if (distance <= 0)
                    continue;
                if (distance > (isFirst ? NearCaption : MostPitch) * row.Size)
                    break;
                List<Glyph>? piece = body[i]
                    .Pieces()
                    .FirstOrDefault(p =>
                        p[0].X > area.Left - p[0].Size
                        && p[^1].EndX < Math.Max(area.Right, area.Left + MostWider * area.Width)
                        && (
                            (Family(p[0].Font.Name), Math.Round(p[0].Size * 2)) != listing
                            || (isFirst && CaptionWords.Begin(HalfLine.TextOf(p)))
                        )
                    );
                if (piece is null)
                    continue;
                found.AddRange(piece);
                (edge, isFirst, rows) = (row.Y, false, rows + 1);
            }
        }

        return found;
    }

    private static (string, double) TypeOf(List<RowPart> rows) =>
        rows.SelectMany(static r => r.Row.Glyphs.Where(static g => !g.IsBlank))
            .GroupBy(static g => (Family(g.Font.Name), Math.Round(g.Size * 2)))
            .MaxBy(static g => g.Count())!
            .Key;

    // Bold and slanted cuts are the same type here.
    private static string Family(string name)
    {
        int cut = name.AsSpan().IndexOfAny('-', ',');
        return cut > 0 ? name[..cut] : name;
    }

    /// <summary>A row, or the part of one that is in a frame, with what it reads as.</summary>
    private sealed class RowPart(GlyphRow row)
    {
        public GlyphRow Row { get; } = row;

        public HalfTraits Traits { get; } = HalfLine.Of(row);

        /// <summary>The characters without wide white between them.</summary>
        public IEnumerable<List<Glyph>> Pieces()
        {
            var piece = new List<Glyph>();
            foreach (Glyph glyph in Row.Glyphs)
            {
                if (glyph.IsBlank)
                    continue;
                if (piece.Count > 0 && glyph.X - piece[^1].EndX > glyph.Size)
                {
                    yield return piece;
                    piece = [];
                }

                piece.Add(glyph);
            }

            if (piece.Count > 0)
                yield return piece;
        }
    }

    /// <summary>Cells that share borders, with the rows in them.</summary>
    private sealed record Group(Area Area, List<RowPart> Rows);

    /// <summary>A drawing with the text in it.</summary>
    private sealed class Drawing
    {
        public Drawing(DrawnFigure figure, List<GlyphRow> rows)
        {
            Figure = figure;
            Rows = In(figure.Area, rows);
            if (Rows.Count == 0)
                return;
            Groups =
            [
                .. Together(figure.Cells.Count > 0 ? figure.Cells : [figure.Area])
                    .Select(a => new Group(a, In(a, rows))),
            ];
        }

        public DrawnFigure Figure { get; }

        public List<RowPart> Rows { get; }

        public List<Group> Groups { get; } = [];

        /// <summary>Whether it goes around a listing, or a part of one.</summary>
        public bool IsListing { get; set; }

        /// <summary>Whether its words are in its cells, and not around them as a listing is around a word with a line around it.</summary>
        public bool IsInCells
        {
            get
            {
                int inside = 0,
                    all = 0;
                foreach (RowPart row in Rows)
                foreach (Glyph glyph in row.Row.Glyphs)
                {
                    if (glyph.IsBlank)
                        continue;
                    all++;
                    inside += Groups.Exists(g => g.Area.Holds(glyph)) ? 1 : 0;
                }

                return inside * 10 >= 7 * all;
            }
        }

        /// <summary>Whether it is boxes of few words each, apart from each other, with lines between them.</summary>
        public bool IsChart => Groups.Count > 1 && Groups.TrueForAll(static g => g.Rows.Count <= MostInBox);

        private static List<RowPart> In(Area area, List<GlyphRow> rows) =>
            [
                .. rows.Where(r => r.Y > area.Top - r.Size && r.Y < area.Bottom + r.Size)
                    .Select(r => r.Where(g => area.Holds(g)))
                    .OfType<GlyphRow>()
                    .Select(static r => new RowPart(r)),
            ];

        private static List<Area> Together(List<Area> cells)
        {
            var groups = new List<Area>();
            foreach (Area cell in cells.OrderBy(static c => c.Top).ThenBy(static c => c.Left))
            {
                Area all = cell;
                int near;
                while ((near = groups.FindIndex(g => g.Touches(all, NearCells))) >= 0)
                {
                    all = all.With(groups[near]);
                    groups.RemoveAt(near);
                }

                groups.Add(all);
            }

            return groups;
        }
    }

    /// <summary>A page with its rows and its drawings.</summary>
    private sealed class PageText
    {
        public PageText(PageFrame? frame)
        {
            if (frame is null)
                return;
            Glyphs = frame.Upright;
            Size = frame.Width * frame.Height;
            // Text that a machine has read from a picture lies on the picture.
            if (Glyphs.Count == 0 || frame.Marks.Count == 0 || Glyphs.Exists(static g => g.IsGuess))
                return;
            List<DrawnFigure> figures = DrawnFigure.Of(frame.Marks, frame.Width, frame.Height);
            if (figures.Count == 0)
                return;
            Rows = GlyphRow.Of(Glyphs);
            Code = Rows.Count(static r => (HalfLine.Of(r) & HalfTraits.Statement) != 0);
            // On a page without code nothing can be taken for it.
            if (Code == 0)
                return;
            Drawings = [.. figures.Select(f => new Drawing(f, Rows)).Where(static d => d.Rows.Count > 0)];
        }

        public List<Glyph> Glyphs { get; } = [];

        public List<GlyphRow> Rows { get; } = [];

        public List<Drawing> Drawings { get; } = [];

        /// <summary>How many of its rows are statements.</summary>
        public int Code { get; }

        /// <summary>Its area in square points.</summary>
        public double Size { get; }
    }
}
