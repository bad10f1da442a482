using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>An instruction: what it does, and what it comes to on this line.</summary>
internal static class InstructionExplainer
{
    public static Explanation Explain(ExplainContext context, Instruction instruction, TextSpan span)
    {
        var text = new MarkdownText();
        string operands = instruction.OperandNames.Length > 0 ? " " + instruction.OperandNames : "";
        text.Paragraph(
            $"**{instruction.Name.ToUpperInvariant()}**{operands}: {MarkdownText.Escape(instruction.Summary)}"
        );
        List<(int Address, int Word)> words = context.Words(2);
        DecodedInstruction? decoded = words.Count == 1 ? InstructionSet.Decode(words[0].Word) : null;
        if (decoded is { } here && here.Instruction == instruction)
        {
            int? named = context.RegisterAddress() is { } full && (full & 0x7F) == here.First ? full : null;
            if (Here(context, here, named) is { Length: > 0 } what)
                text.Bullet(what);
            foreach (string reached in ReachExplainer.Of(context, here, named))
                text.Bullet(reached);
            foreach (string pins in PinExplainer.Of(context))
                text.Bullet(pins);
            if (TimeExplainer.Of(context, here) is { } time)
                text.Bullet(time);
        }

        text.Bullet($"{Cycles(context, instruction, decoded)}; {Flags(instruction.Affects)}");
        foreach ((int address, int word) in words)
            text.Bullet(Word(address, word));
        if (instruction.IsLegacy)
            text.Bullet(Legacy(instruction));
        LeftOut(context, text);
        return new Explanation(text.ToString(), span);
    }

    /// <summary>Why a line made no words, where that is so.</summary>
    public static void LeftOut(ExplainContext context, MarkdownText text)
    {
        if (context.Facts.Role.HasFlag(LineRole.Skipped))
            text.Bullet("The condition around this line leaves it out: it makes no word.");
        else if (context.Facts.Role.HasFlag(LineRole.AfterEnd))
            text.Bullet("This line is ignored: it comes after the end of the program.");
        else if (context.Facts.Role.HasFlag(LineRole.Body))
            text.Bullet("A line of a macro or loop: it makes words wherever that is put in.");
    }

    /// <summary>A word with its address: <c>word 0x1683 at address 0x0004</c>.</summary>
    public static string Word(int address, int word) =>
        $"Word {MarkdownText.Code(Show.Hex(word))} at address {MarkdownText.Code(Show.Hex(address))}";

    /// <summary>The instruction cycles, with the time where the clock is known.</summary>
    public static string Cycles(ExplainContext context, Instruction instruction, DecodedInstruction? decoded)
    {
        // Data sheet DS35007B, table 7-2, note 3: two cycles where the program counter is modified.
        bool jumps = decoded is { } here && CycleText.WritesProgramCounter(here);
        int count = jumps ? 2 : instruction.Cycles;
        string cycles =
            instruction.MaySkip ? "1 cycle, 2 when it skips"
            : count == 1 ? "1 cycle"
            : "2 cycles";
        string why = jumps ? ", because it changes the program counter" : "";
        if (context.Clock is not { } clock)
            return cycles + why;
        string time = instruction.MaySkip ? $"{clock.Time(1)} or {clock.Time(2)}" : clock.Time(count);
        return $"{cycles} ({time} at {clock.Rate}){why}";
    }

    /// <summary>The flags that change, in words.</summary>
    public static string Flags(StatusFlags flags)
    {
        if (flags == StatusFlags.None)
            return "changes no flag";
        var names = new List<string>(3);
        if (flags.HasFlag(StatusFlags.Carry))
            names.Add("C");
        if (flags.HasFlag(StatusFlags.DigitCarry))
            names.Add("DC");
        if (flags.HasFlag(StatusFlags.Zero))
            names.Add("Z");
        if (flags.HasFlag(StatusFlags.TimeOut))
            names.Add("TO");
        if (flags.HasFlag(StatusFlags.PowerDown))
            names.Add("PD");
        return (names.Count == 1 ? "changes the flag " : "changes the flags ") + string.Join(", ", names);
    }

    /// <summary>One word as an instruction in the notation of listings, for expansions: <c>btfsc 0x03,2</c>.</summary>
    public static string Listing(int word, int address)
    {
        if (InstructionSet.Decode(word) is not { } decoded)
            return $"dw {Show.Hex(word)}";
        string name = decoded.Instruction.Name;
        return decoded.Instruction.Operands switch
        {
            OperandKind.Register => $"{name} {Show.Hex(decoded.First, 2)}",
            OperandKind.RegisterDestination =>
                $"{name} {Show.Hex(decoded.First, 2)},{(decoded.Second == 0 ? "w" : "f")}",
            OperandKind.RegisterBit => $"{name} {Show.Hex(decoded.First, 2)},{decoded.Second}",
            OperandKind.Literal8 => $"{name} {Show.Hex(decoded.First, 2)}",
            OperandKind.Address11 => $"{name} {Show.Hex((address & 0x1800) | decoded.First)}",
            OperandKind.TrisPort => $"{name} {decoded.First}",
            _ => name,
        };
    }

    // What the operands of this very line come to.
    private static string Here(ExplainContext context, in DecodedInstruction decoded, int? full)
    {
        string register = RegisterExplainer.NameOf(context.Device, full, decoded.First);
        switch (decoded.Instruction.Operands)
        {
            case OperandKind.Register:
                return $"Here: {register}";
            case OperandKind.RegisterDestination:
                return $"Here: {register}; the result goes to {(decoded.Second == 0 ? "W" : "the register")}";
            case OperandKind.RegisterBit:
                Register? known = context.Device?.DataMemory.RegisterAt(full ?? decoded.First);
                string bit = known?.Bit(decoded.Second) is { } field
                    ? $"; {MarkdownText.Code(field.Spellings[0])}{Meaning(field)}"
                    : "";
                return $"Here: bit {decoded.Second} of {register}{bit}";
            case OperandKind.Literal8:
                return $"Here: {LiteralExplainer.AllBases(decoded.First)}";
            case OperandKind.Address11:
                int? value =
                    context.Syntax.Operands.Length > 0 ? context.ValueOf(context.Syntax.Operands[0].Value) : null;
                // What an unknown label gives is not where the program goes.
                if (value is null && context.Syntax.Operands.Length > 0 && context.Program.HasErrors)
                    return "Here: the address is not known; 'check' shows why";
                int target = value ?? decoded.First;
                return $"Here: address {MarkdownText.Code(Show.Hex(target))}";
            case OperandKind.TrisPort:
                return $"Here: the direction register of port {(char)('A' + decoded.First - 5)} (register {Show.Hex(decoded.First + 0x80, 2)})";
            default:
                return "";
        }
    }

    private static string Meaning(BitField field) =>
        field.Description.Length > 0 ? ": " + MarkdownText.Escape(field.Description) : "";

    private static string Legacy(Instruction instruction) =>
        instruction.Name == "option"
            ? "Every chip of this family carries it out, but data sheets advise to write the register OPTION_REG in bank 1 instead."
            : "Every chip of this family carries it out, but data sheets advise to write the TRIS register in bank 1 instead.";
}
