using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A routine without RETURN runs on into the first routine of another file. Within a file a second entry to a routine is a habit of
/// authors; into another file nobody means to run.
/// </summary>
internal sealed class FallsIntoNextCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        foreach (int entry in context.Graph.Calls.Routines.Keys)
        {
            int before = entry - 1;
            if (
                !context.IsLive(before)
                || context.Graph.Walk.EndsRun(before)
                || context.IsSkipped(before)
                || context.At(before) is not { Instruction: { IsCall: false, Name: not "sleep" } }
            )
                continue;
            WordOrigin own = context.Graph.OriginOf(before),
                next = context.Graph.OriginOf(entry);
            if (own.Outermost.File == next.Outermost.File || own.Via is not null || next.Via is not null)
                continue;
            report.Add(
                Catalogue.FallsIntoNext,
                context.Graph,
                before,
                RoutineFacts.LabelAt(context.Graph.Program, entry) ?? Show.Hex(entry),
                next.File.ShortName
            );
        }
    }
}
