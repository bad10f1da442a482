using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>+=</c>, <c>++</c> and their like: change the value of a name.</summary>
internal sealed class AssignDirective : Directive
{
    private static readonly Dictionary<string, Operator> Operators = new(StringComparer.Ordinal)
    {
        ["+="] = Operator.Add,
        ["-="] = Operator.Subtract,
        ["*="] = Operator.Multiply,
        ["/="] = Operator.Divide,
        ["%="] = Operator.Remainder,
        ["<<="] = Operator.ShiftLeft,
        [">>="] = Operator.ShiftRight,
        ["&="] = Operator.And,
        ["|="] = Operator.Or,
        ["^="] = Operator.ExclusiveOr,
    };

    public override IReadOnlyList<string> Words { get; } = [.. Operators.Keys, "++", "--"];

    public override string Usage => "name += value";

    public override string Summary => "Changes the value of the name by the operator before the sign.";

    public override bool UsesLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        if (syntax.Label is not { } name)
        {
            pass.Report(Catalogue.NameMissing, line.OperationPlace, line.Via, syntax.Operation!);
            return;
        }

        string sign = syntax.Operation!;
        if (sign is "++" or "--")
            Operands.ReportText(pass, line);
        else
            Operands.ReportSurplus(pass, line, 1, "one value");
        var self = new NameExpression(syntax.Tokens[syntax.LabelToken].Span, name);
        Value value;
        if (sign is "++" or "--")
        {
            Value before = pass.Evaluate(self, line);
            value = before.IsKnown ? before.Number + (sign == "++" ? 1 : -1) : Value.Unknown;
        }
        else if (syntax.Operands.Length == 0)
        {
            value = ValueAt(pass, line, 0, "a value");
        }
        else
        {
            Operands.ReportLeftover(pass, line, syntax.Operands[0]);
            var whole = new BinaryExpression(
                syntax.CodeSpan,
                Operators[sign],
                self,
                syntax.Operands[0].Value,
                syntax.Tokens[syntax.OperationToken].Span
            );
            value = pass.Evaluate(whole, line);
        }

        pass.Assign(name, value, line.Place(syntax.LabelToken), line.Via);
    }
}
