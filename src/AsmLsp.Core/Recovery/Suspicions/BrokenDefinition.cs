using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// A <c>#define</c> whose text is broken: what it means is an error where it is used, or nothing at all, while the next line may be its rest.
/// The error shows at the use, where the line is as the page has it.
/// </summary>
internal static class BrokenDefinition
{
    public static void Look(SuspicionSheet sheet)
    {
        foreach (Problem problem in sheet.Program.Problems)
        {
            if (problem.Severity != Severity.Error || problem.Place.File != sheet.Program.Root)
                continue;
            foreach (Symbol define in DefinesOn(sheet, problem.Place.Line))
                if (define.Text!.Trim().Length > 0)
                    sheet.Mark(
                        define.Definition.Line,
                        DocumentCodes.BrokenDefinition,
                        "gives an error where it is used",
                        $"{define.Name} means '{define.Text.Trim()}', which gives an error where it is used. Compare this line with the page, too."
                    );
        }

        for (int i = 0; i < sheet.LineCount; i++)
        {
            LineSyntax syntax = sheet.Syntax(i);
            string word = syntax.Operation ?? syntax.Label ?? "";
            // Lines that are words of the program only by what a define makes of them.
            if (
                word.Length == 0
                || sheet.Program.FindSymbol(word) is not { Kind: SymbolKind.Define, Parameters.Count: 0 } define
                || define.Definition.File != sheet.Program.Root
            )
                continue;
            if (!string.IsNullOrWhiteSpace(define.Text) || Below(sheet, define.Definition.Line) is not { } below)
                continue;
            string message =
                $"{define.Name} is used as an instruction, but means nothing, and the next line has one. If the page prints them as one line, join them.";
            sheet.Mark(
                define.Definition.Line,
                DocumentCodes.BrokenDefinition,
                "does the next line belong here?",
                message
            );
            sheet.Mark(below, DocumentCodes.BrokenDefinition, "does this belong to the line above?", message);
        }
    }

    private static IEnumerable<Symbol> DefinesOn(SuspicionSheet sheet, int line)
    {
        LineSyntax syntax = sheet.Syntax(line);
        for (int t = 0; t < syntax.EndOfCode; t++)
            if (
                syntax.Tokens[t].Kind == TokenKind.Name
                && sheet.Program.FindSymbol(syntax.TextOf(t)) is { Kind: SymbolKind.Define, Text: not null } define
                && define.Definition.File == sheet.Program.Root
                && define.Definition.Line != line
            )
                yield return define;
    }

    private static int? Below(SuspicionSheet sheet, int line)
    {
        for (int i = line + 1; i < sheet.LineCount && i < line + 4; i++)
        {
            LineSyntax syntax = sheet.Syntax(i);
            if (!syntax.IsBlank)
                return syntax.OperationKind == OperationKind.Instruction && syntax.LabelToken < 0 ? i : null;
        }

        return null;
    }
}
