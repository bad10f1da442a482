using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>A repair that was made, by its line in the text as it is now.</summary>
internal sealed record Repair(int Line, ProblemKind Kind, string What, bool IsDoubt);

/// <summary>
/// Applies repairs to one file of a program, a batch at a time: the batch is verified as a whole, and halved where it
/// is refused, so that one bad edit does not keep the others out. Keeps the lines of the repairs as the text moves.
/// </summary>
internal sealed class RepairSession
{
    // Assembling is the dear part: past this number no further halving is tried.
    private const int MostChecks = 300;

    private readonly ProgramAnalysis origin;
    private readonly SourceFile originFile;
    private readonly List<Repair> repairs = [];
    private readonly HashSet<(ProblemKind, string)> refused = [];
    private int checks;

    // Null where nobody asks.
    private LineOrigin[]? origins;

    public RepairSession(
        ProgramAnalysis program,
        SourceFile file,
        ImmutableArray<LineOrigin> origins = default,
        DoubtTable? doubts = null
    )
    {
        Doubts = doubts ?? DoubtTable.Empty;
        this.origins = origins.IsDefault ? null : OriginsOf(origins, file.Text.LineCount);
        origin = program;
        originFile = file;
        Program = program;
        File = file;
    }

    /// <summary>What the numbers printed in front of the lines prove; null where there are none.</summary>
    public IRepairProof? Proof { get; init; }

    /// <summary>The program as it is now.</summary>
    public ProgramAnalysis Program { get; private set; }

    /// <summary>The file as it is now.</summary>
    public SourceFile File { get; private set; }

    /// <summary>Whether a problem is none of the session's.</summary>
    public Func<Problem, bool> LeavesAlone { get; set; } = static _ => false;

    /// <summary>Whether a guess is not to be made, because nothing but the problem itself supports it.</summary>
    public Func<Problem, Fix, bool> LacksProof { get; set; } = static (_, _) => false;

    /// <summary>The repairs made so far.</summary>
    public IReadOnlyList<Repair> Repairs => repairs;

    /// <summary>The doubts of the file as it is now; a bare sign in the text keeps the place of each.</summary>
    public DoubtTable Doubts { get; private set; }

    /// <summary>The origin of each line of the file as it is now; empty where they are not known.</summary>
    public ImmutableArray<LineOrigin> Origins => origins is null ? [] : [.. origins];

    /// <summary>Where a line of the file as it is now comes from.</summary>
    public LineOrigin OriginOf(int line) => origins is null ? LineOrigin.None : origins[line];

    /// <summary>The printed page that a line of the file as it is now comes from, or null; a line put in belongs to the page of the line before it.</summary>
    public int? PageOf(int line)
    {
        for (int i = Math.Min(line, (origins?.Length ?? 0) - 1); i >= 0; i--)
            if (!origins![i].IsNone)
                return origins[i].Page > 0 ? origins[i].Page : null;
        return null;
    }

    /// <summary>Makes the certain repairs of the kinds wanted, kind by kind, until none is left; false where nothing was made.</summary>
    public bool MakeCertain(Func<ProblemKind, bool> wanted)
    {
        bool any = false;
        for (int round = 0; round < 8; round++)
        {
            bool made = false;
            var kinds = new HashSet<ProblemKind>();
            foreach (Problem problem in ProgramProblems.OfSource(Program, File))
                if (wanted(problem.Kind) && FixFinder.Knows(problem.Kind) && !LeavesAlone(problem))
                    kinds.Add(problem.Kind);
            // In the order of the list of repairs: what was split has to be whole before columns or names can be judged.
            foreach (ProblemKind kind in FixList.Order)
                if (kinds.Contains(kind))
                    made |= MakeCertainOfKind(kind);
            if (!made)
                break;
            any = true;
        }

        return any;
    }

    /// <summary>Forgets which repairs would have changed words: in another layout they may not.</summary>
    public void TryAgain() => refused.Clear();

    /// <summary>Whether a certain repair was tried and would have changed words.</summary>
    public bool WasRefused(Fix fix) => refused.Contains((fix.Answers, KeyOf(fix)));

