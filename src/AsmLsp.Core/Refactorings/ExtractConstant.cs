using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// Gives a number a name by an <c>equ</c>: here, or in all places of the file where the same number says the same (a constant, a register, or a
/// bit of the same register). The name comes from the comment, else from the use, and is never one that is taken.
/// </summary>
internal sealed class ExtractConstant : RefactoringProvider
{
    public override string Name => "extract-constant";

    public override RefactoringKind Kind => RefactoringKind.Extract;

    // A free name is looked for in all lines.
    public override bool IsCheap => false;

    internal override void Offer(RefactoringRequest request)
    {
        if (
            LiteralPlace.At(request) is not { } place
            || place.Use is not (LiteralUse.Register or LiteralUse.Bit or LiteralUse.Constant or LiteralUse.Data)
        )
            return;
        if (HasName(request, place) || PlaceForDefinition(request) is not { } at)
            return;
        string name = FreeNames.Near(request.Program, Wish(request, place));
        string what = place.Use switch
        {
            LiteralUse.Register => "register ",
            LiteralUse.Bit => "bit ",
            _ => "",
        };
        request.Add(
            "here",
            $"Give {what}{place.Text} the name {name} (by equ), here only",
            WordEffect.Same,
            () => Plan(request, name, place, at, [place])
        );
        List<LiteralPlace> same = Same(request, place);
        if (same.Count > 1)
            request.Add(
                "all",
                $"Give {what}{place.Text} the name {name} (by equ), {Refactoring.Places(same.Count)} where it means the same",
                WordEffect.Same,
                () => Plan(request, name, place, at, same)
            );
    }

    private static RefactoringPlan Plan(
        RefactoringRequest request,
        string name,
        in LiteralPlace place,
        int at,
        List<LiteralPlace> places
    )
    {
        var plan = new RefactoringPlan();
        plan.InsertBefore(request.File, at, Definition(request, name, Value(request, place, at), at));
        foreach (LiteralPlace same in places)
            plan.Replace(request.File, same.Line, same.Columns, name);
        return plan;
    }

    // Registers of the chip and their bits have names, and those are to be used.
    private static bool HasName(RefactoringRequest request, in LiteralPlace place)
    {
        if (place.Use is not (LiteralUse.Register or LiteralUse.Bit))
            return false;
        ChipWords words = ChipWords.Of(request.Program);
        if (place.Use == LiteralUse.Register)
            return request.Program.Device is { } device && !device.DataMemory.IsGeneralPurpose(place.Value);
        OperandSyntax operand = place.Syntax.Operands[0];
        return operand.Value is not NameExpression
            || (words.RegisterNamed(operand) is { } register && words.Bit(register, place.Value) is not null);
    }

    private static bool Is(LineSyntax syntax, string operation) =>
        operation.Equals(syntax.Operation, StringComparison.OrdinalIgnoreCase);

    private static string Wish(RefactoringRequest request, in LiteralPlace place)
    {
        string wish =
            FreeNames.FromComment(place.Syntax.Comment)
            ?? place.Use switch
            {
                LiteralUse.Register => $"REG_{place.Value:X2}",
                LiteralUse.Bit => FromRegister(place),
                _ when Is(place.Syntax, "andlw") => $"MASK_{place.Value:X2}",
                _ => (Is(place.Syntax, "movlw") ? FromNext(request, place.Line) : null) ?? $"VALUE_{place.Value:X2}",
            };
        return SourceStyle.Of(request.Text).UpperEquates ? wish.ToUpperInvariant() : wish.ToLowerInvariant();
    }

    private static string FromRegister(in LiteralPlace place) =>
        ((NameExpression)place.Syntax.Operands[0].Value).Name
        + "_"
        + place.Value.ToString(CultureInfo.InvariantCulture);

    // 'movlw 5', 'movwf count': what is loaded is what the register is to hold.
    private static string? FromNext(RefactoringRequest request, int line)
    {
        for (int i = line + 1; i < Math.Min(line + 4, request.Text.LineCount); i++)
        {
            LineSyntax next = request.Syntax(i);
            if (next.IsBlank)
                continue;
            return Is(next, "movwf") && next.Operands is [{ Value: NameExpression register }]
                ? register.Name + "_VALUE"
                : null;
        }

        return null;
    }

