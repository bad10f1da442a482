using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Blocks of variables in a program that uses a register which nothing defines: if its line is missing in a block, all names below it have
/// slipped by one register.
/// </summary>
internal static class ShortBlock
{
    public static void Look(SuspicionSheet sheet)
    {
        int block = -1;
        var blocks = new List<int>();
        for (int i = 0; i < sheet.LineCount; i++)
        {
            // The first block of a program has no block before it to continue from.
            if (
                sheet.Syntax(i).Keyword == Keyword.VariableBlock
                && blocks.Count == 0
                && sheet.Syntax(i).OperandSpan.Length == 0
            )
                sheet.Mark(
                    i,
                    DocumentCodes.ShortBlock,
                    "where does this block start?",
                    "No number says which register this block of variables starts at. Is one printed?"
                );
            if (sheet.Syntax(i).Has(WordTraits.HoldsVariables))
                blocks.Add(block = i);
        }

        MarkOddMembers(sheet);
        if (block < 0 || Missing(sheet) is not { } name)
            return;
        foreach (int line in blocks)
            sheet.Mark(
                line,
                DocumentCodes.ShortBlock,
                $"is a line missing in this block ({name})?",
                $"{name} is used as a register and defined nowhere. If the page has it in this block, the names below it take the next registers."
            );
    }

    // A name that nobody asks for, below one with a comment: the comment's last word takes a register as well.
    private static void MarkOddMembers(SuspicionSheet sheet)
    {
        for (int i = 1; i < sheet.LineCount; i++)
        {
            if ((sheet.Facts(i).Role & LineRole.BlockMember) == 0 || sheet.IsKnownRow(i))
                continue;
            LineSyntax syntax = sheet.Syntax(i),
                above = sheet.Syntax(i - 1);
            if (
                syntax.CommentToken >= 0
                || above.CommentToken < 0
                || sheet.Program.FindSymbol(syntax.Text.Trim())
                    is not { Kind: SymbolKind.BlockMember, IsReferenced: false }
            )
                continue;
            sheet.Mark(
                i,
                DocumentCodes.ShortBlock,
                "a variable, or the rest of the comment above?",
                "Nothing uses this variable, and the line above ends with a comment. If this is the comment's last word, the names below take other registers."
            );
        }
    }

    // A name that is not known, or was taken for another one, as the register of an instruction.
    private static string? Missing(SuspicionSheet sheet)
    {
        foreach (Problem problem in sheet.Program.Problems)
            if (
                problem.Kind == Catalogue.UndefinedName
                && problem.Place.File == sheet.Program.Root
                && IsRegister(sheet.Syntax(problem.Place.Line))
            )
                return problem.Arguments[0];
        foreach (int line in sheet.Result.Doubts.Lines)
        {
            if (!IsRegister(sheet.Syntax(line)))
                continue;
            foreach (Doubt doubt in sheet.Result.Doubts.At(line))
                if (
                    doubt.Printed is [var first, ..] was
                    && Lexer.IsNameStart(first)
                    && !was.Contains(' ', StringComparison.Ordinal)
                    && OperationWords.KindOf(was) == OperationKind.Unknown
                    && !was.Equals(sheet.Syntax(line).Operation, StringComparison.OrdinalIgnoreCase)
                )
                    return was;
        }

        return null;
    }

    private static bool IsRegister(LineSyntax syntax) =>
        InstructionSet.Find(syntax.Operation)?.Operands
            is OperandKind.Register
                or OperandKind.RegisterDestination
                or OperandKind.RegisterBit;
}