    /// <summary>Makes one repair whatever its certainty, with a doubt on each line that it changes; false where it does harm elsewhere.</summary>
    public bool MakeDoubtful(Fix fix) => TryApply([fix], true);

    /// <summary>Puts doubts on lines without changing them.</summary>
    public bool Mark(IReadOnlyList<(int Line, Doubt Doubt)> doubts)
    {
        var edits = ImmutableArray.CreateBuilder<TextEdit>();
        foreach (int line in doubts.Select(static d => d.Line).Distinct().Order())
        {
            string text = File.Text[line].Text;
            if (!DoubtMark.IsOn(text))
                edits.Add(new TextEdit(new TextSpan(File.Text.LineStart(line), text.Length), DoubtMark.Anchor(text)));
        }

        if (!Make(edits.ToImmutable()))
            return false;
        foreach ((int line, Doubt doubt) in doubts)
            Doubts = Doubts.With(line, doubt);
        return true;
    }

    /// <summary>Puts edits through that are no repair of a problem, such as a new layout.</summary>
    public bool Make(ImmutableArray<TextEdit> edits) =>
        edits.Length == 0 || TryApply([new Fix("", Certainty.Certain, Catalogue.OpenDoubt, File, edits)], false, false);

    private bool MakeCertainOfKind(ProblemKind kind)
    {
        var batch = new List<Fix>();
        int taken = -1;
        foreach (Problem problem in ProgramProblems.OfSource(Program, File))
        {
            if (problem.Kind != kind || LeavesAlone(problem))
                continue;
            ImmutableArray<Fix> fixes = FixFinder.For(Program, problem);
            if (fixes.Length == 0 || fixes[0].Certainty != Certainty.Certain || fixes[0].File != File)
                continue;
            Fix fix = fixes[0];
            // Edits that touch each other wait for the next round.
            if (fix.Edits.Length == 0 || fix.Edits[0].Span.Start <= taken || refused.Contains((kind, KeyOf(fix))))
                continue;
            taken = fix.Edits[^1].Span.End;
            batch.Add(fix);
        }

        return batch.Count > 0 && ApplyHalving(batch, kind);
    }

    private bool ApplyHalving(List<Fix> batch, ProblemKind kind)
    {
        if (TryApply(batch, false))
            return true;
        if (batch.Count == 1 || checks >= MostChecks)
        {
            foreach (Fix fix in batch)
                refused.Add((kind, KeyOf(fix)));
            return false;
        }

        // The second half first: its edits lie after those of the first, so that their offsets stay right.
        int half = batch.Count / 2;
        SourceFile before = File;
        bool made = ApplyHalving(batch.GetRange(half, batch.Count - half), kind);
        List<Fix> first = batch.GetRange(0, half);
        if (made)
            first = [.. first.Select(f => f with { File = File })];
        return ApplyHalving(first, kind) || made || File != before;
    }

    private bool TryApply(IReadOnlyList<Fix> fixes, bool doubtful, bool report = true)
    {
        if (!doubtful && ++checks > MostChecks)
            return false;
        var edits = new List<TextEdit>();
        var marked = new List<int>();
        foreach (Fix fix in fixes)
        {
            edits.AddRange(fix.Edits);
            if (doubtful)
                edits = DoubtMark.AnchorAll(File.Text, edits, marked);
        }

        var map = new EditMap(File.Text, edits);
        var newFile = new SourceFile(File.Name, map.After);
        ProgramAnalysis after = origin.With(new Dictionary<SourceFile, SourceFile> { [originFile] = newFile });
        HashSet<int>? doubts = doubtful ? DoubtfulLines(map) : null;
        if (!EditGuard.Allows(Program, after, File, newFile, map, doubts))
            return false;
        int[] moved = map.AllLinesAfter();
        if (
            origins is not null
            && Proof is not null
            && !Proof.Allows(
                Program,
                File,
                origins,
                after,
                newFile,
                EditGuard.EditedLines(File, map),
                moved,
                JoinedInto(File.Text, fixes),
                doubtful
            )
        )
            return false;

        SourceText before = File.Text;
        for (int i = 0; i < repairs.Count; i++)
            repairs[i] = repairs[i] with { Line = moved[repairs[i].Line] };
        if (origins is not null)
            origins = OriginsAfter(origins, map, moved, JoinedInto(File.Text, fixes));
        Doubts = DoubtsAfter(map, doubtful ? fixes[0].DoubtOrTitle : null, doubts, marked);
        (Program, File) = (after, newFile);
        if (!report)
            return true;
        foreach (Fix fix in fixes)
        {
            int line = before.PositionAt(fix.Edits[0].Span.Start).Line;
            // A whole line put in before this one is the line to report.
            bool inserted =
                fix.Edits[0] is { Span.Length: 0, NewText: [.., '\n' or '\r'] }
                && before.PositionAt(fix.Edits[0].Span.Start).Column == 0;
            int now = moved[line];
            repairs.Add(new Repair(inserted ? Math.Max(0, now - 1) : now, fix.Answers, fix.Title, doubtful));
        }

        return true;
    }

