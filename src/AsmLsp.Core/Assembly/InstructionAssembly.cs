using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Turns an instruction's line, or a shorthand's, into its words.</summary>
internal sealed class InstructionAssembly(AssemblyPass pass)
{
    private const int ToRegister = 1;

    public void Assemble(in EffectiveLine line)
    {
        string name = line.Syntax.Operation!;
        if (InstructionSet.Find(name) is { } instruction)
        {
            (int first, int second) = ReadOperands(line, instruction.Name, instruction.Operands);
            pass.Placer.Place(instruction.Encode(first, second), line);
            return;
        }

        Shorthand shorthand = Shorthand.Find(name)!;
        if (shorthand.DependsOnPages)
        {
            LongJump(line, shorthand);
            return;
        }

        (int a, int b) = ReadOperands(line, shorthand.Name, shorthand.Operands);
        foreach (int word in shorthand.Expand(a, b))
            pass.Placer.Place(word, line);
    }

    // LCALL and LGOTO set the page bits first, as many as the chip has.
    private void LongJump(in EffectiveLine line, Shorthand shorthand)
    {
        Surplus(line, 1, "one address");
        Value target = Operand(line, 0, shorthand.Name, OperandKind.Address11);
        int pages = pass.Chip.Needed(line)?.ProgramPages ?? 1;
        PageSelectDirective.Select(pass, line, target.Number, pages);
        foreach (int word in shorthand.Expand(target.Number & 0x7FF, 0))
            pass.Placer.Place(word, line);
        CheckAddress(line, target);
    }

    private (int First, int Second) ReadOperands(in EffectiveLine line, string name, OperandKind kind)
    {
        switch (kind)
        {
            case OperandKind.Register:
                Surplus(line, 1, "a register");
                return (Register(line, name, kind), 0);
            case OperandKind.RegisterDestination:
                Surplus(line, 2, "a register and a destination");
                return (Register(line, name, kind), Destination(line, name));
            case OperandKind.RegisterBit:
                Surplus(line, 2, "a register and a bit number");
                return (Register(line, name, kind), Bit(line, name));
            case OperandKind.Literal8:
                Surplus(line, 1, "one value");
                return (Literal(line, name), 0);
            case OperandKind.Address11:
                Surplus(line, 1, "one address");
                Value address = Operand(line, 0, name, kind);
                CheckAddress(line, address);
                return (address.Number & 0x7FF, 0);
            case OperandKind.TrisPort:
                Surplus(line, 1, "a port");
                return (TrisPort(line, name), 0);
            default:
                Surplus(line, 0, "nothing");
                return (0, 0);
        }
    }

    private void Surplus(in EffectiveLine line, int most, string takes) =>
        Operands.ReportSurplus(pass, line, most, takes);

    private Value Operand(in EffectiveLine line, int index, string name, OperandKind kind)
    {
        var operands = line.Syntax.Operands;
        if (index >= operands.Length || operands[index].Span.Length == 0)
        {
            // A name of a file that is missing may be defined there as register and bit; that file is the error.
            if (index == 1 && operands.Length == 1 && pass.MayBeOfMissingFile(operands[0].Value))
                return Value.Unknown;
            SourcePlace place = index < operands.Length ? line.Place(operands[index].Span) : line.OperationPlace;
            (string wanted, string form) = Wanted(name, kind, index);
            pass.Report(Catalogue.MissingOperand, place, line.Via, name, wanted, form);
            return Value.Unknown;
        }

        Value value = pass.Evaluate(operands[index].Value, line);
        Operands.ReportLeftover(pass, line, operands[index]);
        return value;
    }

    private static (string Wanted, string Form) Wanted(string name, OperandKind kind, int index) =>
        kind switch
        {
            OperandKind.RegisterBit when index == 1 => ("a bit number after the register", $"{name} register,bit"),
            OperandKind.RegisterBit => ("a register and a bit number", $"{name} register,bit"),
            OperandKind.RegisterDestination when index == 1 => (
                "a destination after the comma",
                $"{name} register,w or {name} register,f"
            ),
            OperandKind.RegisterDestination => ("a register", $"{name} register,destination"),
            OperandKind.Register => ("a register", $"{name} register"),
            OperandKind.Literal8 => ("a value", $"{name} value"),
            OperandKind.TrisPort => ("a port", $"{name} PORTB"),
            _ => ("an address", $"{name} label"),
        };

    private int Register(in EffectiveLine line, string name, OperandKind kind)
    {
        Value value = Operand(line, 0, name, kind);
        if (!value.IsKnown)
            return 0;
        if (value.Number is < 0 or > 0x1FF)
            pass.Report(
                Catalogue.RegisterOutOfRange,
                line.Place(line.Syntax.Operands[0].Span),
                line.Via,
                Show.Hex(value.Number),
                Show.Hex(value.Number & 0x7F, 2)
            );
        return value.Number & 0x7F;
    }

