using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Replacement;

/// <summary>Memory, registers and banks.</summary>
internal sealed partial class ReplacementWork
{
    private const int MostRounds = 40;

    /// <summary>Moves blocks of variables and equates of memory to where the new chip has memory.</summary>
    public void MoveMemory()
    {
        if (!map.Fits)
        {
            Add(
                FindingKind.Impossible,
                "memory",
                null,
                FormattableString.Invariant(
                    $"The program uses memory from 0x{map.Used.Min():X2} to 0x{map.Used.Max():X2}, and {to.Name} has no such stretch in one piece."
                )
            );
            return;
        }

        if (map.Shift == 0)
            return;
        HashSet<int> moved = [];
        for (int old = 0; old < before.Root.Text.LineCount; old++)
        {
            LineSyntax syntax = before.SyntaxOf(before.Root, old);
            if (syntax.Keyword == Keyword.VariableBlock && syntax.Operands.Length == 1)
                MoveNumber(old, syntax.Operands[0], before.FactsOf(before.Root, old), moved);
        }

        MoveOperands(moved);
        foreach (Symbol symbol in before.Symbols)
        {
            if (
                symbol is { Kind: SymbolKind.Constant, IsKnown: true }
                && symbol.Definition.File == before.Root
                && from.DataMemory.RegisterAt(symbol.Value) is null
                && from.DataMemory.IsGeneralPurpose(symbol.Value)
                && IsUsedAsRegister(symbol)
            )
                WriteValue(symbol, symbol.Value + map.Shift, moved);
        }

        if (moved.Count > 0)
            Add(
                FindingKind.Changed,
                "memory",
                moved.Min(),
                FormattableString.Invariant(
                    $"Memory moves by 0x{map.Shift:X2}: {to.Name} has none at 0x{map.Used.Min():X2}."
                )
            );
        if (UsesIndirect())
            Add(
                FindingKind.Doubt,
                "memory",
                null,
                "The program reaches memory through FSR. Names move with the memory; check that no loop counts to an address of the old chip."
            );
        Assemble();
    }

    /// <summary>Gives registers that are elsewhere on the new chip their address and their bank, line by line until nothing is left.</summary>
    public void MoveRegisters()
    {
        foreach (Symbol symbol in before.Symbols)
        {
            if (
                symbol is { Kind: SymbolKind.Constant, IsKnown: true }
                && symbol.Definition.File == before.Root
                && from.Symbols.FindAnyCase(symbol.Name) is { Kind: DeviceSymbolKind.Register, Register: { } register }
                && from.DataMemory.Canonical(symbol.Value) == from.DataMemory.Canonical(register.Address)
                && map.FindRegister(register) is { } there
                && (there.Address & 0x7F) != (symbol.Value & 0x7F)
            )
            {
                HashSet<int> lines = [];
                WriteValue(symbol, there.Address, lines);
                foreach (int line in lines)
                    Add(
                        FindingKind.Changed,
                        "registers",
                        line,
                        FormattableString.Invariant($"{register.Name} is at 0x{there.Address:X2} on {to.Name}.")
                    );
            }
        }

        Assemble();
        var given = new HashSet<int>();
        for (int round = 0; round < MostRounds && !after.HasErrors; round++)
        {
            WordPairs pairs = WordPairs.Of(before, after, Draft);
            FlowGraph now = FlowGraph.Of(after);
            if (!pairs.IsComplete || !OneBank(pairs, now, given))
                break;
            Assemble();
        }
    }

    // Puts the bank around one instruction that would reach another register; gives whether something was changed.
    private bool OneBank(WordPairs pairs, FlowGraph now, HashSet<int> given)
    {
        DataMemory memory = to.DataMemory;
        foreach (WordPair pair in pairs.Pairs)
        {
            if (
                given.Contains(pair.Old)
                || flow.InstructionAt(pair.Old) is not { } decoded
                || !NamedRegister.Takes(decoded)
                || flow.ReachOf(pair.Old) == Reach.None
                || RegisterMap.AddressOf(flow, from, pair.Old, decoded) is not { } address
                || map.Find(address) is not { } wanted
                || InstructionSet.Decode(pair.NewWord) is not { } written
                || memory.IsSameInEveryBank(wanted)
            )
                continue;
            FlowState state = now.StateAt(pair.New);
            int? bank = state.Bank(memory.BankCount);
            if (bank is { } selected && memory.Canonical((selected << 7) | written.First) == wanted)
                continue;
            int needed = Enumerable
                .Range(0, memory.BankCount)
                .Where(b => memory.Canonical((b << 7) | written.First) == wanted)
                .DefaultIfEmpty(-1)
                .First();
            if (needed < 0)
                continue;
            given.Add(pair.Old);
            bool isSkipped = flow.InstructionAt(pair.Old - 1) is { Instruction.MaySkip: true };
            if (
                bank is not { } current
                || pair.OldLine < 0
                || isSkipped
                || written.Instruction.MaySkip
                || IsInMacro(pair.Old)
            )
            {
                Doubt(
                    "registers",
                    pair.OldLine,
                    $"{NameOf(address)} is in bank {needed} on {to.Name}: select it before this line, and the old bank after it"
                );
                continue;
            }

            InsertBank(pair.OldLine, current, needed);
            Add(
                FindingKind.Changed,
                "registers",
                pair.OldLine,
                $"{NameOf(address)} is in bank {needed} on {to.Name}: the bank is selected around this line."
            );
            return true;
        }

        return false;
    }

