using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// A line that stands twice in a row and does the same again: <c>movlw 5</c> twice, or any setting of a bit with the very same
/// comment. Page breaks and copies repeat lines; shifts, counts, calls and tables are repeated on purpose.
/// </summary>
internal static class RepeatedLine
{
    private static readonly string[] SayNothingNew = ["movlw", "movwf", "clrf", "clrw", "return", "retfie"];
    private static readonly string[] WithSameComment =
    [
        "bsf",
        "bcf",
        "andlw",
        "iorlw",
        "goto",
        "movf",
        "btfss",
        "btfsc",
    ];

    public static void Look(SuspicionSheet sheet)
    {
        for (int i = 0; i + 1 < sheet.LineCount; i++)
        {
            LineSyntax first = sheet.Syntax(i);
            if (first.OperationKind != OperationKind.Instruction || first.OperationToken < 0)
                continue;
            LineSyntax second = sheet.Syntax(i + 1);
            if (
                second.OperationKind != OperationKind.Instruction
                || second.LabelToken >= 0
                || !IsSame(first.Operation!, second.Operation!)
                || !IsSame(first.OperandText, second.OperandText)
            )
                continue;
            bool sameComment =
                first.CommentToken >= 0 && second.CommentToken >= 0 && IsSame(first.Comment!, second.Comment!);
            bool counts = Array.Exists(SayNothingNew, o => IsSame(o, first.Operation!))
                ? sameComment || (first.CommentToken < 0 && second.CommentToken < 0)
                : sameComment
                    && Array.Exists(WithSameComment, o => IsSame(o, first.Operation!))
                    && !first.OperandText.Contains('$', StringComparison.Ordinal);
            if (counts && sheet.IsRead(i + 1))
                sheet.Mark(
                    i + 1,
                    DocumentCodes.RepeatedLine,
                    "is this line printed twice?",
                    "This line says the same as the one above. If the page prints it once, as at a page break, take one of the two away."
                );
        }
    }

    private static bool IsSame(string a, string b) => a.Trim().Equals(b.Trim(), StringComparison.OrdinalIgnoreCase);
}
