using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>
/// Checks a refactoring by assembling the program again. One that keeps the words must leave every word of every memory, and the
/// value of every name, as it was; none may bring a new error or warning, or take a doubt away.
/// </summary>
internal static class RefactoringGuard
{
    /// <summary>The edits of a plan, or none where they do not hold.</summary>
    public static ImmutableArray<FileEdits> Check(ProgramAnalysis before, RefactoringPlan plan, WordEffect effect)
    {
        if (plan.IsEmpty)
            return [];
        ImmutableArray<FileEdits> edits = plan.ToEdits();
        if (!plan.TouchesAnything && edits.Any(e => TouchesDoubt(before, e)))
            return [];
        var changed = new Dictionary<SourceFile, SourceFile>();
        foreach (FileEdits file in edits)
            changed.Add(file.File, new SourceFile(file.File.Name, EditMap.Apply(file.File.Text, file.Edits)));
        if (changed.Any(pair => CountDoubts(pair.Value.Text) < CountDoubts(pair.Key.Text)))
            return [];
        // Text that is only commented out or in: what comes of it is for the person who asked.
        if (effect != WordEffect.Same && plan.TouchesAnything)
            return edits;

        ProgramAnalysis after = before.With(changed);
        if (HasNewProblem(before, after))
            return [];
        if (effect == WordEffect.Same && !(SameWords(before.Image, after.Image) && SameNames(before, after, plan.Gone)))
            return [];
        return plan.Proof is null || plan.Proof(after) ? edits : [];
    }

    /// <summary>Whether two images hold the same words at the same addresses, in all memories.</summary>
    public static bool SameWords(ProgramImage a, ProgramImage b) =>
        a.Count == b.Count
        && a.Words.Select(w => (w.Address, w.Word)).SequenceEqual(b.Words.Select(w => (w.Address, w.Word)));

    // A value that no word shows yet is part of the program all the same. Names that a macro's call made new have numbers of their own.
    private static bool SameNames(ProgramAnalysis before, ProgramAnalysis after, HashSet<string> gone)
    {
        foreach (Symbol old in before.Symbols)
        {
            if (gone.Contains(old.Name) || old.Name.Contains('·', StringComparison.Ordinal))
                continue;
            if (
                after.FindSymbol(old.Name) is not { } now
                || now.Value != old.Value
                || now.IsKnown != old.IsKnown
                || now.Text != old.Text
            )
                return false;
        }

        return before.Device == after.Device && before.NamesDevice == after.NamesDevice;
    }

    private static bool HasNewProblem(ProgramAnalysis before, ProgramAnalysis after)
    {
        Dictionary<ProblemKind, int> left = [];
        foreach (Problem problem in before.Problems)
            left[problem.Kind] = left.GetValueOrDefault(problem.Kind) + 1;
        foreach (Problem problem in after.Problems)
        {
            if (problem.Severity == Severity.Information)
                continue;
            int count = left.GetValueOrDefault(problem.Kind) - 1;
            if (count < 0)
                return true;
            left[problem.Kind] = count;
        }

        return false;
    }

    private static bool TouchesDoubt(ProgramAnalysis program, FileEdits edits)
    {
        QuietLines quiet = QuietLines.Of(program);
        foreach (TextEdit edit in edits.Edits)
        {
            LinePosition from = edits.File.Text.PositionAt(edit.Span.Start);
            // Whole lines put before a line do not touch it.
            if (edit.Span.Length == 0 && from.Column == 0)
                continue;
            int last = edits.File.Text.PositionAt(edit.Span.End).Line;
            for (int line = from.Line; line <= last; line++)
                if (!quiet.IsQuiet(edits.File, line))
                    return true;
        }

        return false;
    }

    private static int CountDoubts(SourceText text)
    {
        int count = 0;
        foreach (TextLine line in text.Lines)
            if (line.Text.Contains(DoubtMark.Sign, StringComparison.Ordinal) && DoubtMark.Find(line.Text) is not null)
                count++;
        return count;
    }
}
