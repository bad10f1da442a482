using AsmLsp.Core.Repairs;

namespace AsmLsp.Core.Problems;

/// <content>What printing, copying and scanning do to a program's text.</content>
public static partial class Catalogue
{
    /// <summary>A character of typesetting in the program.</summary>
    public static readonly ProblemKind TypographicCharacter = Warning(
        "typographic-character",
        "{0} is a character of typesetting, not of a program. Write {1}."
    );

    /// <summary>A character that another encoding made of the author's.</summary>
    public static readonly ProblemKind GarbledCharacter = Warning(
        "garbled-character",
        "{0} should be {1}: the text was read with a wrong encoding."
    );

    /// <summary>A page's header, footer or number.</summary>
    public static readonly ProblemKind HeaderOrFooter = Warning(
        "header-or-footer",
        "'{0}' looks like a page's header, footer or number, not like a part of the program. Put a ';' before it."
    );

    /// <summary>A line of prose.</summary>
    public static readonly ProblemKind ProseInProgram = Warning(
        "prose-in-program",
        "'{0}' reads like a sentence, not like an instruction. If it is a remark, put a ';' before it."
    );

    /// <summary>The rest of a comment that was too long for its printed line.</summary>
    public static readonly ProblemKind CommentWithoutMark = Warning(
        "comment-without-mark",
        "'{0}' continues the comment above, but has no ';' of its own. Put one before it."
    );

    /// <summary>The rest of a comment, or an instruction: both can be meant.</summary>
    public static readonly ProblemKind CommentOrInstruction = Warning(
        "comment-or-instruction",
        "'{0}' may be an instruction, or the rest of the comment above. Put a ';' before it if it is the comment's."
    );

    /// <summary>A line that continues in the next one.</summary>
    public static readonly ProblemKind ContinuedLine = Warning(
        "continued-line",
        "This line continues in line {0}. An instruction must be on one line: join the two."
    );

    /// <summary>A letter where a digit is meant.</summary>
    public static readonly ProblemKind LetterForDigit = Warning(
        "letter-for-digit",
        "{0} has a letter where a digit belongs. Is {1} meant?"
    );

    /// <summary>A word that is cut by a blank.</summary>
    public static readonly ProblemKind SplitWord = Warning(
        "split-word",
        "'{0}' looks like one word with a blank inside. Is {1} meant?"
    );

    /// <summary>A label that nobody uses and that is an operation but for one slip.</summary>
    public static readonly ProblemKind LabelOrOperation = Warning(
        "label-or-operation",
        "No line uses the label {0}, and it looks like '{1}'. Write that if the instruction is meant: a label makes no word."
    );

    /// <summary>A second operation on a line.</summary>
    public static readonly ProblemKind TwoLinesInOne = Error(
        "two-lines-in-one",
        "Two instructions on one line: '{0}' is ignored. Put it on a line of its own."
    );

    /// <summary>The program ends, and instructions follow.</summary>
    public static readonly ProblemKind EndInsideProgram = Warning(
        "end-inside-program",
        "The program ends at this 'end', but instructions follow from line {0} on, and they are not read. Put a ';' before it if it is part of a remark."
    );

    /// <summary>All lines are indented, labels too.</summary>
    public static readonly ProblemKind WholeTextIndented = Warning(
        "whole-text-indented",
        "Every line is indented, labels too, so that column 1 is empty. Move the whole text {0} to the left."
    );

    /// <summary>A text in quotes of a program that lost its runs of blanks.</summary>
    public static readonly ProblemKind BlanksLost = Warning(
        "blanks-lost",
        "Runs of blanks were lost from this program, as browsers do. If the page has several blanks side by side between these quotes, put them in."
    );

    /// <summary>A doubt that somebody still has to resolve.</summary>
    public static readonly ProblemKind OpenDoubt = Warning(
        "open-doubt",
        "Not checked yet: {0} {1}, then remove the mark."
    );
}
