namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>de</c>: bytes for the EEPROM.</summary>
internal sealed class DeDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["de"];

    public override string Usage => "de value,\"text\"";

    public override string Summary =>
        "Places bytes for the EEPROM, one a word, from address 0x2100 on (write 'org 0x2100' before it).";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Operands.Length == 0)
            ValueAt(pass, line, 0, "a value");
        foreach (int value in ByteList.Read(pass, line, 8))
            pass.Placer.Place(value, line);
    }
}
