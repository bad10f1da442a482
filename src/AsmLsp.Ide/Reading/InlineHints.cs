using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Reading;

/// <summary>Which hints are shown.</summary>
/// <param name="Words">Address and word at the end of a line.</param>
/// <param name="Values">What a name or number comes to.</param>
/// <param name="Cycles">The cycles of an instruction at the end of its line.</param>
public readonly record struct HintOptions(bool Words, bool Values, bool Cycles);

/// <summary>A few words that an editor shows inside a line.</summary>
/// <param name="At">Where they are shown.</param>
/// <param name="Text">The words.</param>
/// <param name="Tooltip">What they mean, or null.</param>
public sealed record InlineHint(LinePosition At, string Text, string? Tooltip);

/// <summary>
/// At the end of a line its address and word, as printed listings show them in front, and its cycles; after a name or number what it comes
/// to, where that is not what it looks like.
/// </summary>
public static class InlineHints
{
    /// <summary>The hints of some lines of a file, in order.</summary>
    /// <param name="file">The file.</param>
    /// <param name="first">The first line, from 0.</param>
    /// <param name="last">The last line; one after the end of the file means the last of the file.</param>
    /// <param name="options">Which hints are shown.</param>
    /// <param name="cancellation">Ends the work.</param>
    /// <exception cref="OperationCanceledException">Nobody wants the answer any more.</exception>
    public static List<InlineHint> Of(
        ProgramFile file,
        int first,
        int last,
        HintOptions options,
        CancellationToken cancellation
    )
    {
        var hints = new List<InlineHint>();
        var values = new FinalValues(file.Analysis);
        int end = Math.Min(last, file.Text.LineCount - 1);
        for (int number = Math.Max(0, first); number <= end; number++)
        {
            cancellation.ThrowIfCancellationRequested();
            LineFacts facts = file.Analysis.FactsOf(file.Source, number);
            if ((facts.Role & (LineRole.Skipped | LineRole.AfterEnd | LineRole.Body | LineRole.BlockMember)) != 0)
            {
                continue;
            }

            LineSyntax syntax = file.Line(number);
            if (options.Values)
            {
                AddValues(syntax, number, facts);
            }

            if (EndOfLine(syntax, facts) is { Length: > 0 } text)
            {
                hints.Add(new(new(number, file.Text[number].Text.Length), text, Tooltip(facts)));
            }
        }

        return hints;

        string EndOfLine(LineSyntax syntax, LineFacts facts)
        {
            if (facts.Words == 0)
            {
                return "";
            }

            var parts = new List<string>(2);
            if (options.Words && file.Analysis.Image.TryGet(facts.Address, out ushort word, out _))
            {
                string more =
                    facts.Words > 1 ? string.Create(CultureInfo.InvariantCulture, $" +{facts.Words - 1}") : "";
                parts.Add(string.Create(CultureInfo.InvariantCulture, $"{facts.Address:X4} {word:X4}{more}"));
            }

            if (options.Cycles && CyclesOf(syntax) is { } cycles)
            {
                parts.Add(cycles);
            }

            return string.Join("  ", parts);
        }

        void AddValues(LineSyntax syntax, int number, LineFacts facts)
        {
            if (syntax.OperationKind == OperationKind.Unknown || syntax.OperationToken < 0)
            {
                return;
            }

            bool literal = InstructionSet.Find(syntax.Operation!) is { Operands: OperandKind.Literal8 };
            bool defines =
                syntax.Keyword is Keyword.Equ or Keyword.Set or Keyword.Org or Keyword.VariableBlock
                || syntax.Operation == "=";
            if (
                (literal || defines)
                && syntax.Operands.Length == 1
                && syntax.Operands[0].Span.Length > 0
                && ValueShown(syntax.Operands[0], number, facts.Radix, literal) is { } shown
            )
            {
                hints.Add(new(new(number, syntax.Operands[0].Span.End), shown, null));
            }
        }

        string? ValueShown(OperandSyntax operand, int number, int radix, bool literal)
        {
            if (values.Of(operand.Value, file.Source, number) is not { } value)
            {
                return null;
            }

            if (operand.Value is LiteralExpression number1)
            {
                // '0x1F' says what it is; bare digits are what people take for decimal when they are not.
                bool bare = number1.Text.All(char.IsAsciiDigit);
                return bare && radix != 10 && value > 9
                    ? string.Create(CultureInfo.InvariantCulture, $"= {value}")
                    : null;
            }

            int word = literal ? value & 0xFF : value;
            return string.Create(CultureInfo.InvariantCulture, $"= 0x{word:X2}");
        }
    }

    private static string Tooltip(LineFacts facts) =>
        facts.Words == 1
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"Address 0x{facts.Address:X4} and the word there, in hexadecimal"
            )
            : string.Create(
                CultureInfo.InvariantCulture,
                $"Address 0x{facts.Address:X4} and the first of {facts.Words} words, in hexadecimal"
            );

    private static string? CyclesOf(LineSyntax syntax)
    {
        if (
            syntax.OperationKind != OperationKind.Instruction
            || InstructionSet.Find(syntax.Operation!) is not { } instruction
        )
        {
            return null;
        }

        return instruction.MaySkip ? "1 or 2 cycles"
            : instruction.Cycles == 1 ? "1 cycle"
            : "2 cycles";
    }
}
