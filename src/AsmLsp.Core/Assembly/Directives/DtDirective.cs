namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>dt</c>: a table of RETLW.</summary>
internal sealed class DtDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["dt"];

    public override string Usage => "dt value,\"text\"";

    public override string Summary => "Places one RETLW for each value and each character: a table to call into.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Operands.Length == 0)
            ValueAt(pass, line, 0, "a value");
        foreach (int value in ByteList.Read(pass, line, 8))
            pass.Placer.Place(0x3400 | value, line);
    }
}
