using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// After a comment that asks for a delay (<c>; wait 20 ms</c>): code that takes exactly that time, with counters in registers that the program
/// does not use. Not where the clock or the selected bank is not known.
/// </summary>
internal sealed class InsertDelay : RefactoringProvider
{
    public override string Name => "insert-delay";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        int line = request.FirstLine;
        ProgramAnalysis program = request.Program;
        if (
            !request.IsOneLine
            || request.Syntax(line).Comment is not { } comment
            || DelayRequest.OfComment(comment) is not { } wanted
            || program.HasErrors
            || program.Device is not { } device
            || !request.IsPlain(line)
        )
            return;
        Clock? clock = ClockFinder.Find(program, program.Options.ClockHertz);
        if (wanted.Cycles(clock) is not { } cycles || Place(request, line) is not { } next)
            return;
        if (DelayWriter.Write(cycles, status: Status(program)) is not { } delay)
            return;
        int[] registers = [];
        if (delay.Counters.Length > 0)
        {
            if (next.Bank(device.DataMemory.BankCount) is not { } bank)
                return;
            if (FreeRegisters.Find(program, device, bank, delay.Counters.Length) is not { } found)
                return;
            registers = found;
        }

        string at =
            registers.Length == 0 ? "" : $", counting in {string.Join(", ", registers.Select(r => Show.Hex(r, 2)))}";
        string words = delay.Words == 1 ? "1 word" : $"{delay.Words} words";
        request.Add(
            "here",
            $"Insert a delay here: {wanted.Describe(clock)}; {words}{at}{Changes(delay)}",
            WordEffect.Changes,
            () => Plan(request, line, wanted.Describe(clock), delay, registers)
        );
    }

    // What is known where the code comes: before the next word of the file.
    private static FlowState? Place(RefactoringRequest request, int line)
    {
        FlowGraph graph = FlowGraph.Of(request.Program);
        for (int next = line + 1; next < request.Text.LineCount; next++)
        {
            LineFacts facts = request.Facts(next);
            if ((facts.Role & (LineRole.Skipped | LineRole.Body | LineRole.AfterEnd | LineRole.BlockMember)) != 0)
                return null;
            if (facts.Words == 0)
                continue;
            // After a skip only the first word would be skipped; what follows a jump may be data.
            bool isReached = facts.Address >= 0 && graph.ReachOf(facts.Address) == Reach.Certain;
            bool isAfterSkip = graph.InstructionAt(facts.Address - 1) is { Instruction.MaySkip: true };
            return isReached && !isAfterSkip ? graph.StateAt(facts.Address) : null;
        }

        return null;
    }

    private static string Status(ProgramAnalysis program) =>
        program.FindSymbol("STATUS") is { Value: 3 } || program.Device?.FindRegister("STATUS") is not null
            ? "STATUS"
            : "3";

    private static string Changes(Delay delay) =>
        (delay.ChangesW, delay.ChangesFlags) switch
        {
            (true, true) => "; W and flags change",
            (true, false) => "; W changes",
            (false, true) => "; flags change",
            _ => "",
        };

    private static RefactoringPlan Plan(
        RefactoringRequest request,
        int line,
        string title,
        Delay delay,
        int[] registers
    )
    {
        ColumnStyle style = ColumnStyle.Of(request.Text);
        SourceStyle letters = SourceStyle.Of(request.Text);
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        var lines = new List<string> { $"; {title}" };
        foreach ((string counter, int register) in delay.Counters.Zip(registers))
        {
            string name = FreeNames.Near(request.Program, "delay_" + counter);
            names.Add(counter, name);
            string gap = style.Gap(name.Length, Math.Max(style.OperationColumn, name.Length + 1));
            lines.Add(
                name
                    + gap
                    + style.Statement(letters.Operation(OperationWords.Spell(Keyword.Equ)), Show.Hex(register, 2))
            );
        }

        foreach (DelayLine made in delay.Lines)
        {
            string operands = made.Operands;
            foreach ((string counter, string name) in names)
                if (operands == counter || operands == counter + ",f")
                    operands = operands.Length == counter.Length ? name : $"{name},{letters.Destination(1)}";
            string operation = letters.Operation(made.Operation);
            lines.Add(style.Indent + (operands.Length > 0 ? style.Statement(operation, operands) : operation));
        }

        int first = line + 1 + 1 + registers.Length;
        var plan = new RefactoringPlan { Proof = after => Takes(after, request.File.Name, first, delay) };
        plan.InsertBefore(request.File, line + 1, lines);
        return plan;
    }

    // The inserted words take the cycles there too.
    private static bool Takes(ProgramAnalysis after, string name, int line, Delay delay)
    {
        SourceFile? file = after.Files.FirstOrDefault(f => f.Name == name);
        if (file is null || after.HasErrors)
            return false;
        int start = after.FactsOf(file, line).Address;
        return start >= 0
            && PathTimer.Between(FlowGraph.Of(after), start, at => at == start + delay.Words, banksChange: false)
                is { IsExact: true } counted
            && counted.Least == delay.Cycles;
    }
}
