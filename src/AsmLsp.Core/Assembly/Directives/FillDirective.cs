using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>fill</c>: the same word many times.</summary>
internal sealed class FillDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["fill"];

    public override string Usage => "fill value,count";

    public override string Summary => "Places the same word a number of times.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Value value = ValueAt(pass, line, 0, "a value");
        Value count = ValueAt(pass, line, 1, "a count");
        Operands.ReportSurplus(pass, line, 2, "a value and a count");
        if (!count.IsKnown)
            return;
        pass.Report(
            Catalogue.UnclearData,
            line.OperationPlace,
            line.Via,
            "Printed listings do not agree on whether 'fill' counts words or bytes. Here its second value is the number of words. Compare the addresses after it with the printed ones."
        );
        if (count.Number is < 0 or > 0x4000)
        {
            pass.Report(
                Catalogue.TooManyWords,
                line.Place(line.Syntax.Operands[1].Span),
                line.Via,
                Show.Decimal(count.Number)
            );
            return;
        }

        int word = value.IsKnown ? Operands.Cut(pass, line, line.Syntax.Operands[0].Span, value.Number, 14) : 0;
        for (int i = 0; i < count.Number; i++)
            pass.Placer.Place(word, line);
    }
}
