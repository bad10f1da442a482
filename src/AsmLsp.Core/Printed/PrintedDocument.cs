using System.Collections.Immutable;

namespace AsmLsp.Core.Printed;

/// <summary>
/// A document as it lies on paper: its pages, and on them the lines of text with their places. All lengths are in
/// points (1/72 inch).
/// </summary>
/// <param name="Pages">The pages in order; pages without text are among them, so that nothing is missing unseen.</param>
/// <param name="Notes">What a person should know about how the whole document was read; mostly empty.</param>
public sealed record PrintedDocument(ImmutableArray<PrintedPage> Pages, ImmutableArray<string> Notes)
{
    /// <summary>A document that was read without anything to say about it.</summary>
    public PrintedDocument(ImmutableArray<PrintedPage> pages)
        : this(pages, []) { }
}

/// <summary>How far the text of a page is known.</summary>
public enum PrintedPageState
{
    /// <summary>Its text was read; a blank page has none.</summary>
    Read,

    /// <summary>It shows pictures and no text: a scan, for instance.</summary>
    PictureOnly,

    /// <summary>It is a picture, and a text recognition found nothing to read in it, or could not read it; a blank page has no ink.</summary>
    Unrecognized,

    /// <summary>It is damaged, and none of its text is known.</summary>
    Unreadable,

    /// <summary>Its letters can be seen, but the document does not say which they are; none of its text is known.</summary>
    Illegible,
}

/// <summary>One page.</summary>
/// <param name="Number">Its place in the document, from 1; not the number that may be printed on it.</param>
/// <param name="Width">Its width in points.</param>
/// <param name="Height">Its height in points.</param>
/// <param name="Lines">Its lines in reading order: text columns one after the other, each from top to bottom.</param>
/// <param name="SetAside">Text that is on the page but not in its flow: turned text, watermarks, text beyond the paper's edge, words of drawings.</param>
/// <param name="State">How far its text is known.</param>
public sealed record PrintedPage(
    int Number,
    double Width,
    double Height,
    ImmutableArray<PrintedLine> Lines,
    ImmutableArray<PrintedLine> SetAside,
    PrintedPageState State = PrintedPageState.Read
)
{
    /// <summary>Whether its text cannot be seen, and what can be seen is a picture: somebody's text recognition has put it there.</summary>
    public bool HasHiddenText { get; init; }

    /// <summary>The drawings whose words were set aside.</summary>
    public ImmutableArray<PrintedFigure> Figures { get; init; } = [];

    /// <summary>By how many quarters to the right the sheet has to be turned so that its lines run as they are given here; 0 to 3.</summary>
    public int QuarterTurns { get; init; }

    /// <summary>
    /// How far the lines of the turned sheet fall per point to the right, where it lay askew when it was scanned: the lines are given as they would be on
    /// the straight sheet. What is given at X and Y is seen at X - Slope * Y and Y + Slope * X.
    /// </summary>
    public double Slope { get; init; }
}

/// <summary>
/// A drawing that is no part of the listing, though words are in it: a flow chart, a table of pins, a note in a box, a picture. In points from the
/// upper left corner of the page.
/// </summary>
/// <param name="Left">Its left edge.</param>
/// <param name="Top">Its upper edge.</param>
/// <param name="Right">Its right edge.</param>
/// <param name="Bottom">Its lower edge.</param>
public readonly record struct PrintedFigure(double Left, double Top, double Right, double Bottom);

