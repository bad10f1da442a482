using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Completing;

/// <summary>How an operation is written, part by part.</summary>
/// <param name="Label">The whole line: <c>bsf f,b</c>.</param>
/// <param name="Parts">Its operands: the place in the label, and what each is.</param>
/// <param name="Markdown">What it does.</param>
public sealed record OperationHelp(
    string Label,
    ImmutableArray<(int Start, int End, string About)> Parts,
    string? Markdown
)
{
    /// <summary>The operand that is being written, from 0; the number of operands where there is one too many.</summary>
    public int Active { get; private init; }

    /// <summary>The help on the operation whose operands a place is among, or null.</summary>
    public static OperationHelp? At(ProgramFile file, LinePosition at)
    {
        var place = CompletionPlace.At(file, at);
        return place.Kind == PlaceKind.Operand && Of(file, place.Before) is { } help
            ? help with
            {
                Active = Math.Min(place.Operand, help.Parts.Length),
            }
            : null;
    }

    /// <summary>The help on the operation of a line, or null where it takes nothing or is not known.</summary>
    private static OperationHelp? Of(ProgramFile file, LineSyntax line)
    {
        if (line.Operation is not { } word)
        {
            return null;
        }

        string name = word;
        if (InstructionSet.Find(word) is { } instruction)
        {
            return Make(name, OperandsOf(instruction.Operands), instruction.Summary);
        }

        if (Shorthand.Find(word) is { } shorthand)
        {
            return Make(name, OperandsOf(shorthand.Operands), shorthand.Summary);
        }

        if (DirectiveList.Find(word) is { } directive)
        {
            return OfDirective(directive);
        }

        return file.Analysis.FindSymbol(word) is { Kind: SymbolKind.Macro } macro
            ? Make(
                name,
                [.. macro.Parameters.Select(parameter => (parameter, "argument of the macro"))],
                WordDocumentation.Of(file, WordTopic.Name, word)
            )
            : null;
    }

    private static (string, string)[] OperandsOf(OperandKind kind) =>
        kind switch
        {
            OperandKind.Register => [("f", "the register")],
            OperandKind.RegisterDestination =>
            [
                ("f", "the register"),
                ("d", "where the result goes: W (0) or back to the register (1)"),
            ],
            OperandKind.RegisterBit => [("f", "the register"), ("b", "the bit, 0 to 7")],
            OperandKind.Literal8 => [("k", "a constant of 8 bits, 0 to 255")],
            OperandKind.Address11 => [("k", "the label or address to go to")],
            OperandKind.TrisPort => [("f", "the port: PORTA (5), PORTB (6) or PORTC (7)")],
            _ => [],
        };

    // The usage is written for people; its operands are what is between blanks and commas after the word.
    private static OperationHelp? OfDirective(Directive directive)
    {
        string usage = directive.Usage;
        var syntax = LineSyntax.Parse(
            usage.StartsWith('#')
            || !directive.Words.Any(word => usage.StartsWith(word, StringComparison.OrdinalIgnoreCase))
                ? usage
                : " " + usage
        );
        int shift = syntax.Text.Length - usage.Length;
        if (syntax.Operands.Length == 0)
        {
            return null;
        }

        return new(
            usage,
            [.. syntax.Operands.Select(operand => (operand.Span.Start - shift, operand.Span.End - shift, ""))],
            directive.Summary
        );
    }

    private static OperationHelp? Make(string name, (string Name, string About)[] operands, string? about)
    {
        if (operands.Length == 0)
        {
            return null;
        }

        string label = name + " ";
        var parts = ImmutableArray.CreateBuilder<(int, int, string)>();
        foreach ((string operand, string what) in operands)
        {
            label += parts.Count > 0 ? "," : "";
            parts.Add((label.Length, label.Length + operand.Length, what));
            label += operand;
        }

        return new(label, parts.ToImmutable(), about);
    }
}
