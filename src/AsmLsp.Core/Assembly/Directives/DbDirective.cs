using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>db</c>: bytes.</summary>
internal sealed class DbDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["db"];

    public override string Usage => "db value,value";

    public override string Summary =>
        "Places bytes: one a word in the EEPROM, two a word (the first in the upper bits) in program memory.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        if (line.Syntax.Operands.Length == 0)
            ValueAt(pass, line, 0, "a value");
        List<int> bytes = ByteList.Read(pass, line, 8);
        if (pass.Placer.IsData || pass.Placer.Location is >= 0x2100 and < 0x2200)
        {
            foreach (int value in bytes)
                pass.Placer.Place(value, line);
            return;
        }

        pass.Report(
            Catalogue.UnclearData,
            line.OperationPlace,
            line.Via,
            "Printed listings do not agree on how 'db' packs bytes into words of 14 bits. Here two bytes make a word, the first in its upper 6 bits. Compare with the chip or a known HEX."
        );
        for (int i = 0; i < bytes.Count; i += 2)
            pass.Placer.Place(((bytes[i] << 8) | (i + 1 < bytes.Count ? bytes[i + 1] : 0)) & 0x3FFF, line);
    }
}
