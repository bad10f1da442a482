using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Filters;
using UglyToad.PdfPig.Geometry;
using UglyToad.PdfPig.Graphics;
using UglyToad.PdfPig.Graphics.Operations;
using UglyToad.PdfPig.Outline.Destinations;
using UglyToad.PdfPig.Parser;
using UglyToad.PdfPig.PdfFonts;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>The characters of one page, in the order in which the file draws them.</summary>
/// <param name="Width">The visible page's width in points.</param>
/// <param name="Height">Its height in points.</param>
/// <param name="Glyphs">The characters.</param>
/// <param name="Pictures">How many pictures the page shows.</param>
/// <param name="Shapes">How many areas it fills: letters that were turned into outlines are some.</param>
/// <param name="Marks">What it draws beside the characters.</param>
internal sealed record PageGlyphs(
    double Width,
    double Height,
    List<Glyph> Glyphs,
    int Pictures,
    int Shapes,
    List<DrawnMark> Marks
);

/// <summary>
/// Makes pages of characters, and of the places of what is drawn beside them. The library's own pages also unpack fonts' outlines and pictures,
/// have no bound, and put a guess where a character's meaning is unknown.
/// </summary>
internal sealed class GlyphPages(
    IPdfTokenScanner scanner,
    IResourceStore resources,
    ILookupFilterProvider filters,
    IPageContentParser parser,
    ParsingOptions options
)
    : BasePageFactory<PageGlyphs>(
        scanner,
        new FontNotes(
            resources,
            scanner,
            ((GuardedLog)options.Logger).Faces,
            new FontLimits(scanner, filters, ((GuardedLog)options.Logger).Guard)
        ),
        filters,
        parser,
        options
    )
{
    protected override PageGlyphs ProcessPage(
        int pageNumber,
        DictionaryToken dictionary,
        NamedDestinations namedDestinations,
        MediaBox mediaBox,
        CropBox cropBox,
        UserSpaceUnit userSpaceUnit,
        PageRotationDegrees rotation,
        TransformationMatrix initialMatrix,
        IReadOnlyList<IGraphicsStateOperation> operations
    )
    {
        // The logger is the one thing of our own that the library hands through to here.
        var log = (GuardedLog)ParsingOptions.Logger;
        ReadingGuard guard = log.Guard;
        guard.StartPage();
        var collector = new GlyphCollector(
            guard,
            log.Faces,
            pageNumber,
            ResourceStore,
            PdfScanner,
            PageContentParser,
            FilterProvider,
            cropBox,
            userSpaceUnit,
            rotation,
            initialMatrix,
            ParsingOptions
        );
        return collector.Process(pageNumber, operations);
    }
}

/// <summary>Runs the drawing operations of a page and keeps the characters.</summary>
internal sealed class GlyphCollector : BaseStreamProcessor<PageGlyphs>
{
    // A drawing that is used within a drawing, and so on: nobody's leaflet nests deeper.
    private const int DeepestForm = 32;

    private readonly ReadingGuard guard;
    private readonly List<Glyph> glyphs = [];
    private readonly FontFaces faces;
    private readonly FontFiles files;
    private readonly double width;
    private readonly double height;
    private readonly PagePictures pictures = new();
    private readonly DrawnPaths paths;
    private int shapes;
    private int forms;

    public GlyphCollector(
        ReadingGuard guard,
        FontFaces faces,
        int pageNumber,
        IResourceStore resources,
        IPdfTokenScanner scanner,
        IPageContentParser parser,
        ILookupFilterProvider filters,
        CropBox cropBox,
        UserSpaceUnit userSpaceUnit,
        PageRotationDegrees rotation,
        TransformationMatrix initialMatrix,
        ParsingOptions options
    )
        : base(
            pageNumber,
            resources,
            scanner,
            parser,
            filters,
            cropBox,
            userSpaceUnit,
            rotation,
            initialMatrix,
            options
        )
    {
        this.guard = guard;
        this.faces = faces;
        files = new FontFiles(scanner, filters);
        bool turned = rotation.SwapsAxis;
        width = (turned ? cropBox.Bounds.Height : cropBox.Bounds.Width) * userSpaceUnit.PointMultiples;
        height = (turned ? cropBox.Bounds.Width : cropBox.Bounds.Height) * userSpaceUnit.PointMultiples;
        paths = new DrawnPaths(height);
    }

