using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>radix</c>: the base of bare numbers.</summary>
internal sealed class RadixDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["radix"];

    public override string Usage => "radix dec";

    public override string Summary => "Sets how numbers without a mark are read from here on: dec, hex or oct.";

    public override bool KeepsOperands => true;

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        string name = line.Syntax.OperandText;
        if (name.Length == 0)
            pass.Report(
                Catalogue.MissingOperand,
                line.OperationPlace,
                line.Via,
                line.Syntax.Operation!,
                "a base",
                Usage
            );
        else
            Set(pass, line, Operands.Unquoted(name), line.Syntax.OperandSpan);
    }

    /// <summary>Sets the radix by its name; an unknown name is reported.</summary>
    public static void Set(AssemblyPass pass, in EffectiveLine line, string name, TextSpan span)
    {
        int radix = name.ToLowerInvariant() switch
        {
            "hex" or "hexadecimal" or "16" or "h" => 16,
            "dec" or "decimal" or "10" or "d" => 10,
            "oct" or "octal" or "8" or "o" => 8,
            "bin" or "binary" or "2" or "b" => 2,
            _ => 0,
        };
        if (radix == 0)
            pass.Report(
                Catalogue.BadDirective,
                line.Place(span),
                line.Via,
                $"'{name}' is not a base for numbers. Write dec, hex or oct."
            );
        else
            pass.Radix = radix;
    }
}
