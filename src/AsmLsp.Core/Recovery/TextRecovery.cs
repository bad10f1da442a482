using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// Turns pasted text into source, step by step, with the same repairs that an editor offers. A certain repair is made
/// and reported; a guess is made with the mark of a doubt on its line; nothing is dropped.
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
        return RecoveredDoubts.Write(
            MissingHints.Add(Repair(pasted, options ?? RecoveryOptions.Default, DoubtTable.Of(pasted)))
        );
    }

    /// <summary>The recovered program with its doubts beside it: their marks are not written yet.</summary>
    /// <param name="pasted">The text, with a sign on each line that has a doubt already.</param>
    /// <param name="options">What is known beside it.</param>
    /// <param name="doubts">The doubts that it has already.</param>
    internal static RecoveryResult Repair(SourceText pasted, RecoveryOptions options, DoubtTable doubts)
    {
        var file = new SourceFile(options.Name, pasted);
        ProgramAnalysis program = Assembler.Assemble(file, options.Includes, options.Assembly);
        var session = new RepairSession(
            program,
            file,
            options.Origins.IsEmpty ? LineOrigin.OfText(pasted.LineCount) : options.Origins,
            doubts
        )
        {
            Proof = options.Proof,
        };
        if (options.KnownRows.Count > 0 || options.IsOutside is not null)
            session.LeavesAlone = problem => IsKnownRow(session, problem, options) || IsOutside(problem, options);
        session.LacksProof = (problem, fix) => LacksProof(session, problem, fix, options.Quality);
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
        DoubtTable placed = WithPlaces(session.Doubts, session.Origins);
        RecoveryResult result = ScatteredConfiguration.Mark(
            new RecoveryResult(session.File.Text, Report(session, placed, options), session.Program)
            {
                Origins = session.Origins,
                Doubts = placed,
            }
        );
        return BlanksInText.MarkShrunk(SuspicionList.Add(result, options.KnownRows), pasted);
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
            if (!step.Kinds.Contains(problem.Kind) || session.LeavesAlone(problem))
                continue;
            int line = problem.Place.Line;
            string text = session.File.Text[line].Text;
            // A line with a doubt is a person's to resolve. Equal lines are judged each by itself.
            if (
                DoubtMark.Find(text) is not null
                || !tried.Add((problem.Code, problem.Place.Columns.Start, text, session.OriginOf(line)))
            )
                continue;
            ImmutableArray<Fix> fixes = FixFinder.For(session.Program, problem);
            foreach (Fix fix in fixes)
            {
                bool wanted =
                    fix.Certainty == Certainty.Guess
                        ? fix.Doubt is not null && !session.LacksProof(problem, fix)
                        : step.KindsWithDoubtOnly.Contains(problem.Kind) && session.WasRefused(fix);
                if (!wanted)
                    continue;
                yield return OtherReadings.Add(fix, fixes);
                break;
            }
        }
    }

    // Where the text is clear, a name is as its author wrote it, and what is missing is its definition; so it is where it occurs several times in one spelling.
    private static bool LacksProof(RepairSession session, Problem problem, Fix fix, TextQuality quality) =>
        quality switch
        {
            TextQuality.Ocr => false,
            TextQuality.Clear => fix.NameGuess != NameGuess.None,
            _ => fix.NameGuess == NameGuess.IsNear
                && session.Program.Problems.Count(p =>
                    p.Kind == Catalogue.UndefinedName && p.Arguments[0] == problem.Arguments[0]
                ) > 1,
        };

    // What nobody guesses at any more keeps its question: a later step may take away the sign that it was asked by.
    private static bool MarkOthers(
        RepairSession session,
        RecoveryStep step,
        HashSet<(string, int, string, LineOrigin)> tried
    )
    {
        SourceText text = session.File.Text;
        var doubts = new List<(int, Doubt)>();
        int last = -1;
        foreach (Fix fix in Guesses(session, step, tried))
        {
            int line = text.PositionAt(fix.Edits[0].Span.Start).Line;
            if (line <= last)
                continue;
            last = line;
            doubts.Add((line, new Doubt("compare this with the page") { Evidence = fix.Answers.Code }));
        }

        return doubts.Count > 0 && session.Mark(doubts);
    }

    // Whether a problem asks if a row is a rest, though the page has reported that it is none.
    private static bool IsKnownRow(RepairSession session, Problem problem, RecoveryOptions options) =>
        (problem.Kind == Catalogue.CommentOrInstruction || problem.Kind == Catalogue.CommentWithoutMark)
        && session.OriginOf(problem.Place.Line).Places is [var place, ..]
        && options.KnownRows.Contains(place)
        && (
            problem.Severity != Severity.Error
            || options.AfterText.Contains(place)
            || CodeShape.HasColumns(LineSyntax.Of(session.File.Text[problem.Place.Line]))
        );

    // In a file that a program includes, a name that the program has.
    private static bool IsOutside(Problem problem, RecoveryOptions options) =>
        options.IsOutside is { } isOutside
        && (
            problem.Kind == Catalogue.UndefinedName
            || problem.Kind == Catalogue.UnknownOperation
            || problem.Kind == Catalogue.NotAnOperation
        )
        && problem.Arguments.Any(isOutside);

    // Each doubt says where its line was printed: the page outlives the report.
    private static DoubtTable WithPlaces(DoubtTable doubts, ImmutableArray<LineOrigin> origins) =>
        doubts.Select(
            (line, doubt) =>
                doubt.Origin.IsNone && line < origins.Length && origins[line].Page > 0
                    ? doubt with
                    {
                        Origin = origins[line],
                    }
                    : doubt
        );

    // A problem that is left alone explains nothing: what it was for is reported itself.
    private static IEnumerable<Problem> ProblemsOf(RepairSession session)
    {
        ImmutableArray<Problem> all = ProgramProblems.OfSource(session.Program, session.File);
        HashSet<int> leftAlone = [.. all.Where(session.LeavesAlone).Select(static p => p.Place.Line)];
        if (leftAlone.Count == 0)
            return all;
        return all.Where(p => !session.LeavesAlone(p))
            .Concat(
                session.Program.Problems.Where(p =>
                    p.Severity == Severity.Error
                    && p.Place.File == session.File
                    && (
                        leftAlone.Contains(p.Place.Line)
                        || p.Related.Any(r => r.Place.File == session.File && leftAlone.Contains(r.Place.Line))
                    )
                )
            )
            .Distinct()
            .OrderBy(static p => p.Place.Line);
    }

    private static bool IsUnknownName(Problem problem) =>
        problem.Kind == Catalogue.UndefinedName || problem.Kind == Catalogue.NameOfMissingFile;

    // Of a text that nobody knows the source of, where another name is near.
    private static bool MayBeMisread(RepairSession session, Problem problem, TextQuality quality) =>
        quality switch
        {
            TextQuality.Clear => false,
            TextQuality.Ocr => true,
            _ => FixFinder.For(session.Program, problem).Any(static f => f.NameGuess != NameGuess.None),
        };

    private static ImmutableArray<RecoveryEntry> Report(
        RepairSession session,
        DoubtTable doubts,
        RecoveryOptions options
    )
    {
        var entries = new List<RecoveryEntry>();
        SourceText text = session.File.Text;
        foreach (Repair repair in session.Repairs)
        {
            if (repair.IsDoubt && DoubtMark.Find(text[repair.Line].Text) is not null)
                continue; // Reported below, as the doubt that it is.
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

        var undefined = new Dictionary<(string Code, string Name), (int At, List<ReportedPlace> Others)>();
        // What is wrong with an included file shows in the program that includes it.
        foreach (Problem problem in options.IsOutside is null ? ProblemsOf(session) : [])
        {
            // The sign alone is in the text; what the doubts say is in their table.
            if (problem.Severity == Severity.Information || problem.Kind == Catalogue.OpenDoubt)
                continue;
            // One lost definition is one entry, however many lines use the name. Where a letter may be misread, each line is to be looked at.
            if (IsUnknownName(problem) && !MayBeMisread(session, problem, options.Quality))
            {
                (string Code, string Name) key = (problem.Code, problem.Arguments[0]);
                if (undefined.TryGetValue(key, out (int At, List<ReportedPlace> Others) known))
                {
                    known.Others.Add(
                        new ReportedPlace(problem.Place.Line, problem.Place.Columns.Start, problem.Place.Columns.End)
                    );
                    continue;
                }

                undefined[key] = (entries.Count, []);
            }

            TextSpan span = problem.Place.Columns;
            entries.Add(
                new RecoveryEntry(
                    problem.Place.Line,
                    span.Start,
                    span.End,
                    // That a program sets no configuration is its author's matter, and no doubt about what was printed.
                    problem.Kind == Catalogue.NoConfiguration
                        ? Severity.Information
                        : problem.Severity,
                    problem.Code,
                    problem.Message,
                    session.PageOf(problem.Place.Line)
                )
            );
        }

        foreach ((int at, List<ReportedPlace> others) in undefined.Values)
            if (others.Count > 0)
                entries[at] = entries[at] with
                {
                    Message = string.Create(
                        CultureInfo.InvariantCulture,
                        $"{entries[at].Message} The name is used {others.Count + 1} times, here first."
                    ),
                    Related = [.. others],
                };

        foreach (int line in doubts.Lines)
            entries.Add(RecoveredDoubts.EntryFor(text, line, doubts, session.PageOf(line)));

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
            if (
                problem.Place.File == session.File
                || problem.Severity != Severity.Error
                || options.PrintedFiles.Contains(problem.Place.File.Name)
            )
                continue;
            entries.Add(
                new RecoveryEntry(0, 0, 0, Severity.Error, problem.Code, $"{problem.Place}: {problem.Message}")
            );
        }

        return [.. entries.OrderBy(e => e.Line).ThenBy(e => e.Column).ThenBy(e => e.Severity)];
    }
}
