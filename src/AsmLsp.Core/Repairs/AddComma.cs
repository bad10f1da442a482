using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Puts the comma between a register and its bit or destination.</summary>
internal sealed class AddComma : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } =
    [Catalogue.MissingOperand, Catalogue.TextAfterOperands, Catalogue.DestinationLeftOut];

    internal override void Offer(FixRequest request)
    {
        LineSyntax syntax = request.Syntax;
        if (syntax.OperationKind != OperationKind.Instruction || syntax.Operands.Length != 1)
            return;
        TextSpan rest = syntax.Operands[0].Leftover;
        if (rest.Length == 0 || syntax.Text[rest.Start] is '.' or ':' or ';')
            return;
        int gap = rest.Start;
        while (gap > 0 && Lexer.IsBlank(syntax.Text[gap - 1]))
            gap--;
        string joined = syntax.Text[..gap] + "," + syntax.Text[rest.Start..];
        LineSyntax after = LineSyntax.Parse(joined);
        if (after.Operands.Length != 2 || after.Operands[1].Leftover.Length > 0)
            return;
        bool wantsTwo = OneOperandIsTooFew(syntax.Operation!);
        if (wantsTwo)
            request.Guess(
                "Put a comma between the operands",
                Doubt.Extent("comma put in"),
                request.Edit(gap, rest.Start, ",")
            );
    }

    private static bool OneOperandIsTooFew(string operation) =>
        Instructions.InstructionSet.Find(operation)?.Operands
            is Instructions.OperandKind.RegisterBit
                or Instructions.OperandKind.RegisterDestination;
}
