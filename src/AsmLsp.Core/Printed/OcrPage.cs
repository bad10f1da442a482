using System.Collections.Immutable;

namespace AsmLsp.Core.Printed;

/// <summary>What a text recognition read from the picture of a page. All lengths are in points (1/72 inch), y from the upper edge downwards.</summary>
/// <param name="Number">The page's place in the document, from 1.</param>
/// <param name="Width">Its width.</param>
/// <param name="Height">Its height.</param>
/// <param name="Rows">What it took for lines; one printed line may be in several.</param>
/// <param name="Unread">Spots of ink as large as a comma that it made nothing of.</param>
public sealed record OcrPage(
    int Number,
    double Width,
    double Height,
    ImmutableArray<OcrRow> Rows,
    ImmutableArray<InkSpot> Unread
)
{
    /// <summary>Whether the page is too dirty to distinguish marks from dirt: then nothing is known about what was not read.</summary>
    public bool IsDirty { get; init; }

    /// <summary>By how many quarters to the right the picture was turned before it was read; 0 to 3.</summary>
    public int QuarterTurns { get; init; }
}

/// <summary>A row of characters on one base line.</summary>
/// <param name="Characters">From left to right.</param>
/// <param name="BaseLine">Where the base line crosses the left edge of the page.</param>
/// <param name="Slope">How far the base line falls per point to the right; 0 in a straight picture.</param>
public sealed record OcrRow(ImmutableArray<OcrCharacter> Characters, double BaseLine, double Slope);

/// <summary>A character with its place.</summary>
/// <param name="Text">What it was taken for.</param>
/// <param name="StartsWord">Whether a blank, or the beginning of the line, was seen in front of it.</param>
/// <param name="Left">The left edge of its ink.</param>
/// <param name="Top">The upper edge.</param>
/// <param name="Right">The right edge.</param>
/// <param name="Bottom">The lower edge.</param>
/// <param name="Confidence">How sure the recognition is of it, 0 to 1. It is often sure of a wrong one.</param>
public readonly record struct OcrCharacter(
    string Text,
    bool StartsWord,
    double Left,
    double Top,
    double Right,
    double Bottom,
    double Confidence
)
{
    /// <summary>The confidence of a character whose ink looks like the others of its kind on the page, and like no other kind. No text recognition is as sure.</summary>
    public const double Proved = 1;

    /// <summary>Whether there is ink for this character and no more: nothing was passed over beside it.</summary>
    public bool HasOwnInk { get; init; }

    /// <summary>The middle between its edges.</summary>
    public double Center => (Left + Right) / 2;
}

/// <summary>A spot of ink.</summary>
/// <param name="Left">The left edge.</param>
/// <param name="Top">The upper edge.</param>
/// <param name="Right">The right edge.</param>
/// <param name="Bottom">The lower edge.</param>
public readonly record struct InkSpot(double Left, double Top, double Right, double Bottom);
