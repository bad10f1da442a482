using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Graphics;
using UglyToad.PdfPig.Graphics.Core;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>
/// The pictures of a page, as far as they say that its text is not what was printed: text that lies hidden below a picture, or on a page that is a picture
/// all over, was read from it by a machine.
/// </summary>
internal sealed class PagePictures
{
    // What is painted with less lets the picture below show.
    private const double Opaque = 0.95;

    // A page that pictures cover up to this part of it is a scan; they may be many strips, or a ground and what is on it.
    private const double Scan = 0.8;
    private const int Cells = 24;

    private readonly List<Picture> areas = [];

    public int Count => areas.Count;

    /// <summary>Adds a picture: the unit square under a transformation (ISO 32000-1, 8.9.5).</summary>
    /// <param name="transformation">Where it goes, in points from the lower left.</param>
    /// <param name="dictionary">What the file reports it, or null.</param>
    /// <param name="state">How it is laid on the page.</param>
    /// <param name="glyphs">How many characters were drawn before.</param>
    public void Add(
        in TransformationMatrix transformation,
        DictionaryToken? dictionary,
        CurrentGraphicsState state,
        int glyphs
    )
    {
        double left = double.MaxValue,
            bottom = double.MaxValue,
            right = double.MinValue,
            top = double.MinValue;
        foreach ((double x, double y) in ((double, double)[])[(0, 0), (0, 1), (1, 0), (1, 1)])
        {
            (double toX, double toY) = transformation.Transform(x, y);
            (left, right) = (Math.Min(left, toX), Math.Max(right, toX));
            (bottom, top) = (Math.Min(bottom, toY), Math.Max(top, toY));
        }

        if (!double.IsFinite(left + bottom + right + top))
            return;
        // What shines through hides nothing.
        bool isOpaque =
            state.AlphaConstantNonStroking > Opaque
            && state.BlendMode == BlendMode.Normal
            && (
                dictionary is null
                || !(
                    dictionary.ContainsKey(NameToken.Smask)
                    || dictionary.ContainsKey(NameToken.Mask)
                    || dictionary.ContainsKey(NameToken.ImageMask)
                )
            );
        areas.Add(new Picture(left, bottom, right, top, glyphs, isOpaque));
    }

    /// <summary>Where they are, in points from the upper left corner of a page of a height.</summary>
    public IEnumerable<DrawnMark> Marks(double height) =>
        areas.Select(a => new DrawnMark(
            DrawnKind.Picture,
            new Area(a.Left, height - a.Top, a.Right, height - a.Bottom)
        ));

    /// <summary>The characters, with those marked that are a machine's reading of a picture.</summary>
    /// <param name="glyphs">The characters in the order in which they are drawn.</param>
    /// <param name="width">The page's width.</param>
    /// <param name="height">Its height.</param>
    public List<Glyph> Marked(List<Glyph> glyphs, double width, double height)
    {
        if (areas.Count == 0)
            return glyphs;
        bool isScan = IsScan(width, height);
        if (!isScan && !areas.Exists(a => a.IsOpaque && a.GlyphsBefore > 0))
            return glyphs;
        var marked = new List<Glyph>(glyphs.Count);
        for (int i = 0; i < glyphs.Count; i++)
        {
            Glyph glyph = glyphs[i];
            bool isBelow = IsBelow(glyph, i, height);
            marked.Add(
                isScan || isBelow ? glyph with { IsInvisible = glyph.IsInvisible || isBelow, IsGuess = true } : glyph
            );
        }

        return marked;
    }

    private bool IsBelow(in Glyph glyph, int number, double height)
    {
        double x = (glyph.X + glyph.EndX) / 2,
            y = height - glyph.Y + 0.3 * glyph.Size;
        foreach (Picture area in areas)
            if (
                area.IsOpaque
                && area.GlyphsBefore > number
                && x > area.Left
                && x < area.Right
                && y > area.Bottom
                && y < area.Top
            )
                return true;
        return false;
    }

    private bool IsScan(double width, double height)
    {
        int covered = 0;
        for (int i = 0; i < Cells; i++)
        {
            for (int j = 0; j < Cells; j++)
            {
                double x = (i + 0.5) / Cells * width,
                    y = (j + 0.5) / Cells * height;
                if (areas.Exists(a => x > a.Left && x < a.Right && y > a.Bottom && y < a.Top))
                    covered++;
            }
        }

        return covered >= Scan * Cells * Cells;
    }

    private readonly record struct Picture(
        double Left,
        double Bottom,
        double Right,
        double Top,
        int GlyphsBefore,
        bool IsOpaque
    );
}
