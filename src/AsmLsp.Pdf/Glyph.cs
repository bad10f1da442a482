namespace AsmLsp.Pdf;

/// <summary>One character as it is on the page. Lengths in points, x from the left edge, y from the upper edge downwards.</summary>
/// <param name="Text">The character, or the several that one joined shape means; U+FFFD where the file does not say.</param>
/// <param name="X">Where it starts on the baseline.</param>
/// <param name="Y">Its baseline.</param>
/// <param name="EndX">Where the next character would start.</param>
/// <param name="EndY">The baseline there: another than <paramref name="Y"/> in turned text.</param>
/// <param name="Size">The height of the font.</param>
/// <param name="Font">The font.</param>
/// <param name="Brightness">0 black to 1 white.</param>
/// <param name="IsInvisible">Nobody can see it: neither filled nor outlined, or below a picture.</param>
/// <param name="Code">Its number in the font.</param>
internal readonly record struct Glyph(
    string Text,
    double X,
    double Y,
    double EndX,
    double EndY,
    double Size,
    FontFace Font,
    float Brightness,
    bool IsInvisible,
    int Code
)
{
    public const string Unknown = "\uFFFD";

    /// <summary>Whether a machine has read it from a picture of the page that lies there, too.</summary>
    public bool IsGuess { get; init; }

    /// <summary>Its place in the order in which the file draws the page.</summary>
    public int Order { get; init; }

    /// <summary>The piece of text that it was drawn with, without a gap and in one go; see <see cref="DrawnRuns"/>.</summary>
    public int Run { get; init; }

    public bool IsBlank => Text is " " or "\t";

    public double Width => EndX - X;
}
