using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// Puts the missing bank selection before a line that surely reaches a register of another bank, in the way the program selects banks; and the
/// old bank back after it, where the lines that follow need that.
/// </summary>
internal sealed class SelectBank : RefactoringProvider
{
    public override string Name => "select-bank";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    // The bank needs the ways through the program.
    public override bool IsCheap => false;

    internal override void Offer(RefactoringRequest request)
    {
        int line = request.FirstLine;
        if (
            !request.IsOneLine
            || !request.IsPlain(line)
            || Wrong(request.Program, request.File, line) is null
            || Target.Of(request) is not { } target
        )
            return;
        string how = string.Join(", ", target.Selection(target.Address));
        request.Add(
            "before",
            $"Select bank {DataMemory.BankOf(target.Address)} for {target.Syntax.Operands[0].Text} in this line: {how}",
            WordEffect.Changes,
            () => Plan(request, target)
        );
    }

    // The bank alone where that is enough; with the way back where the lines after would suffer.
    private static RefactoringPlan? Plan(RefactoringRequest request, Target target)
    {
        RefactoringPlan? plan = null;
        foreach (bool comesBack in (ReadOnlySpan<bool>)[false, true])
        {
            if (comesBack && !target.MayComeBack)
                continue;
            plan = Plan(request, target, comesBack);
            if (!RefactoringGuard.Check(request.Program, plan, WordEffect.Changes).IsEmpty)
                return plan;
        }

        return plan;
    }

    private static RefactoringPlan Plan(RefactoringRequest request, Target target, bool comesBack)
    {
        int line = request.FirstLine;
        SourceFile file = request.File;
        List<string> selection = target.Selection(target.Address);
        List<string> back = comesBack ? target.Selection(target.BankBefore << 7) : [];
        var plan = new RefactoringPlan { Proof = after => Holds(request, target, after, selection.Count, back.Count) };
        string indent = ColumnStyle.Of(file.Text).Indent;
        LineSyntax syntax = target.Syntax;
        var lines = new List<string>(selection.Select(s => indent + s));
        if (syntax.LabelToken >= 0)
        {
            // Who jumps here needs the bank as well.
            int operation = syntax.Tokens[syntax.OperationToken].Start;
            lines[0] = syntax.Text[..operation] + selection[0];
            plan.Replace(file, line, 0, operation, indent);
        }

        plan.InsertBefore(file, line, lines);
        if (back.Count > 0)
            plan.Replace(
                file,
                line,
                syntax.Text.Length,
                syntax.Text.Length,
                string.Concat(back.Select(b => file.Text.UsualEnding + indent + b))
            );
        return plan;
    }

    private static bool Holds(
        RefactoringRequest request,
        Target target,
        ProgramAnalysis after,
        int before,
        int following
    )
    {
        int line = request.FirstLine;
        bool IsNew(WordOrigin origin) =>
            origin.Via is null
            && origin.File.Name == request.File.Name
            && (
                (origin.Line >= line && origin.Line < line + before)
                || (origin.Line > line + before && origin.Line <= line + before + following)
            );
        int first = after.Image.Words.Where(w => IsNew(w.Origin)).Select(w => w.Address).DefaultIfEmpty(-1).First();
        var change = new Relocation.Change(_ => false, IsNew)
        {
            Redirected = new Dictionary<int, int> { [target.At] = first },
        };
        if (
            first < 0
            || !Relocation.Holds(request.Program, after, change, out Dictionary<int, int> addresses)
            || MayReachMore(request.Program, after, addresses, target.At)
        )
            return false;
        // On every way the line now meets the bank that it names.
        DataMemory memory = request.Program.Device!.DataMemory;
        if (
            FlowGraph.Of(after).StateAt(addresses[target.At]).Bank(memory.BankCount)
            != (DataMemory.BankOf(target.Address) & (memory.BankCount - 1))
        )
            return false;
        FlowFindings now = FlowFindings.Of(after),
            then = FlowFindings.Of(request.Program);
        return now.IsNoWorseThan(then) && now.Count(Catalogue.WrongBank) < then.Count(Catalogue.WrongBank);
    }

