namespace AsmLsp.Core.Problems;

/// <content>Columns and the shape of a line.</content>
public static partial class Catalogue
{
    /// <summary>An operation starts in column 1.</summary>
    public static readonly ProblemKind OperationNotIndented = Warning(
        "operation-not-indented",
        "{0} is {1}, so it cannot start in column 1, which is for labels. Indent it."
    );

    /// <summary>A label is elsewhere than in column 1.</summary>
    public static readonly ProblemKind LabelIndented = Warning(
        "label-indented",
        "{0} is used as a label, so it belongs in column 1. Move it to the start of the line."
    );

    /// <summary>A label carries the name of an instruction.</summary>
    public static readonly ProblemKind LabelNamedLikeOperation = Warning(
        "label-named-like-operation",
        "{0} is in column 1 before another operation, so it is taken as a label. If it should be an instruction, give each its own line."
    );

    /// <summary>Text comes after the operands and makes no word.</summary>
    public static readonly ProblemKind TextAfterOperands = Warning(
        "text-after-operands",
        "'{0}' comes after the end of this operation and makes no word. Is it a comment without its ';'? Or a second instruction that needs a line of its own?"
    );

    /// <summary>A text or character is not closed.</summary>
    public static readonly ProblemKind UnclosedQuote = Warning(
        "unclosed-quote",
        "The quote that opens {0} is never closed on this line."
    );

    /// <summary>Letters follow where an operation is expected.</summary>
    public static readonly ProblemKind NotAnOperation = Error(
        "not-an-operation",
        "After the label {0} an operation is expected, but '{1}' is none."
    );
}
