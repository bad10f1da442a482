namespace AsmLsp.Core.Flow.Checks;

/// <summary>Looks for one kind of problem on the ways through a program.</summary>
internal abstract class FlowCheck
{
    public abstract void Run(FlowGraph graph, FlowReport report);
}