    // The doubts go where the ends of their lines go, since the sign is at the end. A line that has a new sign has the doubt
    // of the repair, and so has one that was in doubt already and is changed.
    private DoubtTable DoubtsAfter(EditMap map, Doubt? doubt, HashSet<int>? signs, List<int> marked)
    {
        if (Doubts.IsEmpty && doubt is null)
            return Doubts;
        int[] ends = map.AllLastLinesAfter();
        DoubtTable after = Doubts.Moved(ends);
        if (doubt is null)
            return after;
        foreach (int line in signs!)
            if (after.At(line).IsEmpty)
                after = after.With(line, doubt);
        foreach (int line in marked)
            after = after.With(ends[line], doubt);
        return after;
    }

    private static LineOrigin[] OriginsOf(ImmutableArray<LineOrigin> given, int lines)
    {
        var origins = new LineOrigin[lines];
        for (int i = 0; i < lines; i++)
            origins[i] = i < given.Length ? given[i] : LineOrigin.None;
        return origins;
    }

    // Lines that were joined bring their origins together, and each part of a line that was split has that line's.
    private static LineOrigin[] OriginsAfter(
        LineOrigin[] before,
        EditMap map,
        int[] firstLines,
        Dictionary<int, int> joinedInto
    )
    {
        LineOrigin[] after = OriginsOf([], map.After.LineCount);
        int[] lastLines = map.AllLastLinesAfter();
        for (int i = 0; i < before.Length; i++)
        {
            bool isGone = joinedInto.TryGetValue(i, out int whole);
            int first = isGone ? firstLines[whole] : firstLines[i],
                last = isGone ? first : Math.Max(first, lastLines[i]);
            for (int line = first; line <= last; line++)
                after[line] = after[line].With(before[i]);
        }

        return after;
    }

    // A line that a repair takes out whole is joined to the one where the repair begins, though others may lie between.
    private static Dictionary<int, int> JoinedInto(SourceText text, IReadOnlyList<Fix> fixes)
    {
        var into = new Dictionary<int, int>();
        foreach (Fix fix in fixes)
        {
            for (int i = 1; i < fix.Edits.Length; i++)
            {
                TextEdit edit = fix.Edits[i];
                if (edit.NewText.Length > 0)
                    continue;
                int from = text.PositionAt(edit.Span.Start).Line,
                    to = text.PositionAt(edit.Span.End).Line;
                for (int line = from + 1; line <= to; line++)
                    into.TryAdd(line, text.PositionAt(fix.Edits[0].Span.Start).Line);
            }
        }

        return into;
    }

    private static HashSet<int> DoubtfulLines(EditMap map)
    {
        var found = new HashSet<int>();
        for (int i = 0; i < map.After.LineCount; i++)
            if (DoubtMark.Find(map.After[i].Text) is not null)
                found.Add(i);
        return found;
    }

    // A repair that was refused is not tried again on the same words.
    private string KeyOf(Fix fix)
    {
        int line = File.Text.PositionAt(fix.Edits[0].Span.Start).Line;
        return File.Text[line].Text;
    }
}
