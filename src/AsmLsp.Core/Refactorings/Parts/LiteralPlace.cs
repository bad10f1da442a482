using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>What a number says in its place.</summary>
internal enum LiteralUse
{
    Register,
    Bit,
    Destination,
    Constant,
    Address,
    Port,
    Data,
    Definition,
    Place,
    Other,
}

/// <summary>A number or character that is in an operand, and what it says there.</summary>
internal readonly record struct LiteralPlace(
    int Line,
    LineSyntax Syntax,
    TextSpan Columns,
    string Text,
    LiteralReading Reading,
    LiteralUse Use,
    int Operand
)
{
    public int Value => Reading.Value;

    /// <summary>The literal that the cursor touches on a line that counts as it is, or null.</summary>
    public static LiteralPlace? At(RefactoringRequest request)
    {
        if (!request.IsOneLine || !request.IsPlain(request.FirstLine))
            return null;
        foreach (LiteralPlace place in On(request, request.FirstLine))
            if (request.IsAt(place.Columns))
                return place;
        return null;
    }

    /// <summary>The literals of a line that have a value without any doubt.</summary>
    public static IEnumerable<LiteralPlace> On(RefactoringRequest request, int line)
    {
        LineSyntax syntax = request.Syntax(line);
        OperandKind? kind = SourceStyle.OperandsOf(syntax);
        LiteralUse other = OfDirective(syntax);
        // A macro of the program may be in place of any operation; its arguments are text.
        if ((kind is null && other == LiteralUse.Other) || (request.Facts(line).Role & LineRole.MacroCall) != 0)
            yield break;
        for (int o = 0; o < syntax.Operands.Length; o++)
        {
            OperandSyntax operand = syntax.Operands[o];
            for (int i = operand.FirstToken; i < operand.EndToken; i++)
            {
                if (syntax.Tokens[i].Kind is not (TokenKind.Number or TokenKind.Character))
                    continue;
                string text = syntax.TextOf(i);
                LiteralReading reading = Literals.Read(text, request.Facts(line).Radix);
                if (reading.Fault != LiteralFault.None || reading.IsAmbiguous || reading.Value < 0)
                    continue;
                yield return new LiteralPlace(
                    line,
                    syntax,
                    syntax.Tokens[i].Span,
                    text,
                    reading,
                    kind is { } known ? OfInstruction(known, o) : other,
                    o
                );
            }
        }
    }

    /// <summary>The literal that an operand consists of, or null where it is something else.</summary>
    public static LiteralReading? Whole(OperandSyntax operand, int radix)
    {
        if (operand.Value is not LiteralExpression literal || operand.Leftover.Length > 0)
            return null;
        LiteralReading reading = Literals.Read(literal.Text, radix);
        return
            reading.Fault == LiteralFault.None && !reading.IsAmbiguous && reading.Notation != LiteralNotation.Character
            ? reading
            : null;
    }

    private static LiteralUse OfInstruction(OperandKind kind, int operand) =>
        (kind, operand) switch
        {
            (OperandKind.Register or OperandKind.RegisterDestination or OperandKind.RegisterBit, 0) =>
                LiteralUse.Register,
            (OperandKind.RegisterDestination, 1) => LiteralUse.Destination,
            (OperandKind.RegisterBit, 1) => LiteralUse.Bit,
            (OperandKind.Literal8, 0) => LiteralUse.Constant,
            (OperandKind.Address11, 0) => LiteralUse.Address,
            (OperandKind.TrisPort, 0) => LiteralUse.Port,
            _ => LiteralUse.Other,
        };

    private static LiteralUse OfDirective(LineSyntax syntax)
    {
        if (syntax.OperationKind == OperationKind.Assignment)
            return LiteralUse.Definition;
        if (syntax.OperationKind != OperationKind.Directive)
            return LiteralUse.Other;
        if (syntax.Has(WordTraits.PlacesData))
            return LiteralUse.Data;
        return syntax.Keyword switch
        {
            Keyword.Constant or Keyword.Variable or Keyword.Fill or Keyword.Configuration or Keyword.IdWords =>
                LiteralUse.Definition,
            Keyword.Org or Keyword.Reserve or Keyword.VariableBlock => LiteralUse.Place,
            _ => LiteralUse.Other,
        };
    }
}
