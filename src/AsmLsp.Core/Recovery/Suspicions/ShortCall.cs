using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>A macro's call with fewer values than the macro takes, where other calls give them all: what is missing is put in as nothing.</summary>
internal static class ShortCall
{
    public static void Look(SuspicionSheet sheet)
    {
        var calls = new Dictionary<string, List<(int Line, int Values)>>(StringComparer.Ordinal);
        for (int i = 0; i < sheet.LineCount; i++)
        {
            if ((sheet.Facts(i).Role & LineRole.MacroCall) == 0)
                continue;
            LineSyntax syntax = sheet.Program.SyntaxOf(sheet.Program.Root, i);
            if (
                sheet.Program.FindSymbol(syntax.Operation ?? syntax.Label ?? "")
                is not { Kind: SymbolKind.Macro, Parameters.Count: > 0 } macro
            )
                continue;
            int values = 0;
            foreach (OperandSyntax operand in syntax.Operands)
                if (operand.Span.Length > 0)
                    values++;
            if (!calls.TryGetValue(macro.Name, out List<(int, int)>? list))
                calls.Add(macro.Name, list = []);
            list.Add((i, values));
        }

        foreach ((string name, List<(int Line, int Values)> list) in calls)
        {
            int takes = sheet.Program.FindSymbol(name)!.Parameters.Count;
            // One value is never left out on purpose; of several, where no call gives them all, some may be.
            if (takes > 1 && !list.Exists(c => c.Values >= takes))
                continue;
            foreach ((int line, int values) in list)
                if (values < takes)
                    sheet.Mark(
                        line,
                        DocumentCodes.ShortCall,
                        "is a value missing?",
                        $"{name} takes {(takes == 1 ? "a value" : $"{takes} values")}, and {(values == 0 ? "none" : "fewer")} is read here. Compare the line with the page."
                    );
        }
    }
}
