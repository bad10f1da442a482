using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>The configuration turns the watchdog on, and no word of the program clears it (SLEEP does too).</summary>
internal sealed class WatchdogCheck : FlowCheck
{
    public override void Run(FlowGraph graph, FlowReport report)
    {
        if (ConfigurationPlace.Of(graph, ConfigRole.Watchdog) is not { Setting.State: ConfigState.On } watchdog)
            return;
        for (int at = 0; at < graph.End; at++)
            if (graph.InstructionAt(at) is { Instruction.Name: "clrwdt" or "sleep" })
                return;
        // A part of the program that lies elsewhere may clear it.
        foreach (RoutineBody? body in (ReadOnlySpan<RoutineBody?>)[graph.Calls.Main, graph.Calls.Interrupt])
            if (body is { CallsUnknown: true } or { IsOpaque: true })
                return;
        if (graph.Calls.Main is null || graph.Calls.Routines.Values.Any(r => r.CallsUnknown))
            return;
        report.Add(Catalogue.WatchdogNeverCleared, watchdog.Place, null);
    }
}
