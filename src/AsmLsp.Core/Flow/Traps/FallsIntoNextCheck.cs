using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A routine without RETURN runs on into the first routine of another file, or into one that a heading of comments parts from it. A second
/// entry to a routine is a habit of authors; they write it without a heading, or say in the comment that the code runs on.
/// </summary>
internal sealed class FallsIntoNextCheck : TrapCheck
{
    private const int Heading = 3,
        LongestRoutine = 256;

    private static readonly string[] Intents = ["fall", "through", "continue", "drop", "run on", "runs on", "flow"];

    public override void Run(TrapContext context, FlowReport report)
    {
        foreach (int entry in context.Graph.Calls.Routines.Keys)
        {
            int before = entry - 1;
            if (
                !context.IsLive(before)
                || context.Graph.Walk.EndsRun(before)
                || context.IsSkipped(before)
                || context.At(before) is not { Instruction: { IsCall: false, Name: not "sleep" } }
            )
                continue;
            WordOrigin own = context.Graph.OriginOf(before),
                next = context.Graph.OriginOf(entry);
            if (own.Via is not null || next.Via is not null || !IsOfAnotherRoutine(context, before, entry))
                continue;
            bool isOtherFile = own.File != next.File;
            if (!isOtherFile && !IsUnderHeading(context, own, next))
                continue;
            report.Add(
                Catalogue.FallsIntoNext,
                context.Graph,
                before,
                RoutineFacts.LabelAt(context.Graph.Program, entry) ?? Show.Hex(entry),
                isOtherFile ? $" in {next.File.ShortName}" : ""
            );
        }
    }

    private static bool IsOfAnotherRoutine(TrapContext context, int before, int entry)
    {
        foreach (RoutineBody routine in context.Graph.Calls.Routines.Values)
            if (routine.Address < entry && routine.Address > before - LongestRoutine && routine.Words.Contains(before))
                return true;
        return false;
    }

    // Nothing but comments and blank lines between the two, and enough of them; words that say that the code runs on are an intent.
    private static bool IsUnderHeading(TrapContext context, in WordOrigin own, in WordOrigin next)
    {
        int comments = 0;
        for (int line = own.Line; line <= next.Line; line++)
        {
            LineSyntax syntax = context.Graph.Program.SyntaxOf(own.File, line);
            if (syntax.Comment is { } comment)
            {
                foreach (string word in Intents)
                    if (comment.Contains(word, StringComparison.OrdinalIgnoreCase))
                        return false;
                comments += line > own.Line && line < next.Line ? 1 : 0;
            }

            if (line > own.Line && line < next.Line && syntax.OperationToken >= 0)
                return false;
        }

        return comments >= Heading;
    }
}