/// <summary>One printed line of one text column.</summary>
/// <param name="Text">
/// Its characters as printed, without blanks at the end. Blanks inside and in front mean the room left on paper: in
/// monospaced text each character keeps its column, counted from the left edge of the text. A character whose meaning the
/// document doesn't say is U+FFFD.
/// </param>
/// <param name="Page">The number of its page, from 1.</param>
/// <param name="Number">Its place among the lines of the page, from 1; lines set aside are counted by themselves.</param>
/// <param name="X">Where its first visible character begins, in points from the left edge of the page.</param>
/// <param name="Y">Where its base line lies, in points from the top edge of the page.</param>
/// <param name="FontFamily">The name of the font that most of it is set in, as the document names it (<c>Courier-Bold</c>), without a subset's prefix; may be empty.</param>
/// <param name="FontSize">The size of that font in points.</param>
/// <param name="IsMonospaced">Whether that font gives every character the same width.</param>
public sealed record PrintedLine(
    string Text,
    int Page,
    int Number,
    double X,
    double Y,
    string FontFamily,
    double FontSize,
    bool IsMonospaced
)
{
    /// <summary>
    /// How far the characters can be trusted, 0 to 1. 1: each is reported by the document and is in its column; below 1 where some are
    /// unknown, lie over each other or between two columns, or where a machine has read them from a picture.
    /// </summary>
    public double Confidence { get; init; } = 1;

    /// <summary>The names of all fonts on the line, in order of appearance, without a subset's prefix.</summary>
    public ImmutableArray<string> FontNames { get; init; } = [];

    /// <summary>Where each character of <see cref="Text"/> starts, in points from the left edge of the page; empty where it is not known.</summary>
    public ImmutableArray<float> CharacterStarts { get; init; } = [];

    /// <summary>Whether a machine has read the line from a picture, now or when the document was made.</summary>
    public bool IsOcr { get; init; }

    /// <summary>Whether the line is of a pasted text that OCR made: of its picture nothing is known.</summary>
    public bool IsPasted { get; init; }

    /// <summary>The characters as OCR read them, where <see cref="Text"/> has some of them corrected; null elsewhere.</summary>
    public string? AsRead { get; init; }

    /// <summary>What a person has to answer about a correction of what OCR read; null where none is in question.</summary>
    public string? Question { get; init; }

    /// <summary>
    /// How far each character of <see cref="Text"/> can be trusted, 0 to 1, where a picture was read now; blanks count 1. Empty where nobody
    /// knows, as in the text that somebody's scanner has put below the picture.
    /// </summary>
    public ImmutableArray<float> CharacterConfidences { get; init; } = [];

    /// <summary>Whether each piece of ink of its code was read as a character of its own: nothing between them was passed over.</summary>
    public bool HasAllInk { get; init; }

    /// <summary>The columns (from 0, ascending) of <see cref="Text"/> at which something is printed that was not read.</summary>
    public ImmutableArray<int> UnreadColumns { get; init; } = [];

    /// <summary>Whether something is printed between this line and the one above it that was not read: a line may be missing.</summary>
    public bool HasUnreadAbove { get; init; }

    /// <summary>Whether it is the last line read of its page, and something is printed below it that was not read.</summary>
    public bool HasUnreadBelow { get; init; }

    /// <summary>Whether the page is too dirty to say what of it was not read.</summary>
    public bool IsInkUnknown { get; init; }

    /// <summary>Whether the room inside a text in quotes does not say how many blanks it means.</summary>
    public bool HasUncertainBlanks { get; init; }

    /// <summary>The columns (from 0) of <see cref="Text"/> at which the second piece of a word begins that was printed in two, as in a narrow cell of a table.</summary>
    public ImmutableArray<int> Seams { get; init; } = [];

    /// <summary>The text column of the page that the line belongs to, from 0 in reading order; 0 on a page of one column.</summary>
    public int TextColumn { get; init; }

    /// <summary>Where its last visible character ends, in points from the left edge of the page; 0 where it is not known.</summary>
    public double EndX { get; init; }

    /// <summary>Where column one of <see cref="Text"/> is, in points from the left edge of the page; 0 where it is not known.</summary>
    public double ColumnStart { get; init; }

    /// <summary>
    /// Where the longest line of its text column ends, of all lines in its type on all pages that have the column at this place: the width at which this
    /// print wraps its lines, if it does. In points from the left edge of the page; 0 where it is not known.
    /// </summary>
    public double ColumnEnd { get; init; }

    /// <summary>The step from one character to the next in points; in proportional type the mean width of a letter; 0 where it is not known.</summary>
    public double CharacterWidth { get; init; }

    /// <summary>
    /// Whether the document draws a blank after its last character. Programs that wrap a text at a width leave the blank at which they broke it; the end of
    /// an author's line has none.
    /// </summary>
    public bool EndsInBlank { get; init; }

    /// <summary>
    /// The place of its first character in the order in which the document draws the page, and that of its last one; (0, -1) where the order is
    /// not known or is that of a machine that has read the page.
    /// </summary>
    public (int First, int Last) Drawn { get; init; } = (0, -1);

    /// <summary>The number, from 1, of the drawing in <see cref="PrintedPage.Figures"/> that the line is a part of; 0 where it is in none.</summary>
    public int Figure { get; init; }

    /// <summary>Whether it was too long for its text column and is printed over the white beside it.</summary>
    public bool RunsOver { get; init; }

    /// <summary>Whether the page may have to be read with another number of text columns here: then its lines are in another order.</summary>
    public bool HasUncertainColumns { get; init; }

    /// <summary>Whether a word would still fit into the line with a blank in front of it; false where the width of the column is not known.</summary>
    /// <param name="word">The word.</param>
    public bool HasRoomFor(ReadOnlySpan<char> word) =>
        ColumnEnd > 0 && EndX + (word.Length + 1) * CharacterWidth <= ColumnEnd + 0.1 * CharacterWidth;
}
