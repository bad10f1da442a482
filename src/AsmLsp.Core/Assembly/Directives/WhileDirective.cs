using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>while</c>: repeats lines as long as a condition holds.</summary>
internal sealed class WhileDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["while", "#while"];

    public override string Usage => "while condition ... endw";

    public override string Summary =>
        "Assembles the lines up to 'endw' again and again, as long as the condition is not 0; the condition is looked at first.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        LineCursor outer = pass.Cursor;
        List<EffectiveLine>? body = pass.CollectBody(line, Keyword.While, Keyword.EndWhile);
        if (body is null)
            return;
        SourcePlace place = line.OperationPlace;
        Operands.ReportSurplus(pass, line, 1, "one condition");
        var via = new Expansion("while", place, line.Via);
        if (via.Depth > AssemblyPass.DeepestMacro)
        {
            pass.Stop(
                via.Outermost,
                null,
                $"Loops and macros are nested more than {AssemblyPass.DeepestMacro} levels deep from here."
            );
            return;
        }

        for (int turn = 0; ; turn++)
        {
            Value condition = Condition(pass, line);
            // With a condition in error the lines are read once, so that what is wrong in them is reported as well.
            if ((condition.IsKnown ? condition.Number == 0 : turn > 0) || pass.Ended || outer.WasLeft)
                return;
            if (turn == AssemblyPass.MostTurns)
            {
                pass.Stop(
                    place,
                    line.Via,
                    $"This loop goes round more than {AssemblyPass.MostTurns:N0} times; does its condition ever become 0?"
                );
                return;
            }

            if (!pass.CountExpanded(line))
                return;
            pass.Expand(body, via, null, false, outer);
        }
    }
}
