using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// Instructions that no path reaches. Data, and files that are included, whose routines serve other programs too, are left out.
/// </summary>
internal sealed class UnusedCodeCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        FlowWalk walk = context.Graph.Walk;
        ProgramAnalysis program = context.Graph.Program;
        if (context.HasWildJump || context.Graph.Calls.Main is null)
            return;
        for (int at = 0; at < context.End; at++)
        {
            if (!IsUnused(at))
                continue;
            int first = at;
            while (at + 1 < context.End && IsUnused(at + 1))
                at++;
            Report(context, report, first, at);
        }

        bool IsUnused(int address) =>
            walk.Has(address)
            && walk.Reached[address] == Reach.None
            && walk.Origins[address] is { Via: null } origin
            && program.Roots.Contains(origin.File)
            && program.SyntaxOf(origin.File, origin.Line).OperationKind == OperationKind.Instruction;
    }

    private static void Report(TrapContext context, FlowReport report, int first, int last)
    {
        // A table of RETLW may be reached in a way that is not seen; one that nothing calls is no harm either.
        bool isTable = true;
        for (int at = first; at <= last; at++)
            isTable &= context.Graph.Walk.Decode(at) is { Instruction.Name: "retlw" };
        if (isTable)
            return;
        string words = last == first ? "1 word" : $"{Show.Decimal(last - first + 1)} words",
            lastLine = Show.Decimal(context.Graph.PlaceOf(last).Line + 1);
        for (int at = first; at <= last; at++)
            report.Add(Catalogue.UnusedCode, context.Graph, at, words, lastLine);
    }
}
