using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>Writes a name that is made of hexadecimal digits and that nothing defines as the number: always a guess.</summary>
internal sealed class WriteAsHexadecimal : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.UndefinedName, Catalogue.ChipNotNamed];

    internal override void Offer(FixRequest request)
    {
        string name = request.Problem.Arguments[0];
        if (request.Marked != name || !Hints.IsHexDigits(name))
            return;
        string number = "0x" + name.TrimEnd('h', 'H');
        // 'FF' is no number in this language: a value whose definition was lost has such a name as well (B1, C0, AA).
        request.Guess(
            $"Write {number}",
            IsData(request.Syntax) ? Doubt.Was(name, "a number, or a name whose definition is lost?") : null,
            request.ReplaceMarked(number)
        );
    }

    private static bool IsData(LineSyntax syntax)
    {
        if (syntax.Operation is not { } operation)
            return false;
        if (InstructionSet.Find(operation) is { } instruction)
            return instruction.Operands == OperandKind.Literal8;
        return syntax.OperationKind == OperationKind.Assignment
            || syntax.Has(WordTraits.PlacesData)
            || syntax.Keyword
                is Keyword.Org
                    or Keyword.Fill
                    or Keyword.Configuration
                    or Keyword.IdWords
                    or Keyword.Constant
                    or Keyword.Variable;
    }
}
