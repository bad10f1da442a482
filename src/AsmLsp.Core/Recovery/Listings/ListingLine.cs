using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>One line of a listing on its way to the source.</summary>
/// <param name="Text">Its text, as far as it has been worked on.</param>
/// <param name="Printed">The printed line it comes from; null for a blank line that means room on the page.</param>
internal sealed record ListingLine(string Text, PrintedLine? Printed)
{
    /// <summary>Its page, or 0.</summary>
    public int Page => Printed?.Page ?? 0;

    /// <summary>The printed lines that were joined to it.</summary>
    public LineOrigin Rests { get; init; } = LineOrigin.None;

    /// <summary>The printed lines that it comes from.</summary>
    public LineOrigin Origin =>
        Printed is null ? LineOrigin.None : LineOrigin.At(Printed.Page, Printed.Number).With(Rests);

    /// <summary>The printed row that it ends in, where the page had broken it and it was put together; otherwise null.</summary>
    public PrintedLine? LastPiece { get; init; }

    /// <summary>How many characters it had before the page broke it; 0 where it was not broken, or where that is not known.</summary>
    public int Length { get; init; }

    /// <summary>The line number that is printed in front of it, or -1.</summary>
    public int Number { get; init; } = -1;

    /// <summary>The address that is printed in front of it, or -1.</summary>
    public int Address { get; init; } = -1;

    /// <summary>Where no word is printed in front of it.</summary>
    public const int NoWord = -1;

    /// <summary>The word that is printed in front of it, or <see cref="NoWord"/>; one of which not every digit is printed is less.</summary>
    public int Word { get; init; } = NoWord;

    /// <summary>Whether a word is printed in front of it.</summary>
    public bool HasWord => Word != NoWord;

    /// <summary>Whether the numbers in front of it prove that it is a row of its own.</summary>
    public bool IsRow { get; init; }

    /// <summary>Whether the numbers, or the lack of one, prove that it is the rest of the row above.</summary>
    public bool IsRest { get; init; }

    /// <summary>Further addresses and words that are printed for it: those of a macro's call, or of a row of data.</summary>
    public ImmutableArray<(int Address, int Word)> MoreWords { get; init; } = [];

    /// <summary>A doubt to be marked on it, or null.</summary>
    public Doubt? Doubt { get; init; }

    /// <summary>Whether text that is no part of the listing is printed between it and the line above.</summary>
    public bool FollowsText { get; init; }

    /// <summary>Whether it is prose, kept as a comment by wish.</summary>
    public bool IsProse { get; init; }
}

/// <summary>Text of the document that is no part of the listing.</summary>
/// <param name="Printed">The line.</param>
/// <param name="IsHeaderOrFooter">Whether it is page header or footer.</param>
/// <param name="IsInside">Whether it was between lines of the listing.</param>
internal readonly record struct AsideLine(PrintedLine Printed, bool IsHeaderOrFooter, bool IsInside)
{
    /// <summary>Whether it was read from a picture and is right above or below the listing: it may be a line of it, misread.</summary>
    public bool IsNear { get; init; }
}