    public override PageGlyphs Process(int pageNumberCurrent, IReadOnlyList<IGraphicsStateOperation> operations)
    {
        CloneAllStates();
        ProcessOperations(operations);
        return new PageGlyphs(
            width,
            height,
            pictures.Marked(glyphs, width, height),
            pictures.Count,
            shapes,
            [.. paths.Marks, .. pictures.Marks(height)]
        );
    }

    protected override void ProcessOperations(IReadOnlyList<IGraphicsStateOperation> operations)
    {
        for (int i = 0; i < operations.Count; i++)
        {
            guard.CountOperation();
            operations[i].Run(this);
        }
    }

    protected override void ProcessFormXObject(StreamToken formStream, NameToken xObjectName)
    {
        guard.Check();
        if (forms >= DeepestForm)
            return;
        forms++;
        try
        {
            base.ProcessFormXObject(formStream, xObjectName);
        }
        finally
        {
            forms--;
        }
    }

    public override void RenderGlyph(
        IFont font,
        CurrentGraphicsState currentState,
        double fontSize,
        double pointSize,
        int code,
        string unicode,
        long currentOffset,
        in TransformationMatrix renderingMatrix,
        in TransformationMatrix textMatrix,
        in TransformationMatrix transformationMatrix,
        CharacterBoundingBox characterBoundingBox
    )
    {
        guard.CountLetter();
        (double x, double y) = Place(0, 0, renderingMatrix, textMatrix, transformationMatrix);
        (double endX, double endY) = Place(
            characterBoundingBox.Width,
            0,
            renderingMatrix,
            textMatrix,
            transformationMatrix
        );
        (double upX, double upY) = Place(0, 1, renderingMatrix, textMatrix, transformationMatrix);
        double size = Math.Sqrt((upX - x) * (upX - x) + (upY - y) * (upY - y));
        if (!double.IsFinite(x + y + endX + endY + size))
            return;

        TextRenderingMode mode = currentState.FontState.TextRenderingMode;
        bool outlined = mode is TextRenderingMode.Stroke or TextRenderingMode.StrokeClip;
        bool invisible = mode is TextRenderingMode.Neither or TextRenderingMode.NeitherClip;
        float brightness = Brightness(currentState, outlined);
        FontFace face = faces.Of(font, files);
        glyphs.Add(
            new Glyph(
                Meaning(font, code)
                    ?? (face.MeaningInside(code) is { } inside ? PrintedCharacters.Of(inside) : null)
                    ?? Glyph.Unknown,
                x,
                height - y,
                endX,
                height - endY,
                size,
                face,
                brightness,
                invisible,
                code
            )
            {
                Order = glyphs.Count,
            }
        );
    }

    // What the character means by the file's own word, or null. The text that the library passes on falls back to the bare code.
    private static string? Meaning(IFont font, int code)
    {
        if (!font.TryGetUnicode(code, out string? text) || string.IsNullOrEmpty(text))
            return null;
        // Where the character set of older Windows fonts (WGL4, from memory) keeps the joined letters.
        if (text is "\uF001")
            return "fi";
        if (text is "\uF002")
            return "fl";
        foreach (char c in text)
            if ((char.IsControl(c) && c != '\t') || c is (>= '\uE000' and <= '\uF8FF') or >= '\uFFF9')
                return null; // Private use has a meaning only inside the font.
        return PrintedCharacters.Of(text);
    }

