using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Comparison;

/// <summary>A place where two sources of one listing do not say the same. Lines count from 0; -1 where a reading has none.</summary>
/// <param name="First">The line of the first reading.</param>
/// <param name="Second">The line of the second reading.</param>
/// <param name="Words">What the first has and the second has not; empty for a line that only one has.</param>
/// <param name="OtherWords">What the second has and the first has not.</param>
public sealed record SourceDifference(int First, int Second, string Words, string OtherWords)
{
    /// <summary>For a run of lines that only one reading has: how many; 1 for a single line.</summary>
    public int Count { get; init; } = 1;

    /// <summary>The last line of the run, in the reading that has it; the line itself for a single line.</summary>
    public int LastLine { get; init; }

    /// <summary>For lines that only the second reading has: the line of the first, from 0, before which they belong.</summary>
    public int PlaceInFirst { get; init; } = -1;

    /// <summary>Whether the reading that lacks the run has nothing more after it: it ends early.</summary>
    public bool IsEnd { get; init; }
}

/// <summary>
/// Two readings of one listing, made independently of each other, compared with each other. Blanks, comments, the case of names and
/// the notation of a number are no differences.
/// </summary>
public sealed class SourceComparison
{
    // A run of as many lines that only one reading has is reported at once: that part was not read twice.
    private const int LongRun = 6;

    private SourceComparison(ProgramAnalysis first, ProgramAnalysis second) => (First, Second) = (first, second);

    /// <summary>The first reading.</summary>
    public ProgramAnalysis First { get; }

    /// <summary>The second reading.</summary>
    public ProgramAnalysis Second { get; }

    /// <summary>The differences, in the order of the listing.</summary>
    public ImmutableArray<SourceDifference> Differences { get; private init; } = [];

    /// <summary>How many lines of the program both readings have alike.</summary>
    public int Agreeing { get; private init; }

    /// <summary>How many of those are written in two ways that mean the same.</summary>
    public int WrittenOtherwise { get; private init; }

    /// <summary>Whether each reading has lines of a program at all.</summary>
    public (bool First, bool Second) HasProgram { get; private init; }

    /// <summary>Whether both build without errors to other words although all lines agree: they include other files.</summary>
    public bool WordsDifferAnyway { get; private init; }

    /// <summary>Whether both readings are the same program.</summary>
    public bool IsSame => Differences.IsEmpty && !WordsDifferAnyway;

    /// <summary>Compares two readings.</summary>
    public static SourceComparison Of(ProgramAnalysis first, ProgramAnalysis second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        (List<ComparedLine> a, List<ComparedLine> b) = ComparedLines.Of(first, second);
        List<(int First, int Second)> pairs = LineAlignment.Of(
            [.. a.Select(static l => l.Key)],
            [.. b.Select(static l => l.Key)]
        );
        var differences = ImmutableArray.CreateBuilder<SourceDifference>();
        // After the last line of the first reading that was met: there a line belongs that only the second has.
        int agreeing = 0,
            otherwise = 0,
            place = 0;
        for (int i = 0; i < pairs.Count; i++)
        {
            (int x, int y) = pairs[i];
            if (x >= 0)
                place = a[x].Line + 1;
            if (x >= 0 && y >= 0)
            {
                string left = first.Root.Text[a[x].Line].Text,
                    right = second.Root.Text[b[y].Line].Text;
                if (a[x].Key != b[y].Key)
                {
                    differences.Add(Differing(a[x].Line, b[y].Line, left, right));
                    continue;
                }

                agreeing++;
                if (DoubtMark.Remove(left).TrimEnd() != DoubtMark.Remove(right).TrimEnd())
                    otherwise++;
                continue;
            }

            int run = 1;
            while (i + run < pairs.Count && pairs[i + run].First < 0 == x < 0 && pairs[i + run].Second < 0 == y < 0)
                run++;
            List<ComparedLine> own = x >= 0 ? a : b;
            int start = x >= 0 ? x : y;
            if (run >= LongRun)
            {
                differences.Add(
                    Alone(x >= 0, own[start].Line) with
                    {
                        PlaceInFirst = place,
                        Count = run,
                        LastLine = own[start + run - 1].Line,
                        IsEnd = IsEnd(pairs, i + run, first.Root.Text, a),
                    }
                );
                i += run - 1;
                if (x >= 0)
                    place = own[start + run - 1].Line + 1;
                continue;
            }

            differences.Add(Alone(x >= 0, own[start].Line) with { PlaceInFirst = place });
        }

        bool anyway =
            differences.Count == 0
            && !first.HasErrors
            && !second.HasErrors
            && !MemoryComparison.Compare(first.Image.Memory, second.Image.Memory, first.Device).IsEmpty;
        return new SourceComparison(first, second)
        {
            Differences = differences.ToImmutable(),
            Agreeing = agreeing,
            WrittenOtherwise = otherwise,
            HasProgram = (a.Exists(static l => l.IsKnown), b.Exists(static l => l.IsKnown)),
            WordsDifferAnyway = anyway,
        };
    }

    /// <summary>The words that a line of a reading gives, each with its address; none where it gives none.</summary>
    public static IReadOnlyDictionary<int, IReadOnlyList<(int Address, ushort Word)>> WordsByLine(
        ProgramAnalysis reading
    )
    {
        ArgumentNullException.ThrowIfNull(reading);
        var found = new Dictionary<int, IReadOnlyList<(int, ushort)>>();
        foreach ((int address, ushort word, WordOrigin origin) in reading.Image.Words)
        {
            (SourceFile file, int line) = origin.Outermost;
            if (file != reading.Root)
                continue;
            if (!found.TryGetValue(line, out IReadOnlyList<(int, ushort)>? words))
                found[line] = words = new List<(int, ushort)>();
            ((List<(int, ushort)>)words).Add((address, word));
        }

        return found;
    }

    private static SourceDifference Alone(bool isFirst, int line) =>
        new(isFirst ? line : -1, isFirst ? -1 : line, "", "") { LastLine = line };

    private static SourceDifference Differing(int first, int second, string left, string right)
    {
        string a = DoubtReading.Of(left).Trim(),
            b = DoubtReading.Of(right).Trim();
        (List<WordPiece> before, List<WordPiece> after) = WordDifference.Between(a, b);
        return new SourceDifference(first, second, Changed(a, before), Changed(b, after)) { LastLine = first };
    }

    // From the first word that differs to the last one, as written.
    private static string Changed(string text, List<WordPiece> pieces)
    {
        int from = pieces.FindIndex(static p => !p.IsShared),
            to = pieces.FindLastIndex(static p => !p.IsShared);
        return from < 0 ? "" : text[pieces[from].Start..(pieces[to].Start + pieces[to].Length)];
    }

    // Nothing after the run but the 'end' that both have.
    private static bool IsEnd(
        List<(int First, int Second)> pairs,
        int following,
        SourceText text,
        List<ComparedLine> lines
    ) =>
        following == pairs.Count
        || (
            following == pairs.Count - 1
            && pairs[following] is { First: >= 0, Second: >= 0 } last
            && LineSyntax.Parse(DoubtReading.Of(text[lines[last.First].Line].Text))
                is { Keyword: Keyword.End, LabelToken: < 0, OperandSpan.Length: 0 }
        );
}
