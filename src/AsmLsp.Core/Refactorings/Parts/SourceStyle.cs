using System.Runtime.CompilerServices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>The habits of an author that new text keeps to: capital or small letters.</summary>
internal sealed class SourceStyle
{
    private static readonly ConditionalWeakTable<SourceText, SourceStyle> Known = [];

    private SourceStyle(SourceText text)
    {
        int destinations = 0,
            equates = 0;
        foreach (TextLine line in text.Lines)
        {
            LineSyntax syntax = LineSyntax.Of(line);
            if (syntax.OperationKind == OperationKind.Assignment && syntax.Label is { } label)
                equates += CaseOf(label);
            if (syntax.OperationKind != OperationKind.Instruction)
                continue;
            switch (CaseOf(syntax.SpanOf(syntax.OperationToken)))
            {
                case > 0:
                    UpperCount++;
                    break;
                case < 0:
                    LowerCount++;
                    break;
                default:
                    MixedCount++;
                    break;
            }

            if (syntax.Operands.Length == 2 && syntax.Operands[1].Text is "W" or "w" or "F" or "f")
                destinations += syntax.Operands[1].Text is "W" or "F" ? 1 : -1;
        }

        UpperDestinations = destinations >= 0;
        UpperEquates = equates >= 0;
    }

    /// <summary>How many instructions are in capital letters, in small ones, and in both.</summary>
    public int UpperCount { get; }

    public int LowerCount { get; }

    public int MixedCount { get; }

    public bool UpperOperations => UpperCount > LowerCount;

    public bool UpperDestinations { get; }

    public bool UpperEquates { get; }

    public static SourceStyle Of(SourceText text) => Known.GetValue(text, static t => new SourceStyle(t));

    public string Operation(string word) => UpperOperations ? word.ToUpperInvariant() : word.ToLowerInvariant();

    public string Destination(int destination) =>
        (destination, UpperDestinations) switch
        {
            (0, true) => "W",
            (0, _) => "w",
            (_, true) => "F",
            _ => "f",
        };

    /// <summary>Another operation in the letters of the one in whose place it comes.</summary>
    public static string InCaseOf(string model, string word) =>
        CaseOf(model) > 0 ? word.ToUpperInvariant() : word.ToLowerInvariant();

    /// <summary>The operands that an operation takes, or null for what is no instruction and no shorthand.</summary>
    public static OperandKind? OperandsOf(LineSyntax syntax) =>
        syntax.OperationKind != OperationKind.Instruction
            ? null
            : InstructionSet.Find(syntax.SpanOf(syntax.OperationToken))?.Operands
                ?? Shorthand.Find(syntax.SpanOf(syntax.OperationToken))?.Operands;

    // 1 for capital letters only, -1 for small ones only, 0 for both or none.
    private static int CaseOf(ReadOnlySpan<char> word)
    {
        bool upper = false,
            lower = false;
        foreach (char c in word)
        {
            upper |= char.IsUpper(c);
            lower |= char.IsLower(c);
        }

        return upper == lower ? 0
            : upper ? 1
            : -1;
    }
}
