using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>__config</c>: the configuration word.</summary>
internal sealed class ConfigDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["__config", "__fuses"];

    public override string Usage => "__config _CP_OFF & _WDT_OFF & _XT_OSC";

    public override string Summary =>
        "Sets the configuration word: oscillator, watchdog, protection and the like. Settings are joined by '&'; bits that none names are 1.";

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        var operands = line.Syntax.Operands;
        int address = ChipContext.FirstConfigurationAddress;
        int at = 0;
        if (operands.Length > 1)
        {
            Value where = ValueAt(pass, line, 0, "an address");
            if (!where.IsKnown)
                return;
            if (where.Number is < 0x2007 or > 0x200F)
            {
                pass.Report(
                    Catalogue.BadDirective,
                    line.Place(operands[0].Span),
                    line.Via,
                    $"{Show.Hex(where.Number)} is not the address of a configuration word: the first is 0x2007."
                );
                return;
            }

            address = where.Number;
            at = 1;
        }

        Operands.ReportSurplus(pass, line, 2, "an address and a value");
        Value value = ValueAt(pass, line, at, "a value");
        if (at < operands.Length)
            CheckJoined(pass, line, operands[at].Value);
        if (!value.IsKnown)
            return;
        int word = value.Number & 0x3FFF;
        // '~' and friends fill the bits above the word with ones; only a plain number can be too large by mistake.
        if (value.Number > 0xFFFF || (value.Number > 0x3FFF && (value.Number & 0xC000) != 0xC000))
            pass.Report(
                Catalogue.ConfigurationTooLarge,
                line.Place(operands[at].Span),
                line.Via,
                Show.Hex(value.Number),
                Show.Hex(word)
            );
        if (pass.Placer.Image.TryGet(address, out ushort earlier, out _) && earlier != word)
            pass.Report(
                Catalogue.ConfigurationSetTwice,
                line.OperationPlace,
                line.Via,
                Show.Hex(earlier),
                Show.Hex(word)
            );
        pass.Placer.PutAt(address, word, line);
        pass.Chip.NoteConfiguration(line.Place(operands[at].Span));
    }

    private static bool HoldsSetting(AssemblyPass pass, Expression expression) =>
        expression switch
        {
            ParenthesizedExpression inner => HoldsSetting(pass, inner.Inner),
            BinaryExpression binary => HoldsSetting(pass, binary.Left) || HoldsSetting(pass, binary.Right),
            UnaryExpression { Operator: not Operator.Complement } unary => HoldsSetting(pass, unary.Operand),
            _ => pass.Chip.NamesSetting(expression),
        };

    private static void CheckJoined(AssemblyPass pass, in EffectiveLine line, Expression expression)
    {
        if (expression is ParenthesizedExpression inner)
        {
            CheckJoined(pass, line, inner.Inner);
            return;
        }

        if (expression is not BinaryExpression binary)
            return;
        if (
            binary.Operator
                is Operator.Or
                    or Operator.Add
                    or Operator.LogicalAnd
                    or Operator.LogicalOr
                    or Operator.ExclusiveOr
            && HoldsSetting(pass, binary.Left)
            && HoldsSetting(pass, binary.Right)
        )
        {
            pass.Report(
                Catalogue.ConfigurationJoinedWrongly,
                line.Place(binary.OperatorSpan),
                line.Via,
                line.Syntax.Text.Substring(binary.OperatorSpan.Start, binary.OperatorSpan.Length)
            );
            return;
        }

        CheckJoined(pass, line, binary.Left);
        CheckJoined(pass, line, binary.Right);
    }
}
