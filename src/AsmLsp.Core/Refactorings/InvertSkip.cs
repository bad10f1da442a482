using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// Turns <c>btfss</c> into <c>btfsc</c> or back (their shorthands too) where the lines after it can be put so that the program does the same: two jumps change places,
/// or one jump over one instruction is not needed any more. The time that each way takes changes by an instruction cycle or two.
/// </summary>
internal sealed class InvertSkip : RefactoringProvider
{
    private const int OtherSkip = 0x0400;

    public override string Name => "invert-skip";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    // Whether other ways lead in needs the ways through the program.
    public override bool IsCheap => false;

    internal override void Offer(RefactoringRequest request)
    {
        int line = request.FirstLine;
        LineSyntax test = request.Syntax(line);
        if (
            !request.IsOneLine
            || request.Program.HasErrors
            || test.Operation is null
            || OtherWay(test.Operation) is not { } other
            || !request.IsPlain(line)
            || request.Facts(line) is not { Words: 1, Address: var at }
        )
            return;
        FlowGraph graph = FlowGraph.Of(request.Program);
        // A skip before it may skip the test itself; jumps that are worked out may go anywhere.
        if (
            graph.InstructionAt(at - 1) is { Instruction.MaySkip: true }
            || graph.Walk.HasWildJump
            || graph.Walk.Tables.Values.Any(t => at + 2 >= t.First && at < t.End)
        )
            return;
        if (LineOf(request, at + 1, line) is not { } jump || LineOf(request, at + 2, jump) is not { } second)
            return;
        if (
            graph.InstructionAt(at + 1) is not { Instruction.IsJump: true }
            || !IsJumpLine(request, jump)
            || graph.InstructionAt(at + 2) is not { } next
        )
            return;
        if (next.Instruction.IsJump && IsJumpLine(request, second))
            request.Add(
                "jumps",
                $"Test the other way round: {other}, and swap the two jumps after it",
                WordEffect.Changes,
                () => Swap(request, other, at, jump, second)
            );
        if (graph.ReachOf(at) != Reach.None && graph.Walk.TargetOf(at + 1) == at + 3)
            request.Add(
                "over",
                $"Test the other way round: {other}, and do without the jump over the next instruction",
                WordEffect.Changes,
                () => WithoutJump(request, other, at, jump)
            );
    }

    private static string? OtherWay(string operation)
    {
        foreach (
            (string one, string two) in (ReadOnlySpan<(string, string)>)
                [("btfss", "btfsc"), ("skpc", "skpnc"), ("skpz", "skpnz"), ("skpdc", "skpndc")]
        )
        {
            if (one.Equals(operation, StringComparison.OrdinalIgnoreCase))
                return SourceStyle.InCaseOf(operation, two);
            if (two.Equals(operation, StringComparison.OrdinalIgnoreCase))
                return SourceStyle.InCaseOf(operation, one);
        }

        return null;
    }

    private static RefactoringPlan Swap(RefactoringRequest request, string other, int at, int jump, int second)
    {
        // Proof: three words are the old ones in their new places, all others are untouched.
        var plan = new RefactoringPlan
        {
            Proof = after =>
            {
                foreach ((int address, ushort word, _) in request.Program.Image.Words)
                {
                    int from =
                        address == at + 1 ? at + 2
                        : address == at + 2 ? at + 1
                        : address;
                    request.Program.Image.TryGet(from, out ushort wanted, out _);
                    if (
                        !after.Image.TryGet(address, out ushort now, out _)
                        || now != (address == at ? wanted ^ OtherSkip : wanted)
                    )
                        return false;
                }

                return request.Program.Image.Count == after.Image.Count && !LeadsIn(request.Program, at);
            },
        };
        ReplaceOperation(request, plan, other);
        // What is said about a jump goes with it.
        LineSyntax a = request.Syntax(jump),
            b = request.Syntax(second);
        plan.Replace(request.File, jump, a.OperandSpan.Start, a.Text.Length, b.Text[b.OperandSpan.Start..]);
        plan.Replace(request.File, second, b.OperandSpan.Start, b.Text.Length, a.Text[a.OperandSpan.Start..]);
        return plan;
    }

    private static RefactoringPlan WithoutJump(RefactoringRequest request, string other, int at, int jump)
    {
        request.Program.Image.TryGet(at, out ushort test, out _);
        var change = new Relocation.Change(
            origin => origin is { Via: null } && origin.File == request.File && origin.Line == jump,
            _ => false
        )
        {
            Replaced = new Dictionary<int, int> { [at] = test ^ OtherSkip },
        };
        var plan = new RefactoringPlan
        {
            Proof = after =>
                !LeadsIn(request.Program, at)
                && Relocation.Holds(request.Program, after, change, out _)
                && FlowFindings.Of(after).IsNoWorseThan(FlowFindings.Of(request.Program)),
        };
        ReplaceOperation(request, plan, other);
        plan.Replace(request.File, jump, 0, 0, ";");
        return plan;
    }

    private static void ReplaceOperation(RefactoringRequest request, RefactoringPlan plan, string other)
    {
        LineSyntax test = request.Syntax(request.FirstLine);
        plan.Replace(request.File, request.FirstLine, test.Tokens[test.OperationToken].Span, other);
    }

    // The line of this file that makes the word at an address, without a label and after a given line; null where there is none so plain.
    private static int? LineOf(RefactoringRequest request, int address, int following)
    {
        if (
            !request.Program.Image.TryGet(address, out _, out WordOrigin origin)
            || origin.Via is not null
            || origin.File != request.File
            || origin.Line <= following
        )
            return null;
        for (int i = following + 1; i <= origin.Line; i++)
            if (request.Syntax(i) is { } between && (between.LabelToken >= 0 || (i < origin.Line && !between.IsBlank)))
                return null;
        return
            request.IsPlain(origin.Line)
            && request.Facts(origin.Line).Words == 1
            && !FlowGraph.Of(request.Program).Walk.HasLabel(address)
            ? origin.Line
            : null;
    }

    private static bool IsJumpLine(RefactoringRequest request, int line) =>
        "goto".Equals(request.Syntax(line).Operation, StringComparison.OrdinalIgnoreCase)
        && request.Syntax(line).Operands.Length == 1;

    // Whether a jump by number or by '$' leads to one of the two words after the test, or an interrupt or reset starts there.
    private static bool LeadsIn(ProgramAnalysis program, int at)
    {
        FlowGraph graph = FlowGraph.Of(program);
        int reset = program.Device?.ResetVector ?? 0,
            interrupt = program.Device?.InterruptVector ?? 4;
        if (at + 1 == reset || at + 2 == reset || at + 1 == interrupt || at + 2 == interrupt)
            return true;
        for (int i = 0; i < graph.End; i++)
        {
            if (
                graph.InstructionAt(i) is not { } decoded
                || !(decoded.Instruction.IsCall || decoded.Instruction.IsJump)
            )
                continue;
            foreach (
                int target in graph.ReachOf(i) != Reach.None && graph.Walk.TargetOf(i) >= 0
                    ? [graph.Walk.TargetOf(i)]
                    : graph.Walk.Candidates(decoded.First)
            )
                if (target == at + 1 || target == at + 2)
                    return true;
        }

        return false;
    }
}
