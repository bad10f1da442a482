using AsmLsp.Core.Repairs;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>What printing, or copying out of print, does to a program.</summary>
[Flags]
public enum DamageKind
{
    None = 0,

    /// <summary>A title above and a page number below on every page.</summary>
    HeadersAndFooters = 1 << 0,

    /// <summary>Lines longer than the page is wide continue in column one of the next line, comments without their ';'.</summary>
    WrappedLines = 1 << 1,

    /// <summary>No blanks in front of lines, one between words: what most viewers give when a page is copied.</summary>
    LostBlanks = 1 << 2,

    /// <summary>Curled quotes everywhere; in comments long dashes and joined letters too.</summary>
    TypographicCharacters = 1 << 3,

    /// <summary>Two columns on a page.</summary>
    TwoColumns = 1 << 4,

    /// <summary>A number in front of each line.</summary>
    LineNumbers = 1 << 5,

    /// <summary>The address and the word in front of each line that makes one.</summary>
    AddressesAndWords = 1 << 6,

    /// <summary>Comments too long for the page are broken inside a word with a hyphen.</summary>
    Hyphenation = 1 << 7,

    /// <summary>Set in a font whose letters are of different widths.</summary>
    ProportionalFont = 1 << 8,

    /// <summary>A new page every 24 lines, in the midst of routines.</summary>
    ShortPages = 1 << 9,

    /// <summary>Blanks that do not break instead of plain ones.</summary>
    NoBreakBlanks = 1 << 10,

    /// <summary>The whole listing is four columns to the right.</summary>
    WholeIndented = 1 << 11,

    /// <summary>Every third operation in column one, every second label one column in.</summary>
    RaggedColumns = 1 << 12,
}