    private static List<LiteralPlace> Same(RefactoringRequest request, LiteralPlace place)
    {
        var found = new List<LiteralPlace>();
        for (int i = 0; i < request.Text.LineCount; i++)
        {
            LineSyntax syntax = LineSyntax.Of(request.Text[i]);
            if (syntax.OperationToken < 0 || !HasNumber(syntax) || !request.IsPlain(i))
                continue;
            foreach (LiteralPlace other in LiteralPlace.On(request, i))
                if (other.Value == place.Value && MeansSame(other, place))
                    found.Add(other);
        }

        return found;
    }

    private static bool HasNumber(LineSyntax syntax)
    {
        foreach (SyntaxToken token in syntax.Tokens)
            if (token.Kind is TokenKind.Number or TokenKind.Character)
                return true;
        return false;
    }

    private static bool MeansSame(in LiteralPlace a, in LiteralPlace b) =>
        a.Use switch
        {
            LiteralUse.Bit => b.Use == LiteralUse.Bit
                && a.Syntax.Operands[0].Text.Equals(b.Syntax.Operands[0].Text, StringComparison.OrdinalIgnoreCase),
            LiteralUse.Constant or LiteralUse.Data => b.Use is LiteralUse.Constant or LiteralUse.Data
                && (a.Reading.Notation == LiteralNotation.Character)
                    == (b.Reading.Notation == LiteralNotation.Character),
            _ => a.Use == b.Use,
        };

    // Bare digits are kept only where the definition reads them alike.
    private static string Value(RefactoringRequest request, in LiteralPlace place, int at)
    {
        LiteralReading there = Literals.Read(place.Text, request.Facts(at).Radix);
        return there.Fault == LiteralFault.None && !there.IsAmbiguous && there.Value == place.Value
            ? place.Text
            : Show.Hex(place.Value, 2);
    }

    // After the last definition above the first instruction, else before the first line that makes a word.
    private static int? PlaceForDefinition(RefactoringRequest request)
    {
        int depth = 0,
            after = -1;
        bool inBlock = false;
        for (int i = 0; i < request.Text.LineCount; i++)
        {
            LineSyntax syntax = LineSyntax.Of(request.Text[i]);
            LineFacts facts = request.Facts(i);
            if ((facts.Role & LineRole.AfterEnd) != 0)
                return null;
            if (syntax.OperationToken < 0 || (facts.Role & LineRole.Body) != 0)
            {
                // A label alone is where code starts.
                if (
                    syntax.LabelToken >= 0
                    && depth == 0
                    && !inBlock
                    && (facts.Role & (LineRole.Body | LineRole.BlockMember | LineRole.Skipped)) == 0
                )
                    return after >= 0 ? after : i;
                continue;
            }

            if (syntax.Has(WordTraits.OpensBody))
                depth += syntax.Keyword == Keyword.Macro ? 0 : 1;
            else if (syntax.Keyword is Keyword.EndIf or Keyword.EndWhile)
                depth--;
            else if (syntax.Keyword == Keyword.VariableBlock)
                inBlock = true;
            else if (syntax.Keyword == Keyword.EndVariableBlock)
                inBlock = false;
            if (depth != 0 || inBlock)
                continue;
            if (syntax.Keyword == Keyword.Equ && (facts.Role & LineRole.Skipped) == 0)
                after = i + 1;
            else if (
                syntax.Keyword is Keyword.Org or Keyword.CodeSection
                || (syntax.OperationKind == OperationKind.Instruction || (facts.Role & LineRole.MacroCall) != 0)
                || (facts.Words > 0 && facts.Address < 0x2000)
            )
                return after >= 0 ? after : i;
        }

        return null;
    }

    private static string Definition(RefactoringRequest request, string name, string value, int at)
    {
        // In the columns of the definition above, where there is one.
        if (
            at > 0
            && LineSyntax.Of(request.Text[at - 1]) is { LabelToken: 0, ColonToken: < 0 } above
            && above.Operands.Length > 0
            && above.Keyword == Keyword.Equ
        )
        {
            int operation = above.Tokens[above.OperationToken].Start,
                operand = above.Operands[0].Span.Start;
            string gap = above.Text[above.Tokens[0].End..operation];
            if (!gap.Contains('\t', StringComparison.Ordinal))
                gap = new string(' ', Math.Max(1, operation - name.Length));
            return name + gap + above.Text[operation..operand] + value;
        }

        Layout.ColumnStyle columns = Layout.ColumnStyle.Of(request.Text);
        return name
            + columns.Gap(name.Length, columns.OperationColumn)
            + columns.Statement(SourceStyle.Of(request.Text).Operation(OperationWords.Spell(Keyword.Equ)), value);
    }
}
