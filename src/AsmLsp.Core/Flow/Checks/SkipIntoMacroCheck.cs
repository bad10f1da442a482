using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>A skip before a macro, a shorthand or a bank choice of several words lands after the first of them.</summary>
internal sealed class SkipIntoMacroCheck : FlowCheck
{
    public override void Run(FlowGraph graph, FlowReport report)
    {
        FlowWalk walk = graph.Walk;
        for (int at = 0; at + 2 < graph.End; at++)
        {
            if (
                graph.ReachOf(at) == Reach.None
                || graph.InstructionAt(at) is not { Instruction.MaySkip: true }
                || !walk.Has(at + 1)
                || !walk.Has(at + 2)
            )
                continue;
            WordOrigin skip = graph.OriginOf(at),
                first = graph.OriginOf(at + 1),
                second = graph.OriginOf(at + 2);
            (string Name, int Words)? made =
                SameLine(graph, skip, first, second, at + 1) ?? SameCall(graph, skip, first, second, at + 1);
            if (made is { } line)
                report.Add(
                    Catalogue.SkipsIntoMacro,
                    graph,
                    at,
                    line.Name,
                    line.Words.ToString(CultureInfo.InvariantCulture)
                );
        }
    }

    // Two words of one line that is not the skip's own: a shorthand or a bank choice.
    private static (string, int)? SameLine(
        FlowGraph graph,
        in WordOrigin skip,
        in WordOrigin first,
        in WordOrigin second,
        int address
    )
    {
        if (first != second || first == skip)
            return null;
        LineSyntax syntax = graph.Program.SyntaxOf(first.File, first.Line);
        if (syntax.Operation is not { } operation)
            return null;
        bool counts =
            syntax.OperationKind == OperationKind.Instruction
            || syntax.Keyword is Keyword.BankSelect or Keyword.IndirectBankSelect or Keyword.PageSelect;
        if (!counts)
            return null;
        int words = 1;
        while (graph.Walk.Has(address + words) && graph.OriginOf(address + words) == first)
            words++;
        return (operation, words);
    }

    // Two words of one macro call in which the skip does not be. A loop that is unrolled is no call.
    private static (string, int)? SameCall(
        FlowGraph graph,
        in WordOrigin skip,
        in WordOrigin first,
        in WordOrigin second,
        int address
    )
    {
        for (Expansion? call = first.Via; call is not null; call = call.Parent)
        {
            if (call.Parent != skip.Via)
                continue;
            if (
                !IsInside(second, call)
                || IsInside(skip, call)
                || graph.Program.FindSymbol(call.Name) is not { Kind: SymbolKind.Macro }
            )
                return null;
            int words = 1;
            while (graph.Walk.Has(address + words) && IsInside(graph.OriginOf(address + words), call))
                words++;
            return (call.Name, words);
        }

        return null;
    }

    private static bool IsInside(in WordOrigin origin, Expansion call)
    {
        for (Expansion? via = origin.Via; via is not null; via = via.Parent)
            if (via == call)
                return true;
        return false;
    }
}
