using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>The configuration leaves low-voltage programming on, and a bit instruction uses the pin that it takes.</summary>
internal sealed class LowVoltagePinCheck : FlowCheck
{
    public override void Run(FlowGraph graph, FlowReport report)
    {
        if (graph.Walk.Device is not { LowVoltageProgramming: { } programming } device)
            return;
        if (ConfigurationPlace.Of(graph, ConfigRole.LowVoltageProgramming) is not { Setting.State: ConfigState.On })
            return;
        string off =
            device
                .FindField(ConfigRole.LowVoltageProgramming)
                ?.Field.Settings.FirstOrDefault(s => s.State == ConfigState.Off)
                ?.Names.FirstOrDefault()
            ?? programming.Field;
        for (int at = 0; at < graph.End; at++)
        {
            if (
                graph.ReachOf(at) != Reach.Certain
                || graph.InstructionAt(at) is not { Instruction.Operands: OperandKind.RegisterBit } decoded
            )
                continue;
            if (PinsNotDigitalCheck.TestedPin(graph, device, at, decoded) != programming.Pin)
                continue;
            report.Add(Catalogue.LowVoltagePinUsed, graph, at, programming.Pin, off);
            return;
        }
    }
}
