using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Explain;

/// <summary>The register that an instruction really reaches: by the bank that is selected there, on every path or on each, or by FSR and IRP.</summary>
internal static class ReachExplainer
{
    private const int TwoBanks = 2;

    /// <summary>What is to say, as entries of a list; nothing where the operand means the same register in every bank, or nothing is known.</summary>
    /// <param name="context">The line.</param>
    /// <param name="decoded">Its instruction.</param>
    /// <param name="named">The full address that the source names, or null.</param>
    public static IReadOnlyList<string> Of(ExplainContext context, in DecodedInstruction decoded, int? named)
    {
        if (context.Program.HasErrors || context.Program.Device is not { } device || context.Facts.Address < 0)
            return [];
        if (
            decoded.Instruction.Operands
            is not (OperandKind.Register or OperandKind.RegisterDestination or OperandKind.RegisterBit)
        )
            return [];
        FlowGraph graph = FlowGraph.Of(context.Program);
        FlowState state = graph.StateAt(context.Facts.Address);
        if (!state.IsReached)
            return [];
        if (decoded.First == 0)
            return Indirect(device, state) is { } indirect ? [indirect] : [];
        DataMemory memory = device.DataMemory;
        if (memory.IsSameInEveryBank(decoded.First))
            return [];
        if (state.Bank(memory.BankCount) is not { } bank)
            return Paths(context, graph, device, decoded.First);
        int reached = (bank << 7) | decoded.First;
        string instead =
            named is { } full && memory.Canonical(full) != memory.Canonical(reached)
                ? $": this reaches {RegisterExplainer.NameOf(device, reached, decoded.First)}"
                : "";
        return [$"Bank {bank} is selected here{instead}"];
    }

    /// <summary>The same for the line's own word, where a caller has only the line.</summary>
    public static IReadOnlyList<string> Of(ExplainContext context)
    {
        List<(int Address, int Word)> words = context.Words(2);
        if (words.Count != 1 || InstructionSet.Decode(words[0].Word) is not { } decoded)
            return [];
        int? named = context.RegisterAddress() is { } full && (full & 0x7F) == decoded.First ? full : null;
        return Of(context, decoded, named);
    }

    private static string? Indirect(Device device, in FlowState state)
    {
        bool hasUpper = device.DataMemory.BankCount > TwoBanks;
        if (state.Pointer is { } pointer && (!hasUpper || state.Irp is not null))
        {
            int full = pointer | (hasUpper && state.Irp == true ? 0x100 : 0);
            return $"FSR is {MarkdownText.Code(Show.Hex(pointer, 2))} here: this reaches {RegisterExplainer.NameOf(device, full, full)}";
        }

        if (!hasUpper)
            return null;
        return state.Irp switch
        {
            null => "IRP depends on the path here: INDF may reach banks 0 and 1, or 2 and 3",
            false => "IRP is 0 here: INDF reaches banks 0 and 1",
            true => "IRP is 1 here: INDF reaches banks 2 and 3",
        };
    }

    private static List<string> Paths(ExplainContext context, FlowGraph graph, Device device, int low)
    {
        var lines = new List<string> { "The bank depends on the path here" };
        foreach (BankPath path in graph.BankPathsTo(context.Facts.Address))
        {
            int full = (path.Bank << 7) | low;
            lines.Add(
                $"Bank {path.Bank} ({Reason(context, graph, path)}): this reaches {RegisterExplainer.NameOf(device, full, low)}"
            );
        }

        return lines;
    }

    private static string Reason(ExplainContext context, FlowGraph graph, in BankPath path)
    {
        string why = path.Reason switch
        {
            BankReason.Reset => "selected since the reset",
            BankReason.Instruction => $"selected in {Place(path.At)}",
            BankReason.Call => $"left selected by the call in {Place(path.At)}",
            BankReason.Interrupt => "an interrupt may come in this bank",
            _ => "a computed jump may come in this bank",
        };
        return path.Through >= 0 ? $"{why}, through the call in {Place(path.Through)}" : why;

        string Place(int address) => context.PlaceOf(graph.PlaceOf(address));
    }
}
