using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// XORWF or SUBWF without a destination before a test of its flag: it looks like a comparison, but the result replaces the register. Who
/// wrote ',f' meant that; subtractions of several bytes continue with DECF or INCF.
/// </summary>
internal sealed class ComparisonOverwritesCheck : TrapCheck
{
    private const int CarryMask = 1,
        ZeroMask = 4;

    public override void Run(TrapContext context, FlowReport report)
    {
        for (int at = 0; at < context.End; at++)
        {
            if (
                !context.IsLive(at) || context.At(at) is not { Second: 1, Instruction.Name: "xorwf" or "subwf" } decoded
            )
                continue;
            RegisterAccess test = at + 1 < context.End ? context.AccessAt(at + 1) : default;
            if (
                context.At(at + 1) is not { Instruction.Name: "btfsc" or "btfss" }
                || test.Register != TrapContext.Status
                || !IsLeftOut(context, at)
            )
                continue;
            bool isXor = decoded.Instruction.Name == "xorwf";
            if (test.Mask == ZeroMask && isXor)
                Report(context, report, at, decoded, false);
            else if (
                !isXor
                && test.Mask is CarryMask or ZeroMask
                && context.NameAt(at + 2) is not ("decf" or "incf" or "decfsz" or "incfsz" or "addwf" or "subwf")
            )
                Report(context, report, at, decoded, true);
        }
    }

    private static bool IsLeftOut(TrapContext context, int at)
    {
        Assembly.WordOrigin origin = context.Graph.OriginOf(at);
        LineSyntax syntax = context.Graph.Program.SyntaxOf(origin.File, origin.Line);
        return syntax.OperationKind == OperationKind.Instruction && syntax.Operands.Length == 1;
    }

    private static void Report(
        TrapContext context,
        FlowReport report,
        int at,
        in DecodedInstruction decoded,
        bool isNote
    )
    {
        string name = context.RegisterName(at);
        string operation = decoded.Instruction.Name.ToUpperInvariant();
        if (isNote)
            report.AddNote(Catalogue.ComparisonOverwrites, context.Graph, at, name, operation);
        else
            report.Add(Catalogue.ComparisonOverwrites, context.Graph, at, name, operation);
    }
}
