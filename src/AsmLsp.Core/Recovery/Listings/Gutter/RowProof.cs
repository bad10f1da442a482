using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Checks repairs by what is printed in front of the lines. A row with a number or a word of its own is a line of its own; one whose word is
/// what the line builds is right; and no repair makes a line build another word than the printed one.
/// </summary>
internal sealed class RowProof : IRepairProof
{
    private const string OrRest = "or the rest of the comment above?";

    private readonly HashSet<PrintedPlace> rows = [];
    private readonly Dictionary<PrintedPlace, int[]> words = [];
    private readonly Dictionary<PrintedPlace, int> addresses = [];
    private (ProgramAnalysis Program, Dictionary<int, List<int>> Built)? known;

    private RowProof() { }

    /// <summary>What is printed in front of the lines of a listing; null where nothing is.</summary>
    public static RowProof? Of(List<ListingLine> lines)
    {
        var proof = new RowProof();
        foreach (ListingLine line in lines)
        {
            if (line.Printed is not { } printed || line.IsProse)
                continue;
            var place = new PrintedPlace(printed.Page, printed.Number);
            if (line.IsRow)
                proof.rows.Add(place);
            if (line.HasWord)
                proof.words[place] = [line.Word, .. line.MoreWords.Select(static w => w.Word)];
            if (line.Address >= 0)
                proof.addresses[place] = line.Address;
        }

        return proof.rows.Count + proof.words.Count == 0 ? null : proof;
    }

    /// <summary>The rows that have a number or a word of their own.</summary>
    public IReadOnlySet<PrintedPlace> Rows => rows;

    /// <summary>The result without the doubts whether a row with a number of its own is the rest of the row above.</summary>
    public RecoveryResult Resolve(RecoveryResult result)
    {
        var resolved = new HashSet<int>();
        foreach (int line in result.Doubts.Lines)
            if (IsRow(result, line) && result.Doubts.At(line).Any(IsAboutRest))
                resolved.Add(line);
        DoubtTable left = result.Doubts.Where((line, d) => !resolved.Contains(line) || !IsAboutRest(d));
        resolved.RemoveWhere(line => !left.At(line).IsEmpty);
        return RecoveredDoubts.WithLines(
            result,
            resolved.ToDictionary(static line => line, line => DoubtMark.Remove(result.Source[line].Text))
        ) with
        {
            Doubts = left,
            Entries =
            [
                .. result.Entries.Where(e =>
                    e.Severity == Severity.Information
                    || (
                        e.Code == Catalogue.OpenDoubt.Code
                            ? !resolved.Contains(e.Line)
                            : e.Code != Catalogue.CommentOrInstruction.Code || !IsRow(result, e.Line)
                    )
                ),
            ],
        };
    }

    private bool IsRow(RecoveryResult result, int line) =>
        line < result.Origins.Length && !result.Origins[line].IsNone && rows.Contains(result.Origins[line].Places[0]);

    private static bool IsAboutRest(Doubt doubt) =>
        doubt.Kind == DoubtKind.Extent && doubt.Words.StartsWith(OrRest, StringComparison.Ordinal);

    /// <inheritdoc/>
    public bool Allows(
        ProgramAnalysis before,
        SourceFile file,
        LineOrigin[] origins,
        ProgramAnalysis after,
        SourceFile newFile,
        IEnumerable<int> edited,
        int[] moved,
        Dictionary<int, int> joined,
        bool isDoubtful
    )
    {
        Dictionary<int, List<int>>? now = null;
        foreach (int line in edited)
        {
            if (line >= origins.Length || origins[line].IsNone)
                continue;
            PrintedPlace place = origins[line].Places[0];
            bool hasWord = words.TryGetValue(place, out int[]? printed);
            if (!hasWord && !rows.Contains(place))
                continue;
            string code = CodeOf(file, line),
                then = CodeOf(newFile, moved[line]);
            if (code.Length > 0 && joined.ContainsKey(line))
                return false;
            if (code.Length > 0 && then.Length == 0 && (hasWord || !isDoubtful))
                return false;
            if (!hasWord)
                continue;
            bool isRight = Agrees(BuiltBy(before).GetValueOrDefault(line), printed!);
            if (isRight && isDoubtful && code != then)
                return false;
            List<int>? made = (now ??= Collect(after)).GetValueOrDefault(moved[line]);
            if (
                isRight
                    ? !Agrees(made, printed!)
                    : isDoubtful
                        && made is not null
                        && !MayAgree(made, printed!, word => PrintedTarget(after, word, origins, moved))
            )
                return false;
        }

        return true;
    }

    private static string CodeOf(SourceFile file, int line)
    {
        LineSyntax syntax = LineSyntax.Of(file.Text[line]);
        return syntax.Text.Substring(syntax.CodeSpan.Start, syntax.CodeSpan.Length);
    }

    private static bool Agrees(List<int>? made, int[] printed)
    {
        if (made is null || made.Count < printed.Length)
            return false;
        for (int i = 0; i < printed.Length; i++)
            if (made[i] != printed[i])
                return false;
        return true;
    }

    // 'call' and 'goto' (their upper bits: DS30292C, table 13-2) may go to a place that is not yet where it belongs: the address printed there says.
    private static bool MayAgree(List<int> made, int[] printed, Func<int, int?> printedTarget)
    {
        for (int i = 0; i < Math.Min(made.Count, printed.Length); i++)
        {
            if (printed[i] < 0 || made[i] == printed[i])
                continue;
            if (printed[i] is < 0x2000 or >= 0x3000 || (made[i] & 0x3800) != (printed[i] & 0x3800))
                return false;
            if (printedTarget(made[i] & 0x7FF) is { } target && (target & 0x7FF) != (printed[i] & 0x7FF))
                return false;
        }

        return true;
    }

    // The address that is printed in front of the line that is built at an address.
    private int? PrintedTarget(ProgramAnalysis program, int address, LineOrigin[] origins, int[] moved)
    {
        if (
            !program.Image.TryGet(address, out _, out WordOrigin origin)
            || origin.Outermost.File.Name != program.Root.Name
            || Array.IndexOf(moved, origin.Outermost.Line) is not (>= 0 and var line)
            || line >= origins.Length
            || origins[line].IsNone
        )
            return null;
        return addresses.TryGetValue(origins[line].Places[0], out int printed) ? printed : null;
    }

    private Dictionary<int, List<int>> BuiltBy(ProgramAnalysis program)
    {
        if (known is not { } last || last.Program != program)
            known = last = (program, Collect(program));
        return last.Built;
    }

    /// <summary>The words that each line of the program's own file builds, those of the macros that it calls with them.</summary>
    public static Dictionary<int, List<int>> Collect(ProgramAnalysis program)
    {
        var built = new Dictionary<int, List<int>>();
        foreach ((_, ushort word, WordOrigin origin) in program.Image.Words)
        {
            if (origin.Outermost.File.Name != program.Root.Name)
                continue;
            if (!built.TryGetValue(origin.Outermost.Line, out List<int>? made))
                built.Add(origin.Outermost.Line, made = []);
            made.Add(word);
        }

        return built;
    }
}
