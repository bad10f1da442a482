using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// Writes the names of registers, bits and destinations in place of their numbers: <c>bsf 3,5</c> becomes <c>bsf STATUS,RP0</c>. A number below
/// 0x80 gets the name of the bank that is selected there on every way; where that is not known it stays.
/// </summary>
internal sealed class NumbersToNames : RefactoringProvider
{
    public override string Name => "numbers-to-names";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    // The bank needs the ways through the program.
    public override bool IsCheap => false;

    internal override void Offer(RefactoringRequest request)
    {
        List<(TextSpan Columns, string Name)>? first = null;
        int line = request.FirstLine,
            lines = 0;
        for (int i = request.FirstLine; i <= request.LastLine; i++)
        {
            if (NamesOn(request.Program, request, request.File, i) is not { Count: > 0 } names)
                continue;
            if (first is null)
                (first, line) = (names, i);
            lines++;
        }

        if (first is null)
            return;
        if (lines == 1)
        {
            LineSyntax syntax = request.Syntax(line);
            request.Add(
                "line",
                $"Write {With(syntax, first)} for {syntax.OperandText}",
                WordEffect.Same,
                () => Plan(request, line, line)
            );
        }
        else
        {
            request.Add(
                "selection",
                $"Write names for the numbers of registers, bits and destinations in the {Show.Decimal(lines)} selected lines that have some",
                WordEffect.Same,
                () => Plan(request, request.FirstLine, request.LastLine)
            );
        }

        request.Add(
            "file",
            $"Write names for all numbers of registers, bits and destinations in {request.File.ShortName}",
            WordEffect.Same,
            () => Plan(request, 0, request.Text.LineCount - 1)
        );
    }

    private static RefactoringPlan Plan(RefactoringRequest request, int first, int last)
    {
        var plan = new RefactoringPlan();
        for (int i = first; i <= last; i++)
            foreach ((TextSpan columns, string name) in NamesOn(request.Program, request, request.File, i))
                plan.Replace(request.File, i, columns, name);
        return plan;
    }

    private static string With(LineSyntax syntax, List<(TextSpan Columns, string Name)> names)
    {
        string text = syntax.OperandText;
        int start = syntax.OperandSpan.Start;
        foreach ((TextSpan columns, string name) in names.OrderByDescending(n => n.Columns.Start))
            text = text[..(columns.Start - start)] + name + text[(columns.End - start)..];
        return text;
    }

    private static List<(TextSpan Columns, string Name)> NamesOn(
        ProgramAnalysis program,
        RefactoringRequest request,
        SourceFile file,
        int line
    )
    {
        var found = new List<(TextSpan, string)>();
        LineSyntax syntax = LineSyntax.Of(file.Text[line]);
        if (
            syntax.OperationKind != OperationKind.Instruction
            || !request.IsPlain(file, line)
            || (program.FactsOf(file, line).Role & LineRole.MacroCall) != 0
        )
            return found;
        OperandKind? kind = SourceStyle.OperandsOf(syntax);
        if (
            kind
                is not (
                    OperandKind.Register
                    or OperandKind.RegisterDestination
                    or OperandKind.RegisterBit
                    or OperandKind.TrisPort
                )
            || syntax.Operands.Length == 0
        )
            return found;
        ChipWords words = ChipWords.Of(program);
        int radix = program.FactsOf(file, line).Radix;
        OperandSyntax operand = syntax.Operands[0];
        Register? register = null;
        if (LiteralPlace.Whole(operand, radix) is { } number)
        {
            // TRIS names the port itself, whatever bank is selected.
            if (
                (kind == OperandKind.TrisPort ? number.Value : words.AddressOf(file, line, number.Value)) is { } address
            )
            {
                register = words.RegisterAt(address);
                if (words.Register(address) is { } name)
                    found.Add((operand.Span, name));
            }
        }
        else if (kind == OperandKind.RegisterBit)
        {
            register = words.RegisterNamed(operand);
        }

        if (syntax.Operands.Length < 2 || LiteralPlace.Whole(syntax.Operands[1], radix) is not { } second)
            return found;
        string? word = kind switch
        {
            OperandKind.RegisterBit when register is not null => words.Bit(register, second.Value),
            OperandKind.RegisterDestination when second.Value is 0 or 1 => words.Destination(file.Text, second.Value),
            _ => null,
        };
        if (word is not null)
            found.Add((syntax.Operands[1].Span, word));
        return found;
    }
}
