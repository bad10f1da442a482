using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>cblock</c>: names for registers one after the other.</summary>
internal sealed class BlockDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["cblock"];

    public override string Usage => "cblock start ... endc";

    public override string Summary =>
        "Gives the names up to 'endc' rising values from the start; without a start they continue after the last block.";

    public override bool IsOddAfterLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Operands.ReportSurplus(pass, line, 1, "one start");
        if (line.Syntax.Operands.Length > 0)
        {
            Value start = ValueAt(pass, line, 0, "a start");
            if (start.IsKnown)
                pass.BlockAddress = start.Number;
        }

        pass.OpenBlock = line.OperationPlace;
    }

    /// <summary>
    /// Takes a line inside an open block as its members; false where the line is a directive that is meant as such.
    /// Any other word is a name here, even one that names an operation elsewhere.
    /// </summary>
    public static bool TryMember(AssemblyPass pass, in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        if (
            DirectiveList.Find(syntax)
            is BlockEndDirective
                or IfDirective
                or IfDefinedDirective
                or ElseDirective
                or ElseIfDirective
                or EndIfDirective
                or IncludeDirective
                or DefineDirective
                or UndefineDirective
                or BlockDirective
                or EndDirective
                or PageLayoutDirective
                or MacroEndDirective
        )
            return false;
        if (IsProgramLine(syntax))
        {
            // The closing word is missing: one problem at the opening, and the program continues here.
            pass.Report(
                Catalogue.BlockNotClosed,
                pass.OpenBlock!.Value,
                null,
                ["block of variables", "'endc'"],
                new RelatedPlace(line.OperationPlace, "the program continues here")
            );
            pass.OpenBlock = null;
            return false;
        }

        LineSyntax names = LineSyntax.Parse(syntax.Text, LineReading.NamesOnly);
        pass.Role |= LineRole.BlockMember;
        var members = line.With(names);
        foreach (OperandSyntax operand in names.Operands)
        {
            if (operand.Span.Length > 0)
                Member(pass, members, operand);
        }

        return true;
    }

    // 'movlw 5', 'loop nop' or 'org 0' cannot be members, which are separated by commas.
    private static bool IsProgramLine(LineSyntax syntax)
    {
        if (syntax.OperationKind == OperationKind.Unknown)
            return false;
        if (syntax.LabelToken >= 0)
            return syntax.ColonToken < 0;
        for (int i = syntax.FirstOperandToken; i < syntax.EndOfCode; i++)
        {
            if (syntax.Tokens[i].Kind == TokenKind.Blank)
                continue;
            return syntax.Tokens[i].Kind is not (TokenKind.Comma or TokenKind.Colon);
        }

        return false;
    }

    private static void Member(AssemblyPass pass, in EffectiveLine line, OperandSyntax operand)
    {
        LineSyntax syntax = line.Syntax;
        int at = operand.FirstToken;
        while (at < operand.EndToken && syntax.Tokens[at].Kind == TokenKind.Blank)
            at++;
        if (syntax.Tokens[at].Kind != TokenKind.Name)
        {
            pass.Report(Catalogue.BadName, line.Place(operand.Span), line.Via, operand.Text);
            return;
        }

        int size = 1;
        int colon = at + 1;
        while (colon < operand.EndToken && syntax.Tokens[colon].Kind == TokenKind.Blank)
            colon++;
        if (colon < operand.EndToken && syntax.Tokens[colon].Kind == TokenKind.Colon)
        {
            Expression count = ExpressionParser.Parse(
                syntax.Text,
                syntax.Tokens,
                colon + 1,
                operand.EndToken,
                out int rest
            );
            // A colon with nothing after it, as after a label, says one register.
            if (
                count is not FaultyExpression { Fault: ExpressionFault.Missing }
                && pass.Evaluate(count, line) is { IsKnown: true } value
            )
                size = value.Number;
            if (size < 0)
            {
                pass.Report(
                    Catalogue.BadDirective,
                    line.Place(operand.Span),
                    line.Via,
                    $"A name cannot take {Show.Decimal(size)} registers: write the number of registers after the colon."
                );
                size = 1;
            }

            if (rest < operand.EndToken && count is not FaultyExpression)
            {
                var left = Text.TextSpan.FromBounds(syntax.Tokens[rest].Start, operand.Span.End);
                if (left.Length > 0)
                    pass.Report(
                        Catalogue.TextAfterOperands,
                        line.Place(left),
                        line.Via,
                        syntax.Text.Substring(left.Start, left.Length)
                    );
            }
        }
        else if (colon < operand.EndToken)
        {
            var rest = Text.TextSpan.FromBounds(syntax.Tokens[colon].Start, operand.Span.End);
            pass.Report(
                Catalogue.TextAfterOperands,
                line.Place(rest),
                line.Via,
                syntax.Text.Substring(rest.Start, rest.Length)
            );
        }

        Symbol? symbol = pass.Define(
            syntax.TextOf(at),
            SymbolKind.BlockMember,
            pass.BlockAddress,
            line.Place(at),
            line.Via
        );
        if (symbol is not null)
            symbol.Size = size;
        for (int i = 0; i < size && i < 0x200; i++)
            pass.UsedRegisters.Add(pass.BlockAddress + i);
        pass.BlockAddress += size;
    }
}
