using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Writes a name in the capital and small letters that it is defined with.</summary>
internal sealed class UseDefinedCase : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.NameDiffersByCase];

    internal override void Offer(FixRequest request)
    {
        string written = request.Problem.Arguments[0],
            defined = request.Problem.Arguments[1];
        if (request.Marked != written)
            return;
        // 'I' may be the name i, or a 1 that was misread. Where case distinguishes other names, it may say this one, too.
        bool isCertain =
            written is not ("I" or "l" or "O" or "o")
            && !CaseDistinguishesNames(request.Program)
            && IsOfItsKind(request, defined);
        request.Add(
            isCertain ? Certainty.Certain : Certainty.Guess,
            $"Write {defined}",
            Doubt.Was(written),
            request.ReplaceMarked(defined)
        );
    }

    // A jump goes to a label, a register is none: 'goto z' is not the zero flag.
    private static bool IsOfItsKind(FixRequest request, string defined)
    {
        if (InstructionSet.Find(request.Syntax.Operation) is not { } instruction)
            return true;
        bool isLabel = request.Program.FindSymbol(defined) is { Kind: SymbolKind.Label };
        return instruction.Operands switch
        {
            OperandKind.Address11 => isLabel,
            OperandKind.Register
            or OperandKind.RegisterDestination
            or OperandKind.RegisterBit
            or OperandKind.TrisPort => !isLabel,
            _ => true,
        };
    }

    private static bool CaseDistinguishesNames(ProgramAnalysis program)
    {
        var seen = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (Symbol symbol in program.Symbols)
            if (!seen.TryAdd(symbol.Name, symbol.Name) && seen[symbol.Name] != symbol.Name)
                return true;
        return false;
    }
}
