namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>if</c>: the lines that follow count only under a condition.</summary>
internal sealed class IfDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["if", "#if"];

    public override string Usage => "if condition";

    public override string Summary => "The lines up to 'else' or 'endif' count only where the condition is not 0.";

    public override bool RunsWhileSkipping => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (!pass.Conditions.IsSkipping)
            Operands.ReportSurplus(pass, line, 1, "one condition");
        bool condition = !pass.Conditions.IsSkipping && Holds(pass, line);
        pass.Conditions.Open(line.OperationPlace, line.Syntax.Operation!, condition, NamesIn(line));
    }
}
