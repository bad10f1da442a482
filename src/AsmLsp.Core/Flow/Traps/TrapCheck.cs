using AsmLsp.Core.Flow.Checks;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>Looks for one kind of hazard that shows only when the program runs on the bench.</summary>
internal abstract class TrapCheck
{
    public abstract void Run(TrapContext context, FlowReport report);
}
