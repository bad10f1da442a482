using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes the numbers of the chip's registers, bits and destinations in place of their names, as old listings do.</summary>
internal sealed class NamesToNumbers : RefactoringProvider
{
    public override string Name => "names-to-numbers";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (request.IsOneLine)
        {
            if (NumbersOn(request, request.FirstLine) is not { Count: > 0 } numbers)
                return;
            LineSyntax syntax = request.Syntax(request.FirstLine);
            string text = syntax.OperandText;
            int start = syntax.OperandSpan.Start;
            foreach ((TextSpan columns, string number) in numbers.OrderByDescending(n => n.Columns.Start))
                text = text[..(columns.Start - start)] + number + text[(columns.End - start)..];
            request.Add(
                "line",
                $"Write the numbers {text} for {syntax.OperandText}",
                WordEffect.Same,
                () => Plan(request)
            );
            return;
        }

        int lines = 0;
        for (int i = request.FirstLine; i <= request.LastLine; i++)
            if (NumbersOn(request, i).Count > 0)
                lines++;
        if (lines > 0)
            request.Add(
                "selection",
                $"Write numbers for the names of registers, bits and destinations in the selected {(lines == 1 ? "line that has" : "lines that have")} some",
                WordEffect.Same,
                () => Plan(request)
            );
    }

    private static RefactoringPlan Plan(RefactoringRequest request)
    {
        var plan = new RefactoringPlan();
        for (int i = request.FirstLine; i <= request.LastLine; i++)
            foreach ((TextSpan columns, string number) in NumbersOn(request, i))
                plan.Replace(request.File, i, columns, number);
        return plan;
    }

    private static List<(TextSpan Columns, string Number)> NumbersOn(RefactoringRequest request, int line)
    {
        var found = new List<(TextSpan, string)>();
        LineSyntax syntax = request.Syntax(line);
        if (
            SourceStyle.OperandsOf(syntax)
            is not (
                OperandKind.Register
                or OperandKind.RegisterDestination
                or OperandKind.RegisterBit
                or OperandKind.TrisPort
            )
        )
            return found;
        if (!request.IsPlain(line) || (request.Facts(line).Role & LineRole.MacroCall) != 0)
            return found;
        for (int i = 0; i < syntax.Operands.Length; i++)
        {
            if (
                syntax.Operands[i].Value is not NameExpression name
                || syntax.Operands[i].Leftover.Length > 0
                || request.Program.FindSymbol(name.Name) is not null
            )
                continue;
            if (name.Name is "W" or "w" or "F" or "f")
                found.Add((name.Span, name.Name is "W" or "w" ? "0" : "1"));
            else if (request.Program.NamesDevice?.Symbols.Find(name.Name) is { } symbol)
            {
                if (symbol.Kind == DeviceSymbolKind.Register)
                    found.Add((name.Span, Show.Hex(symbol.Value, 2)));
                // Digits of a bit number mean the same in every base but that of two.
                else if (symbol.Kind == DeviceSymbolKind.Bit && request.Facts(line).Radix > 2)
                    found.Add((name.Span, Show.Decimal(symbol.Value)));
            }
        }

        return found;
    }
}
