using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Structure;

/// <summary>The names that the program calls.</summary>
internal sealed class CalledNames
{
    private readonly HashSet<string> names = new(StringComparer.Ordinal);

    private CalledNames(ProgramModel program)
    {
        foreach (SourceFile file in program.Analysis.Files)
        {
            foreach (TextLine line in file.Text.Lines)
            {
                if (
                    line.Text.Contains("call", StringComparison.OrdinalIgnoreCase)
                    && LineSyntax.Of(line) is { OperationKind: OperationKind.Instruction } syntax
                    && syntax.Operation is { } word
                    && (
                        word.Equals("call", StringComparison.OrdinalIgnoreCase)
                        || word.Equals("lcall", StringComparison.OrdinalIgnoreCase)
                    )
                )
                {
                    names.Add(syntax.OperandText);
                }
            }
        }
    }

    /// <summary>The names, worked out once for a program.</summary>
    public static HashSet<string> Of(ProgramModel program) => program.Derive(of => new CalledNames(of)).names;
}