    private int Destination(in EffectiveLine line, string name)
    {
        var operands = line.Syntax.Operands;
        if (operands.Length < 2 || operands[1].Span.Length == 0)
        {
            // A comma with nothing after it: a destination was written, and is lost.
            if (operands.Length > 1)
                Operand(line, 1, name, OperandKind.RegisterDestination);
            else if (operands.Length > 0)
                pass.Report(Catalogue.DestinationLeftOut, line.OperationPlace, line.Via, name.ToUpperInvariant());
            return ToRegister;
        }

        Value value = Operand(line, 1, name, OperandKind.RegisterDestination);
        if (!value.IsKnown)
            return ToRegister;
        if (value.Number is 0 or 1)
        {
            if (IsTurned(operands[1].Text, value.Number))
                pass.Report(
                    Catalogue.DestinationTurned,
                    line.Place(operands[1].Span),
                    line.Via,
                    operands[1].Text,
                    Show.Decimal(value.Number),
                    value.Number == 0 ? "W" : "the register"
                );
            return value.Number;
        }

        int taken = value.Number & 1;
        pass.Report(
            Catalogue.DestinationUnclear,
            line.Place(operands[1].Span),
            line.Via,
            operands[1].Text,
            taken == 0 ? "W" : "the register"
        );
        return taken;
    }

    // A label or value of that name means the other destination.
    private static bool IsTurned(string destination, int value) =>
        destination.Trim() is [var c] && (char.ToUpperInvariant(c), value) is ('F', 0) or ('W', 1);

    private int Bit(in EffectiveLine line, string name)
    {
        Value value = Operand(line, 1, name, OperandKind.RegisterBit);
        if (!value.IsKnown || value.Number is >= 0 and <= 7)
            return value.Number;
        pass.Report(
            Catalogue.BitOutOfRange,
            line.Place(line.Syntax.Operands[1].Span),
            line.Via,
            Show.Decimal(value.Number)
        );
        return value.Number & 7;
    }

    private int Literal(in EffectiveLine line, string name)
    {
        Value value = Operand(line, 0, name, OperandKind.Literal8);
        if (!value.IsKnown)
            return 0;
        DecimalEvidence.Check(pass, line, line.Syntax.Operands[0].Value);
        // '~0xF0' fills the bits above with ones: nothing is lost there.
        bool isInverted =
            value.Number is >= -256 and < -128 && line.Syntax.Operands[0].Text.Contains('~', StringComparison.Ordinal);
        if (value.Number is < -128 or > 255 && !isInverted)
            ReportTooLarge(line, value.Number);
        return value.Number & 0xFF;
    }

    // A timer's reload of -130 and a count of 256 are meant as they are; anything else loses bits that somebody wrote.
    private void ReportTooLarge(in EffectiveLine line, int value)
    {
        SourcePlace place = line.Place(line.Syntax.Operands[0].Span);
        string kept = Show.Hex(value & 0xFF, 2);
        string digits = line.Syntax.Operands[0].Text.Trim(' ', '\t', '-');
        bool isBare = pass.Radix == 16 && digits.Length > 0 && !digits.AsSpan().ContainsAnyExceptInRange('0', '9');
        if (!isBare && value is 256 or (>= -255 and < -128))
        {
            string counts = value == 256 ? " A counter that DECFSZ steps then runs 256 times." : "";
            pass.Report(Catalogue.LiteralWraps, place, line.Via, Show.Decimal(value), kept, counts);
            return;
        }

        string cause =
            isBare && digits.Length <= 3
                ? $" {digits} is read as hexadecimal here: write .{digits} for the decimal number."
                : "";
        pass.Report(Catalogue.LiteralOutOfRange, place, line.Via, Show.Hex(value, 2), kept, cause);
    }

    private int TrisPort(in EffectiveLine line, string name)
    {
        Value value = Operand(line, 0, name, OperandKind.TrisPort);
        if (!value.IsKnown)
            return 5;
        // Both the port and its direction register (0x80 higher) name the port.
        int port = value.Number & 0x7F;
        if (port is >= 5 and <= 7 && value.Number is >= 0 and <= 0x1FF)
            return port;
        pass.Report(
            Catalogue.TrisPortUnclear,
            line.Place(line.Syntax.Operands[0].Span),
            line.Via,
            line.Syntax.Operands[0].Text
        );
        return 5;
    }

    private void CheckAddress(in EffectiveLine line, Value address)
    {
        if (!address.IsKnown)
            return;
        int last = pass.Chip.Device?.ProgramWords - 1 ?? 0x1FFF;
        if (address.Number >= 0 && address.Number <= last)
            return;
        string chip = pass.Chip.Device?.Name ?? "any chip of this family";
        pass.Report(
            Catalogue.JumpOutsideMemory,
            line.Place(line.Syntax.Operands[0].Span),
            line.Via,
            Show.Hex(address.Number),
            chip,
            Show.Hex(last)
        );
    }
}
