using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// An operand of another kind than the instruction takes: a jump to a register or to <c>w</c>, a register that is a label. Both
/// give a word, and nobody writes them: a name has lost a character, or a block its head.
/// </summary>
internal static class OddOperand
{
    private static bool IsOfChip(SuspicionSheet sheet, string name) =>
        name is "w" or "W" or "f" or "F" || sheet.Program.NamesDevice?.Symbols.FindAnyCase(name) is not null;

    public static void Look(SuspicionSheet sheet)
    {
        for (int i = 0; i < sheet.LineCount; i++)
        {
            LineSyntax syntax = sheet.Syntax(i);
            if (syntax.OperationKind != OperationKind.Instruction || !sheet.IsRead(i))
                continue;
            int first = syntax.FirstOperandToken;
            while (first < syntax.EndOfCode && syntax.Tokens[first].Kind == TokenKind.Blank)
                first++;
            if (
                first >= syntax.EndOfCode
                || syntax.Tokens[first].Kind != TokenKind.Name
                || InstructionSet.Find(syntax.Operation) is not { } instruction
            )
                continue;
            string name = syntax.TextOf(first);
            Symbol? symbol = sheet.Program.FindSymbol(name);
            switch (instruction.Operands)
            {
                case OperandKind.Address11
                    when symbol is null
                        && syntax.Operands.Length == 1
                        && syntax.OperandText.Trim() == name
                        && IsOfChip(sheet, name):
                    sheet.Mark(
                        i,
                        DocumentCodes.OddOperand,
                        $"is {name} a label?",
                        $"{name} is not a label of this program, but a name of the chip. Compare the line with the page: a character may be missing."
                    );
                    break;
                case OperandKind.Register
                or OperandKind.RegisterDestination
                or OperandKind.RegisterBit
                    when symbol is { Kind: SymbolKind.Label } && symbol.Definition.File == sheet.Program.Root:
                    // 'count res 1' reserves a register in some listings.
                    if (sheet.Syntax(symbol.Definition.Line).Keyword == Keyword.Reserve)
                        break;
                    string message =
                        $"{name} is used as a register, but is a label in the program. Compare both lines with the page: the head of a block of variables may be missing.";
                    sheet.Mark(i, DocumentCodes.OddOperand, $"is {name} a register?", message);
                    sheet.Mark(
                        symbol.Definition.Line,
                        DocumentCodes.OddOperand,
                        "a variable? Is the head of its block missing?",
                        message
                    );
                    break;
            }
        }
    }
}