    // Whether an instruction may meet a bank that it did not meet before, unless it is the one of the register that it names: what is not wrong
    // on every way is not reported as a problem, so the count of problems alone proves nothing.
    private static bool MayReachMore(
        ProgramAnalysis program,
        ProgramAnalysis after,
        Dictionary<int, int> addresses,
        int except
    )
    {
        FlowGraph then = FlowGraph.Of(program),
            now = FlowGraph.Of(after);
        DataMemory memory = program.Device!.DataMemory;
        foreach ((int from, int to) in addresses)
        {
            if (
                from == except
                || then.InstructionAt(from) is not { } decoded
                || !NamedRegister.Takes(decoded)
                || memory.IsSameInEveryBank(decoded.First)
            )
                continue;
            for (int bank = 0; bank < memory.BankCount; bank++)
                if (
                    now.StateAt(to).MayBeBank(bank, memory.BankCount)
                    && !then.StateAt(from).MayBeBank(bank, memory.BankCount)
                    && !IsNamed(bank, from, decoded)
                )
                    return true;
        }

        return false;

        bool IsNamed(int bank, int at, in DecodedInstruction decoded) =>
            NamedRegister.Of(then, at, decoded) is { } named
            && (named.IsChipName || named.IsOwnEquate || named.Address >= 0x80)
            && memory.Canonical(bank << 7 | decoded.First) == memory.Canonical(named.Address);
    }

    private static Problem? Wrong(ProgramAnalysis program, SourceFile file, int line)
    {
        foreach (Problem problem in FlowFindings.Of(program).All)
            if (problem.Kind == Catalogue.WrongBank && problem.Place.File == file && problem.Place.Line == line)
                return problem;
        return null;
    }

    /// <summary>The instruction that reaches the wrong register, and how this program selects banks.</summary>
    private sealed record Target(
        RefactoringRequest Request,
        LineSyntax Syntax,
        int At,
        int Address,
        int BankBefore,
        bool MayComeBack,
        int Banks,
        bool ByDirective
    )
    {
        public static Target? Of(RefactoringRequest request)
        {
            LineFacts facts = request.Facts(request.FirstLine);
            FlowGraph graph = FlowGraph.Of(request.Program);
            if (
                request.Program.Device is not { } device
                || facts.Words != 1
                || graph.InstructionAt(facts.Address) is not { } decoded
                || NamedRegister.Of(graph, facts.Address, decoded) is not { } named
            )
                return null;
            // Numbers may be addresses where jumps are computed freely.
            if (graph.Walk.HasWildJump)
                return null;
            // What skips one instruction would skip the selection only; in a table of jumps each word has its place.
            if (
                graph.InstructionAt(facts.Address - 1) is { Instruction.MaySkip: true }
                || graph.Walk.Tables.Values.Any(t => facts.Address >= t.First && facts.Address < t.End)
            )
                return null;
            int banks = device.DataMemory.BankCount;
            if (graph.StateAt(facts.Address).Bank(banks) is not { } now)
                return null;
            bool goesOn = !decoded.Instruction.MaySkip && !decoded.Instruction.IsJump && !decoded.Instruction.IsReturn;
            return new Target(
                request,
                request.Syntax(request.FirstLine),
                facts.Address,
                named.Address,
                now,
                goesOn,
                banks,
                UsesDirective(request.Program)
            );
        }

        /// <summary>The lines that select the bank of an address.</summary>
        public List<string> Selection(int address)
        {
            SourceStyle style = SourceStyle.Of(Request.Text);
            ColumnStyle columns = ColumnStyle.Of(Request.Text);
            if (ByDirective)
                return
                [
                    columns.Statement(
                        style.Operation(OperationWords.Spell(Keyword.BankSelect)),
                        address == Address ? Syntax.Operands[0].Text : Show.Hex(address, 2)
                    ),
                ];
            ChipWords words = ChipWords.Of(Request.Program);
            int bank = DataMemory.BankOf(address),
                from = address == Address ? BankBefore : DataMemory.BankOf(Address);
            var lines = new List<string>();
            for (int bit = 0; bit < (Banks > 2 ? 2 : 1); bit++)
            {
                if (((bank ^ from) >> bit & 1) == 0)
                    continue;
                string operation = style.Operation((bank >> bit & 1) != 0 ? "bsf" : "bcf");
                lines.Add(
                    columns.Statement(
                        operation,
                        words.RegisterBit("STATUS", 3, "RP" + bit.ToString(CultureInfo.InvariantCulture), 5 + bit)
                    )
                );
            }

            return lines;
        }

        // As the program does it mostly; by the directive where it never does.
        private static bool UsesDirective(ProgramAnalysis program)
        {
            int directives = 0,
                bits = 0;
            foreach (SourceFile file in program.Files)
            {
                foreach (TextLine text in file.Text.Lines)
                {
                    LineSyntax line = LineSyntax.Of(text);
                    if (line.Keyword == Keyword.BankSelect)
                        directives++;
                }
            }

            foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
            {
                // BSF or BCF of RP0 or RP1, written as such.
                if (
                    address < 0x2000
                    && (word & 0x3800) == 0x1000
                    && (word & 0x7F) == 3
                    && ((word >> 7) & 7) is 5 or 6
                    && program.SyntaxOf(origin.File, origin.Line).OperationKind == OperationKind.Instruction
                )
                    bits++;
            }

            return directives >= bits;
        }
    }
}
