using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Document;
using AsmLsp.Core.Recovery.Marks;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// Turns pasted text into source, step by step, with the same repairs that an editor offers. A certain repair is made
/// and told; a guess is made with the mark of a doubt on its line; nothing is dropped.
/// </summary>
public static class TextRecovery
{
    private const int MostRounds = 4;

    // Each guess is verified by assembling: a text with more of them than this is no program that guessing could save.
    private const int MostGuesses = 150;

    /// <summary>Recovers a program from its text.</summary>
    public static RecoveryResult Run(SourceText pasted, RecoveryOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(pasted);
        options ??= RecoveryOptions.Default;
        var file = new SourceFile(options.Name, pasted);
        ProgramAnalysis program = Assembler.Assemble(file, options.Includes, options.Assembly);
        var session = new RepairSession(
            program,
            file,
            options.Origins.IsEmpty ? LineOrigin.OfText(pasted.LineCount) : options.Origins
        )
        {
            Proof = options.Proof,
        };
        int guesses = 0;
        for (int round = 0; round < MostRounds; round++)
        {
            bool changed = false;
            foreach (RecoveryStep step in RecoveryStep.All)
                changed |= Make(session, step, ref guesses);
            if (!changed)
                break;
        }

        if (options.Format)
            session.Make(Formatter.Format(session.Program, session.File));
        session.Make(PlacesOfDoubts(session.File.Text, session.Origins));
        RecoveryResult result = ScatteredConfiguration.Mark(
            MissingHints.Tell(
                new RecoveryResult(session.File.Text, Report(session), session.Program) { Origins = session.Origins }
            )
        );
        return BlanksInText.MarkShrunk(RecoveryMarks.Add(result), pasted);
    }

    private static bool Make(RepairSession session, RecoveryStep step, ref int guesses)
    {
        // What is certain is often the evidence for what is doubtful beside it: where a step says so, doubts come first.
        bool changed = !step.DoubtsFirst && session.MakeCertain(step.Kinds.Contains);
        var tried = new HashSet<(string Code, int Column, string Text, LineOrigin Origin)>();
        while (guesses < MostGuesses && NextGuess(session, step, tried) is { } fix)
        {
            guesses++;
            changed |= session.MakeDoubtful(fix);
        }

        if (guesses >= MostGuesses)
            changed |= MarkOthers(session, step, tried);
        return (step.DoubtsFirst && session.MakeCertain(step.Kinds.Contains)) | changed;
    }

    private static Fix? NextGuess(
        RepairSession session,
        RecoveryStep step,
        HashSet<(string, int, string, LineOrigin)> tried
    ) => Guesses(session, step, tried).FirstOrDefault();

    private static IEnumerable<Fix> Guesses(
        RepairSession session,
        RecoveryStep step,
        HashSet<(string, int, string, LineOrigin)> tried
    )
    {
        foreach (Problem problem in ProgramProblems.OfSource(session.Program, session.File))
        {
            if (!step.Kinds.Contains(problem.Kind))
                continue;
            int line = problem.Place.Line;
            string text = session.File.Text[line].Text;
            // A line with a doubt is a person's to settle. Equal lines are judged each by itself.
            if (
                DoubtMarker.Find(text) is not null
                || !tried.Add((problem.Code, problem.Place.Columns.Start, text, session.OriginOf(line)))
            )
                continue;
            ImmutableArray<Fix> fixes = FixFinder.For(session.Program, problem);
            foreach (Fix fix in fixes)
            {
                bool wanted =
                    fix.Certainty == Certainty.Guess
                        ? fix.Doubt is not null
                        : step.KindsWithDoubtOnly.Contains(problem.Kind) && session.WasRefused(fix);
                if (!wanted)
                    continue;
                yield return DoubtReading.WithOthers(fix, fixes);
                break;
            }
        }
    }

    // What nobody guesses at any more keeps its question: a later step may take away the sign that it was asked by.
    private static bool MarkOthers(
        RepairSession session,
        RecoveryStep step,
        HashSet<(string, int, string, LineOrigin)> tried
    )
    {
        SourceText text = session.File.Text;
        var edits = ImmutableArray.CreateBuilder<TextEdit>();
        int last = -1;
        foreach (Fix fix in Guesses(session, step, tried))
        {
            int line = text.PositionAt(fix.Edits[0].Span.Start).Line;
            if (line <= last)
                continue;
            last = line;
            string before = text[line].Text,
                after = DoubtMarker.Add(before, "compare this with the page");
            edits.Add(new TextEdit(new TextSpan(text.LineStart(line), before.Length), after));
        }

        return session.Make(edits.ToImmutable()) && edits.Count > 0;
    }

    // Each doubt says where its line was printed: the page outlives the report.
    private static ImmutableArray<TextEdit> PlacesOfDoubts(SourceText text, ImmutableArray<LineOrigin> origins)
    {
        var edits = ImmutableArray.CreateBuilder<TextEdit>();
        for (int i = 0; i < origins.Length; i++)
        {
            if (
                origins[i].Page == 0
                || DoubtMarker.Find(text[i].Text) is not { } span
                || DoubtMarker.Read(text[i].Text) is not { Place: "" } doubt
            )
                continue;
            edits.Add(
                new TextEdit(
                    new TextSpan(text.LineStart(i) + span.Start, span.Length),
                    $"{DoubtMarker.Sign} {doubt with { Place = origins[i].ToString() }}"
                )
            );
        }

        return edits.ToImmutable();
    }

    private static ImmutableArray<RecoveryEntry> Report(RepairSession session)
    {
        var entries = new List<RecoveryEntry>();
        SourceText text = session.File.Text;
        foreach (Repair repair in session.Repairs)
        {
            if (repair.IsDoubt && DoubtMarker.Find(text[repair.Line].Text) is not null)
                continue; // Told below, as the doubt that it is.
            entries.Add(
                new RecoveryEntry(
                    repair.Line,
                    0,
                    text[repair.Line].Text.Length,
                    repair.IsDoubt ? Severity.Warning : Severity.Information,
                    repair.Kind.Code,
                    repair.What + ".",
                    session.PageOf(repair.Line)
                )
            );
        }

        foreach (Problem problem in ProgramProblems.OfSource(session.Program, session.File))
        {
            if (problem.Severity == Severity.Information)
                continue;
            TextSpan span = problem.Place.Columns;
            entries.Add(
                new RecoveryEntry(
                    problem.Place.Line,
                    span.Start,
                    span.End,
                    problem.Severity,
                    problem.Code,
                    problem.Message,
                    session.PageOf(problem.Place.Line)
                )
            );
        }

        // Of what the program does when it runs, this alone may come of the page: a line of a table is missing.
        foreach (Problem problem in FlowProblems.Find(session.Program))
        {
            if (problem.Kind != Catalogue.TableTooShort || problem.Place.File != session.File)
                continue;
            TextSpan span = problem.Place.Columns;
            entries.Add(
                new RecoveryEntry(
                    problem.Place.Line,
                    span.Start,
                    span.End,
                    problem.Severity,
                    problem.Code,
                    problem.Message,
                    session.PageOf(problem.Place.Line)
                )
            );
        }

        foreach (Problem problem in session.Program.Problems)
        {
            if (problem.Place.File == session.File || problem.Severity != Severity.Error)
                continue;
            entries.Add(
                new RecoveryEntry(0, 0, 0, Severity.Error, problem.Code, $"{problem.Place}: {problem.Message}")
            );
        }

        return [.. entries.OrderBy(e => e.Line).ThenBy(e => e.Column).ThenBy(e => e.Severity)];
    }
}