    private void InsertBank(int old, int current, int needed)
    {
        int line = Draft.Find(old);
        LineSyntax syntax = LineSyntax.Of(Draft.ToFile().Text[line]);
        List<string> select = Selection(current, needed);
        if (syntax.LabelToken >= 0 && syntax.OperationToken >= 0)
        {
            int operation = syntax.Tokens[syntax.OperationToken].Start;
            string label = Draft[line][..operation].TrimEnd();
            Draft.Replace(line, Draft.Indented(Draft[line][operation..]));
            select.Insert(0, label);
        }

        Draft.InsertBefore(line + 1, Selection(needed, current));
        Draft.InsertBefore(line, select);
    }

    private List<string> Selection(int current, int needed)
    {
        var lines = new List<string>();
        ChipWords words = ChipWords.Of(after);
        for (int bit = 0; bit < (to.DataMemory.BankCount > 2 ? 2 : 1); bit++)
        {
            if (((current ^ needed) >> bit & 1) != 0)
                lines.Add(
                    Draft.Statement(
                        (needed >> bit & 1) != 0 ? "bsf" : "bcf",
                        words.RegisterBit("STATUS", 3, FormattableString.Invariant($"RP{bit}"), 5 + bit)
                    )
                );
        }

        return lines;
    }

    private bool IsInMacro(int address) =>
        before.Image.TryGet(address, out _, out WordOrigin origin) && origin.Via is not null;

    private string NameOf(int address) =>
        from.DataMemory.RegisterAt(address)?.Name ?? FormattableString.Invariant($"memory at 0x{address:X2}");

    private bool UsesIndirect()
    {
        for (int at = 0; at < flow.End; at++)
        {
            if (flow.InstructionAt(at) is { } decoded && NamedRegister.Takes(decoded) && decoded.First == 0)
                return true;
        }

        return false;
    }

    // Whether instructions name the symbol as a register: a constant may be worth 0x20 by chance.
    private bool IsUsedAsRegister(Symbol symbol)
    {
        bool asRegister = false;
        foreach (Reference use in before.References.Of(symbol.Name))
        {
            if (use.IsDefinition)
                continue;
            LineSyntax line = before.SyntaxOf(use.Place.File, use.Place.Line);
            if (line.OperationKind != OperationKind.Instruction)
                continue;
            bool isOperand = line.Operands.Length > 0 && line.Operands[0].Span.Touches(use.Place.Columns.Start);
            bool takesRegister =
                InstructionSet.Find(line.Operation!)?.Operands
                is OperandKind.Register
                    or OperandKind.RegisterDestination
                    or OperandKind.RegisterBit;
            asRegister |= isOperand && takesRegister;
        }

        return asRegister;
    }

    private void WriteValue(Symbol symbol, int value, HashSet<int> changed)
    {
        int old = symbol.Definition.Line;
        LineSyntax syntax = before.SyntaxOf(before.Root, old);
        if (
            syntax.Operands.Length != 1
            || syntax.Keyword is not (Keyword.Equ or Keyword.Set or Keyword.Assign or Keyword.Constant)
        )
            return;
        // An expression over other names moves with them.
        OperandSyntax operand = syntax.Operands[0];
        if (operand.Value is not LiteralExpression)
            return;
        int line = Draft.Find(old);
        Draft.Replace(line, operand.Span, Show.Hex(value, 2));
        changed.Add(old);
    }

    // Memory that an instruction names by its number.
    private void MoveOperands(HashSet<int> changed)
    {
        for (int at = 0; at < flow.End; at++)
        {
            if (
                flow.InstructionAt(at) is not { } decoded
                || !NamedRegister.Takes(decoded)
                || !from.DataMemory.IsGeneralPurpose(decoded.First)
                || !before.Image.TryGet(at, out _, out WordOrigin origin)
                || origin.Via is not null
                || origin.File != before.Root
                || changed.Contains(origin.Line)
            )
                continue;
            LineSyntax syntax = before.SyntaxOf(before.Root, origin.Line);
            if (
                syntax.OperationKind != OperationKind.Instruction
                || syntax.Operands.Length == 0
                || syntax.Operands[0].Value is not LiteralExpression
            )
                continue;
            Draft.Replace(Draft.Find(origin.Line), syntax.Operands[0].Span, Show.Hex(decoded.First + map.Shift, 2));
            changed.Add(origin.Line);
        }
    }

    private void MoveNumber(int old, OperandSyntax operand, LineFacts facts, HashSet<int> changed)
    {
        if (operand.Value is not LiteralExpression)
        {
            Doubt(
                "memory",
                old,
                FormattableString.Invariant($"memory starts at 0x{to.DataMemory.FirstGeneralPurpose:X2} on {to.Name}")
            );
            return;
        }

        Symbol? first = before
            .Symbols.Where(s =>
                s is { Kind: SymbolKind.BlockMember, IsKnown: true }
                && s.Definition.File == before.Root
                && s.Definition.Line >= old
            )
            .OrderBy(static s => s.Definition.Line)
            .ThenBy(static s => s.Value)
            .FirstOrDefault();
        if (first is null || !from.DataMemory.IsGeneralPurpose(first.Value))
            return;
        int line = Draft.Find(old);
        Draft.Replace(line, operand.Span, Show.Hex(first.Value + map.Shift, 2));
        changed.Add(old);
    }
}
