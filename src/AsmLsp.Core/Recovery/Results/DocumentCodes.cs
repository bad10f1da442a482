using System.Collections.Immutable;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Suspicions;

namespace AsmLsp.Core.Recovery.Results;

/// <summary>The readable codes of what only a printed document can show; each has its page <c>docs/problems/CODE.md</c>, as the kinds of the catalogue have.</summary>
public static class DocumentCodes
{
    /// <summary>All of them, in the order in which they are declared here.</summary>
    public static ImmutableArray<string> All { get; } =
    [
        NoListing,
        SeveralListings,
        SetAside,
        LeftGutter,
        CopyMarks,
        PrintedWordDiffers,
        PrintedWordRead,
        PrintedWordsAgree,
        WrappedComment,
        UnreadPage,
        ReadingNote,
        OcrText,
        ScatteredConfiguration,
        MissingLines,
        MissingPage,
        PageOrder,
        RepeatedLine,
        ShortCall,
        UnknownChoice,
        BrokenDefinition,
        ShortBlock,
        OddOperand,
        BlanksInText,
        UnknownCharacter,
        LeftOutCode,
        CodeInComment,
        NotAsPrinted,
        PrintedFile,
    ];

    /// <summary>No program was found.</summary>
    public const string NoListing = "no-listing";

    /// <summary>There are several listings, and one was taken; or, as an error, none was, since they are programs for different chips.</summary>
    public const string SeveralListings = "several-listings";

    /// <summary>Text of the document that is no part of the program.</summary>
    public const string SetAside = "set-aside";

    /// <summary>Line numbers, addresses or words in front of the lines.</summary>
    public const string LeftGutter = "left-gutter";

    /// <summary>Marks that a mail, a web page or a terminal put around the lines of a copied text.</summary>
    public const string CopyMarks = "copy-marks";

    /// <summary>The printed word and the one that the line gives differ.</summary>
    public const string PrintedWordDiffers = "printed-word-differs";

    /// <summary>A line that was read as the word printed beside it says.</summary>
    public const string PrintedWordRead = "printed-word-read";

    /// <summary>The printed words that agree with what was built.</summary>
    public const string PrintedWordsAgree = "printed-words-agree";

    /// <summary>The rest of a comment, joined to it.</summary>
    public const string WrappedComment = "wrapped-comment";

    /// <summary>A page whose text is not known.</summary>
    public const string UnreadPage = "unread-page";

    /// <summary>What the reader of the document had to say.</summary>
    public const string ReadingNote = "reading-note";

    /// <summary>Text that was recognized in a picture.</summary>
    public const string OcrText = "ocr-text";

    /// <summary>Settings that are printed apart from the configuration and may belong to it.</summary>
    public const string ScatteredConfiguration = "scattered-configuration";

    /// <summary>Lines, or words, of the listing that are not in the document: its line numbers or addresses jump.</summary>
    public const string MissingLines = "missing-lines";

    /// <summary>A page of the listing that is not in the document: the printed page numbers jump.</summary>
    public const string MissingPage = "missing-page";

    /// <summary>Pages or lines that are in another order than their numbers, or that are there twice.</summary>
    public const string PageOrder = "page-order";

    /// <summary>A line that is twice and does the same again.</summary>
    public const string RepeatedLine = "repeated-line";

    /// <summary>A macro's call with fewer values than others.</summary>
    public const string ShortCall = "short-call";

    /// <summary>A choice between lines by a name that may be misread.</summary>
    public const string UnknownChoice = "unknown-choice";

    /// <summary>A define whose text is broken.</summary>
    public const string BrokenDefinition = "broken-definition";

    /// <summary>A block of variables that a name may be missing in.</summary>
    public const string ShortBlock = "short-block";

    /// <summary>An operand of another kind than its instruction takes.</summary>
    public const string OddOperand = "odd-operand";

    /// <summary>A text in quotes that blanks may be missing in.</summary>
    public const string BlanksInText = "blanks-in-text";

    /// <summary>A character whose meaning the document doesn't say.</summary>
    public const string UnknownCharacter = "unknown-character";

    /// <summary>A printed row that can be a part of the program and is not in the source.</summary>
    public const string LeftOutCode = "left-out-code";

    /// <summary>A part of a comment that can be a part of the program.</summary>
    public const string CodeInComment = "code-in-comment";

    /// <summary>A line that has other characters than its printed row, or another place.</summary>
    public const string NotAsPrinted = "not-as-printed";

    /// <summary>A file that the program includes and that the document prints by itself.</summary>
    public const string PrintedFile = "printed-file";
}
