using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Completing;

/// <summary>How the author of a file writes: capital letters of operations and destinations, and the indent of operations.</summary>
internal sealed record ProgramStyle(
    bool UpperOperations,
    bool UpperDestinations,
    bool NumberDestinations,
    string Indent
)
{
    /// <summary>So many lines show a style well enough.</summary>
    private const int Enough = 2000;

    private const string UsualIndent = "        ";

    /// <summary>The style of a file; that of people who have not begun yet is lower case and eight blanks.</summary>
    public static ProgramStyle Of(ProgramFile file)
    {
        int upper = 0,
            lower = 0,
            upperDestination = 0,
            lowerDestination = 0,
            numbers = 0,
            seen = 0;
        var indents = new Dictionary<string, int>();
        foreach (TextLine line in file.Text.Lines)
        {
            if (++seen > Enough)
            {
                break;
            }

            var syntax = LineSyntax.Of(line);
            if (syntax.OperationKind is not (OperationKind.Instruction or OperationKind.Directive))
            {
                continue;
            }

            string operation = syntax.Operation!;
            if (syntax.OperationKind == OperationKind.Instruction)
            {
                Count(operation, ref upper, ref lower);
                if (syntax.LabelToken < 0 && syntax.OperationToken == 1)
                {
                    string indent = syntax.TextOf(0);
                    indents[indent] = indents.GetValueOrDefault(indent) + 1;
                }
            }

            if (
                syntax.OperationKind == OperationKind.Instruction
                && syntax.Operands.Length == 2
                && syntax.Operands[1].Text is { Length: 1 } destination
            )
            {
                if (destination is "0" or "1")
                {
                    numbers += operation.StartsWith('b') || operation.StartsWith('B') ? 0 : 1;
                }
                else
                {
                    Count(destination, ref upperDestination, ref lowerDestination);
                }
            }
        }

        bool upperCase = upper > lower;
        return new(
            upperCase,
            upperDestination + lowerDestination > 0 ? upperDestination > lowerDestination : upperCase,
            numbers > upperDestination + lowerDestination,
            indents.Count > 0 ? indents.MaxBy(indent => indent.Value).Key : UsualIndent
        );
    }

    /// <summary>A word of the language in this style; one that starts with marks is kept as the listings have it.</summary>
    public string Operation(string word) => UpperOperations ? word.ToUpperInvariant() : word.ToLowerInvariant();

    private static void Count(string word, ref int upper, ref int lower)
    {
        foreach (char c in word)
        {
            if (char.IsAsciiLetterUpper(c))
            {
                upper++;
                return;
            }

            if (char.IsAsciiLetterLower(c))
            {
                lower++;
                return;
            }
        }
    }
}
