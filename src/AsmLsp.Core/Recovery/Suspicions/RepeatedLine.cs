using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// A line that is twice in a row and does the same again: <c>movlw 5</c> twice, or any setting of a bit with the very same
/// comment. Page breaks and copies repeat lines; shifts, counts, calls and tables are repeated on purpose.
/// </summary>
internal static class RepeatedLine
{
    private static readonly string[] SayNothingNew = ["movlw", "movwf", "clrf", "clrw", "return", "retfie"];
    private static readonly string[] Leave = ["return", "retfie", "goto"];
    private static readonly string[] Skip = ["btfsc", "btfss", "decfsz", "incfsz"];
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
            if (counts && sheet.IsRead(i + 1) && !IsSkipped(sheet, i))
                sheet.Mark(
                    i + 1,
                    DocumentCodes.RepeatedLine,
                    "is this line printed twice?",
                    "This line says the same as the one above. If the page prints it once, as at a page break, take one of the two away."
                );
        }
    }

    // 'btfsc', 'return', 'return': the first one is left out by the skip, the second one is not.
    private static bool IsSkipped(SuspicionSheet sheet, int line)
    {
        if (sheet.Syntax(line) is not { } syntax || !Array.Exists(Leave, o => IsSame(o, syntax.Operation!)))
            return false;
        for (int i = line - 1; i >= 0; i--)
            if (sheet.Syntax(i) is { OperationToken: >= 0 } above)
                return Array.Exists(Skip, o => IsSame(o, above.Operation!));
        return false;
    }

    private static bool IsSame(string a, string b) => a.Trim().Equals(b.Trim(), StringComparison.OrdinalIgnoreCase);
}
