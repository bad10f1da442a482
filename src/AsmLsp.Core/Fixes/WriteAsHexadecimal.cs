using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Fixes;

/// <summary>Writes a name that is made of hexadecimal digits and that nothing defines as the number.</summary>
internal sealed class WriteAsHexadecimal : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.UndefinedName, Catalogue.ChipNotNamed];

    internal override void Offer(FixRequest request)
    {
        string name = request.Problem.Arguments[0];
        if (request.Marked != name || !Hints.IsHexDigits(name)) return;
        string number = "0x" + name.TrimEnd('h', 'H');
        bool isData = IsData(request.Syntax);
        // A call's target, or a single letter, is as likely a name whose definition was lost.
        bool certain = isData && request.Program.FactsOf(request.File, request.Line).Radix == 16 && (name.Length >= 2 && (name.Length == 2 || name.AsSpan().ContainsAnyInRange('0', '9') || name[^1] is 'h' or 'H'));
        request.Add(certain ? Certainty.Certain : Certainty.Guess, $"Write {number}", isData ? $"was {name}" : null, request.ReplaceMarked(number));
    }

    private static bool IsData(LineSyntax syntax)
    {
        if (syntax.Operation is not { } operation) return false;
        if (InstructionSet.Find(operation) is { } instruction) return instruction.Operands == OperandKind.Literal8;
        return operation.ToLowerInvariant() is "dt" or "dw" or "db" or "de" or "da" or "data" or "equ" or "set" or "=" or "org" or "__config" or "fill" or "constant" or "variable";
    }
}
