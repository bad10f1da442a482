using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A program that names no chip and defines its registers itself: most checks have nothing to judge by, and silence would look like praise.
/// </summary>
internal sealed class NoChipCheck : TrapCheck
{
    // A few words are a try, not a program.
    private const int LeastWords = 5;

    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not null || context.Graph.Program.Image.ProgramWords < LeastWords)
            return;
        SourceFile root = context.Graph.Program.Root;
        int line = 0;
        while (line + 1 < root.Text.LineCount && LineSyntax.Of(root.Text[line]).OperationToken < 0)
            line++;
        report.Add(
            Catalogue.ChecksWithoutChip,
            new SourcePlace(root, line, LineSyntax.Of(root.Text[line]).CodeSpan),
            null
        );
    }
}
