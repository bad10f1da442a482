using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// The readings of a line near its printed text that give a printed word: one character taken for another that looks like it, one
/// lost, or one too many, in the operation or in one operand.
/// </summary>
internal sealed class NearMisses(ProgramAnalysis program)
{
    private const string Digits = "0123456789ABCDEF";

    /// <summary>Whether a line gives a word as it is.</summary>
    public bool Gives(string text, int word, int radix)
    {
        LineSyntax syntax = LineSyntax.Parse(text);
        if (
            InstructionSet.Decode(word) is not { IsCanonical: true } wanted
            || !wanted.Instruction.Name.Equals(syntax.Operation, StringComparison.OrdinalIgnoreCase)
        )
            return false;
        int[] values = ValuesOf(wanted);
        if (syntax.Operands.Length != values.Length)
            return false;
        for (int i = 0; i < values.Length; i++)
            if (
                ValueOf(syntax.Operands[i].Text.Trim(), radix) is not { } value
                || !Fits(value, values[i], wanted.Instruction.Operands, i)
            )
                return false;
        return true;
    }

    /// <summary>The whole lines that give the word, looks-alike first; empty where there is none.</summary>
    /// <param name="text">The line as it is, without a doubt.</param>
    /// <param name="word">The word that is printed beside it.</param>
    /// <param name="radix">The radix of its numbers.</param>
    public List<string> Find(string text, int word, int radix)
    {
        var found = new List<string>();
        if (InstructionSet.Decode(word) is not { IsCanonical: true } wanted)
            return found;
        LineSyntax syntax = LineSyntax.Parse(text);
        if (syntax.OperationToken < 0 && syntax.LabelToken >= 0)
            syntax = LineSyntax.Parse(" " + text);
        if (syntax.OperationToken < 0)
            return found;
        string operation = syntax.Operation!,
            meant = wanted.Instruction.Name;
        bool isSame = operation.Equals(meant, StringComparison.OrdinalIgnoreCase);
        if (!isSame && !IsNear(operation, meant))
            return found;

        int[] values = ValuesOf(wanted);
        if (syntax.Operands.Length != values.Length)
            return found;
        int wrong = -1;
        for (int i = 0; i < values.Length; i++)
        {
            int? value = ValueOf(syntax.Operands[i].Text.Trim(), radix);
            if (value is { } known && Fits(known, values[i], wanted.Instruction.Operands, i))
                continue;
            // One slip a line: what has two is not near.
            if (wrong >= 0 || !isSame)
                return found;
            wrong = i;
        }

        if (wrong < 0)
        {
            if (!isSame)
                found.Add(
                    With(
                        syntax,
                        syntax.Tokens[syntax.OperationToken].Start,
                        operation.Length,
                        operation.AsSpan().ContainsAnyInRange('a', 'z') ? meant : meant.ToUpperInvariant()
                    )
                );
            return found;
        }

        OperandSyntax operand = syntax.Operands[wrong];
        string written = operand.Text.Trim();
        foreach (string near in Near(written, radix))
            if (
                ValueOf(near, radix) is { } value
                && Fits(value, values[wrong], wanted.Instruction.Operands, wrong)
                && With(syntax, operand.Span.Start, written.Length, near) is var line
                && !found.Contains(line)
            )
                found.Add(line);
        return found;
    }

    private static int[] ValuesOf(in DecodedInstruction wanted) =>
        wanted.Instruction.Operands switch
        {
            OperandKind.None => [],
            OperandKind.RegisterDestination or OperandKind.RegisterBit => [wanted.First, wanted.Second],
            _ => [wanted.First],
        };

    private static string With(LineSyntax syntax, int start, int length, string now) =>
        string.Concat(syntax.Text.AsSpan(0, start), now, syntax.Text.AsSpan(start + length));

    // An address on the page, a value of eight bits, a register of its bank.
    private static bool Fits(int value, int wanted, OperandKind kind, int index) =>
        kind switch
        {
            OperandKind.Literal8 => value is >= -128 and <= 255 && (value & 0xFF) == wanted,
            OperandKind.Address11 => (value & 0x7FF) == wanted,
            _ => index == 0 ? value is >= 0 and <= 0x1FF && (value & 0x7F) == wanted : value == wanted,
        };

    private int? ValueOf(string text, int radix)
    {
        if (text.Length == 0)
            return null;
        if (char.IsAsciiDigit(text[0]) || text[0] == '.' || text.Contains('\'', StringComparison.Ordinal))
            return Literals.Read(text, radix) is { Fault: LiteralFault.None } reading ? reading.Value : null;
        if (program.FindSymbol(text) is { } symbol)
            return symbol.IsKnown && symbol.Kind != SymbolKind.Define ? symbol.Value : null;
        if (program.NamesDevice?.Symbols.Find(text) is { } known)
            return known.Value;
        return text is "w" or "W" ? 0
            : text is "f" or "F" ? 1
            : null;
    }

    private IEnumerable<string> Near(string written, int radix)
    {
        if (written.Length == 0)
            yield break;
        // What looks alike first, then what has lost a character or has one too many.
        for (int i = 0; i < written.Length; i++)
            foreach (char other in Digits + "lwfWF")
                if (
                    other != written[i]
                    && char.ToUpperInvariant(other) != char.ToUpperInvariant(written[i])
                    && GlyphConfusion.Alike(written[i], other)
                )
                    yield return string.Concat(written.AsSpan(0, i), other.ToString(), written.AsSpan(i + 1));
        foreach (string name in Names())
            if (IsNear(written, name))
                yield return name;
        if (Literals.Read(written, radix).Fault != LiteralFault.None && !char.IsAsciiDigit(written[0]))
            yield break;
        for (int i = 0; i < written.Length; i++)
            yield return written.Remove(i, 1);
        for (int i = 0; i <= written.Length; i++)
            foreach (char digit in Digits)
                yield return written.Insert(i, digit.ToString());
    }

    private IEnumerable<string> Names()
    {
        foreach (Symbol symbol in program.Symbols)
            if (symbol.Kind is not (SymbolKind.Macro or SymbolKind.External or SymbolKind.Define))
                yield return symbol.Name;
        if (program.NamesDevice is { } device)
            foreach (DeviceSymbol symbol in device.Symbols.All)
                yield return symbol.Name;
    }

    private static bool IsNear(string read, string known)
    {
        if (read.Equals(known, StringComparison.Ordinal))
            return false;
        if (read.Length == known.Length)
            return GlyphConfusion.MayBe(read.ToUpperInvariant(), known.ToUpperInvariant(), static _ => true)
                || GlyphConfusion.MayBe(read, known, static _ => true);
        return Math.Abs(read.Length - known.Length) == 1
            && Math.Max(read.Length, known.Length) > 2
            && WordDistance.Of(read, known) == 1;
    }
}