    private static (double X, double Y) Place(
        double x,
        double y,
        in TransformationMatrix rendering,
        in TransformationMatrix text,
        in TransformationMatrix page
    )
    {
        (x, y) = rendering.Transform(x, y);
        (x, y) = text.Transform(x, y);
        return page.Transform(x, y);
    }

    private static float Brightness(CurrentGraphicsState state, bool outlined)
    {
        double alpha = outlined ? state.AlphaConstantStroking : state.AlphaConstantNonStroking;
        double own = 0;
        try
        {
            if ((outlined ? state.CurrentStrokingColor : state.CurrentNonStrokingColor) is { } color)
            {
                (double r, double g, double b) = color.ToRGBValues();
                own = 0.299 * r + 0.587 * g + 0.114 * b; // Luma of ITU-R BT.601.
            }
        }
        catch (Exception e) when (e is not ReadingEndedException)
        {
            // A pattern has no color of its own: as dark as any text.
        }

        return (float)(1 - Math.Clamp(alpha, 0, 1) * (1 - Math.Clamp(own, 0, 1)));
    }

    protected override void RenderXObjectImage(XObjectContentRecord xObjectContentRecord) =>
        pictures.Add(
            xObjectContentRecord.AppliedTransformation,
            xObjectContentRecord.Stream.StreamDictionary,
            GetCurrentState(),
            glyphs.Count
        );

    public override void EndInlineImage(Memory<byte> bytes)
    {
        InlineImageBuilder = null;
        pictures.Add(GetCurrentState().CurrentTransformationMatrix, null, GetCurrentState(), glyphs.Count);
    }

    protected override void RenderInlineImage(InlineImage inlineImage) =>
        pictures.Add(GetCurrentState().CurrentTransformationMatrix, null, GetCurrentState(), glyphs.Count);

    public override void BeginSubpath() { }

    public override PdfPoint? CloseSubpath()
    {
        paths.Close();
        return null;
    }

    public override void ClosePath() => paths.Close();

    public override void MoveTo(double x, double y) => paths.MoveTo(x, y, CurrentTransformationMatrix);

    public override void LineTo(double x, double y) => paths.LineTo(x, y, CurrentTransformationMatrix);

    public override void BezierCurveTo(double x2, double y2, double x3, double y3) =>
        paths.CurveTo([(x2, y2), (x3, y3)], CurrentTransformationMatrix);

    public override void BezierCurveTo(double x1, double y1, double x2, double y2, double x3, double y3) =>
        paths.CurveTo([(x1, y1), (x2, y2), (x3, y3)], CurrentTransformationMatrix);

    public override void Rectangle(double x, double y, double width, double height) =>
        paths.Rectangle(x, y, width, height, CurrentTransformationMatrix);

    public override void StrokePath(bool close)
    {
        if (close)
            paths.Close();
        paths.Stroke(Brightness(GetCurrentState(), outlined: true));
        paths.End();
    }

    public override void FillPath(FillingRule fillingRule, bool close)
    {
        shapes++;
        paths.Fill(Brightness(GetCurrentState(), outlined: false));
        paths.End();
    }

    public override void FillStrokePath(FillingRule fillingRule, bool close)
    {
        shapes++;
        if (close)
            paths.Close();
        paths.Fill(Brightness(GetCurrentState(), outlined: false));
        paths.Stroke(Brightness(GetCurrentState(), outlined: true));
        paths.End();
    }

    public override void EndPath() => paths.End();

    public override void ModifyClippingIntersect(FillingRule clippingRule) { }

    protected override void ClipToRectangle(PdfRectangle rectangle, FillingRule clippingRule) { }

    public override void BeginMarkedContent(
        NameToken name,
        NameToken? propertyDictionaryName,
        DictionaryToken? properties
    ) { }

    public override void EndMarkedContent() { }

    public override void PaintShading(NameToken shading) { }
}
