using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A bare number where an instruction takes a register, in a program that gives its registers names: the instruction for a constant was
/// meant. 'andwf 0x0F' masks with whatever the register at 0x0F holds.
/// </summary>
internal sealed class NumberAsRegisterCheck : TrapCheck
{
    // Fewer registers by name, or more by number than one in ten, are no habit to judge by.
    private const int LeastNamed = 8,
        NumbersInNames = 10;

    public override void Run(TrapContext context, FlowReport report)
    {
        var numbers = new List<int>();
        var uses = new Dictionary<int, int>();
        int named = 0;
        for (int at = 0; at < context.End; at++)
        {
            if (!context.IsLive(at) || context.At(at) is not { } decoded || !NamedRegister.Takes(decoded))
                continue;
            Assembly.WordOrigin origin = context.Graph.OriginOf(at);
            if (origin.Via is not null)
                continue;
            LineSyntax syntax = context.Graph.Program.SyntaxOf(origin.File, origin.Line);
            if (syntax.OperationKind != OperationKind.Instruction || syntax.Operands is not [var operand, ..])
                continue;
            if (operand.Value is not LiteralExpression)
            {
                named++;
                continue;
            }

            numbers.Add(at);
            uses[decoded.First] = uses.GetValueOrDefault(decoded.First) + 1;
        }

        if (numbers.Count == 0 || named < LeastNamed || numbers.Count * NumbersInNames > named + NumbersInNames)
            return;
        foreach (int at in numbers)
        {
            DecodedInstruction decoded = context.At(at)!.Value;
            if (Meant(decoded) is not { } meant || uses[decoded.First] > 1)
                continue;
            if (IsUsedAsVariable(context, at))
                continue;
            string number = Assembly.Show.Hex(decoded.First, 2),
                what = Describe(context, at, decoded.First);
            // A copy to or from a register without a name may be meant; arithmetic with one is not.
            if (meant == "MOVLW")
                report.AddNote(Catalogue.NumberAsRegister, context.Graph, at, number, what, meant);
            else
                report.Add(Catalogue.NumberAsRegister, context.Graph, at, number, what, meant);
        }
    }

    private static string? Meant(in DecodedInstruction decoded) =>
        decoded.Instruction.Name switch
        {
            "andwf" => "ANDLW",
            "iorwf" => "IORLW",
            "xorwf" => "XORLW",
            "addwf" => "ADDLW",
            "subwf" => "SUBLW",
            "movf" when decoded.Second == 0 => "MOVLW",
            "movwf" => "MOVLW",
            _ => null,
        };

    // A byte of memory that other instructions use, or that may be reached through FSR, is a variable without a name.
    private static bool IsUsedAsVariable(TrapContext context, int at)
    {
        int register = context.AccessAt(at).Register;
        if (register < 0)
            return true;
        bool isMemory = context.Device?.DataMemory.RegisterAt(register) is null;
        if (isMemory)
            return context.WritesIndirectly || context.UsesOf(register).Count > 1;
        // A chip's register moved by its number is a habit; one that takes part in arithmetic is none.
        return context.NameAt(at) is "movf" or "movwf";
    }

    private static string Describe(TrapContext context, int at, int number) =>
        context.Device?.DataMemory.RegisterAt(context.AccessAt(at).Register)?.Name is { } name
            ? $"the register {name}"
            : $"the register at {Assembly.Show.Hex(number, 2)}, which nothing else uses";
}
