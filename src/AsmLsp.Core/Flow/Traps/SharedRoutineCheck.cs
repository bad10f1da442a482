using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A routine that keeps values in registers of its own is called by the main program, where it may be interrupted, and by the interrupt.
/// Common practice: such a routine must not be shared.
/// </summary>
internal sealed class SharedRoutineCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            context.Graph.Calls.Interrupt is not { } handler
            || context.HasWildJump
            || context.InMain[handler.Address]
            || !context.Interrupts.MayBeEnabled
            || context.Device is not { } device
        )
            return;
        foreach (RoutineBody routine in context.Graph.Calls.Routines.Values)
        {
            if (
                !routine.CallSites.Exists(at => context.InInterrupt[at])
                || !routine.CallSites.Exists(at => context.InMain[at] && context.Interrupts.MayInterrupt(at))
            )
                continue;
            foreach (int at in routine.Words)
            {
                RegisterAccess access = context.AccessAt(at);
                if (
                    !access.Writes
                    || !context.Interrupts.MayInterrupt(at)
                    || !device.DataMemory.IsGeneralPurpose(access.Register)
                )
                    continue;
                report.Add(
                    Catalogue.SharedRoutine,
                    context.Graph,
                    routine.Address,
                    RoutineFacts.LabelAt(context.Graph.Program, routine.Address) ?? Assembly.Show.Hex(routine.Address),
                    context.RegisterName(at)
                );
                break;
            }
        }
    }
}
