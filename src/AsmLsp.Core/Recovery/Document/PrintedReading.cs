using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Gutter;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Takes the words printed in front of lines as evidence for what the lines say. A line that gives no word, or is in doubt, and that one reading near
/// its text makes give the printed one, is read so: two pieces of print agree that were read independently. A doubt whose line gives the printed
/// word is settled.
/// </summary>
internal static class PrintedReading
{
    // Doubts about what stands above or below the line, or about the document: no word beside the line settles them.
    private static readonly string[] AboutOthers =
    [
        "missing above",
        "missing below",
        "left out",
        "belongs above",
        "comes behind",
        "printed like page",
        "are printed twice",
        "too many here or above",
        "could not be read",
        "several",
        "The names below",
        "taken as the rest",
    ];

    /// <summary>The source with the lines that the printed words tell, and without the doubts that they settle.</summary>
    public static RecoveryResult Apply(RecoveryResult result, List<ListingLine> lines) =>
        Settle(Restore(result, lines), lines);

    private static RecoveryResult Restore(RecoveryResult result, List<ListingLine> lines)
    {
        var faulty = new HashSet<int>();
        var gives = new Dictionary<int, ushort>();
        foreach ((_, ushort word, WordOrigin origin) in result.Program.Image.Words)
            if (origin.Outermost.File == result.Program.Root)
                gives.TryAdd(origin.Outermost.Line, word);
        foreach (Problem problem in result.Program.Problems)
            if (problem.Severity == Severity.Error && problem.Place.File == result.Program.Root)
                faulty.Add(problem.Place.Line);
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        var near = new NearReading(result.Program);
        var readings = new SortedDictionary<int, (string Now, int Word)>();
        var doubts = new SortedDictionary<int, Doubt>();
        foreach (ListingLine line in lines)
        {
            if (
                line.Word < 0
                || line.MoreWords.Length > 0
                || line.Origin.IsNone
                || !lineOf.TryGetValue(line.Origin.Places[0], out int at)
            )
                continue;
            string text = DoubtMarker.Remove(result.Source[at].Text);
            int radix = result.Program.FactsOf(result.Program.Root, at).Radix;
            List<string> found = [];
            if (faulty.Contains(at))
                found = near.Find(text, line.Word, radix);
            else if (
                gives.TryGetValue(at, out ushort word)
                && word != line.Word
                && DoubtMarker.Read(result.Source[at].Text) is { Alternatives.Length: > 0 } doubt
            )
                found =
                [
                    .. doubt
                        .Alternatives.Where(static a => a != Doubt.AsComment)
                        .Select(a => DoubtReading.Take(result.Source[at].Text, a))
                        .Where(a => near.Gives(a, line.Word, radix)),
                ];
            if (found.Count == 1)
                readings.TryAdd(at, (found[0], line.Word));
            else if (found.Count > 1)
                doubts.TryAdd(
                    at,
                    new Doubt($"the page prints {Hex(line.Word)} here")
                    {
                        Alternatives = [.. found.Take(3).Select(DoubtReading.Of)],
                        Place = result.Origins[at].ToString(),
                    }
                );
        }

        foreach ((int at, _) in readings)
            doubts.Remove(at);
        return DoubtMarks.Add(Read(result, readings), doubts, []);
    }

    private static RecoveryResult Read(RecoveryResult result, SortedDictionary<int, (string Now, int Word)> readings)
    {
        if (readings.Count == 0)
            return result;
        RecoveryResult after = With(
            result,
            readings.Select(r => new TextEdit(
                new TextSpan(result.Source.LineStart(r.Key), result.Source[r.Key].Text.Length),
                r.Value.Now
            ))
        );
        var gives = new Dictionary<int, ushort>();
        foreach ((_, ushort word, WordOrigin origin) in after.Program.Image.Words)
            if (origin.Outermost.File == after.Program.Root)
                gives.TryAdd(origin.Outermost.Line, word);
        // Each reading is held against the whole program; one that does not give its word is none.
        List<int> wrong =
        [
            .. readings.Keys.Where(at => !gives.TryGetValue(at, out ushort word) || word != readings[at].Word),
        ];
        if (wrong.Count > 0)
        {
            foreach (int at in wrong)
                readings.Remove(at);
            return Read(result, readings);
        }

        var entries = new List<RecoveryEntry>();
        foreach (RecoveryEntry entry in result.Entries)
            if (!readings.ContainsKey(entry.Line) || entry.Severity == Severity.Information)
                entries.Add(entry);
        foreach ((int at, (string now, int word)) in readings)
        {
            string message =
                $"'{DoubtReading.Of(DoubtMarker.Remove(result.Source[at].Text)).Trim()}' does not give the printed word; '{DoubtReading.Of(now).Trim()}' looks like it and gives {Hex(word)}, which is printed beside it: read from the printed word.";
            entries.Add(
                new RecoveryEntry(
                    at,
                    0,
                    now.Length,
                    Severity.Information,
                    DocumentCodes.PrintedWordRead,
                    message,
                    PageOf(result, at)
                )
            );
        }

        // What was an error only because of them is one no more.
        return after with
        {
            Entries =
            [
                .. entries.Where(e =>
                    e.Severity != Severity.Error
                    || after.Program.Problems.Any(p => p.Place.Line == e.Line && p.Code == e.Code)
                ),
            ],
        };
    }

    private static RecoveryResult Settle(RecoveryResult result, List<ListingLine> lines)
    {
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        var printed = new Dictionary<int, List<int>>();
        foreach (ListingLine line in lines)
        {
            if (!line.HasWord || line.Origin.IsNone || !lineOf.TryGetValue(line.Origin.Places[0], out int at))
                continue;
            if (!printed.TryGetValue(at, out List<int>? words))
                printed.Add(at, words = []);
            words.Add(line.Word);
            foreach ((_, int more) in line.MoreWords)
                words.Add(more);
        }

        Dictionary<int, List<int>> built = RowProof.Collect(result.Program);
        var settled = new HashSet<int>();
        foreach ((int at, List<int> words) in printed)
        {
            if (
                DoubtMarker.WordsOf(result.Source[at].Text) is not { } doubt
                || Array.Exists(AboutOthers, a => doubt.Contains(a, StringComparison.Ordinal))
            )
                continue;
            if (built.TryGetValue(at, out List<int>? made) && made.SequenceEqual(words))
                settled.Add(at);
        }

        if (settled.Count == 0)
            return result;
        RecoveryResult after = With(
            result,
            settled
                .Order()
                .Select(at => new TextEdit(
                    new TextSpan(result.Source.LineStart(at), result.Source[at].Text.Length),
                    DoubtMarker.Remove(result.Source[at].Text)
                ))
        );
        var entries = new List<RecoveryEntry>();
        foreach (RecoveryEntry entry in result.Entries)
            entries.Add(
                settled.Contains(entry.Line)
                && entry.Severity == Severity.Warning
                && entry.Code == Catalogue.OpenDoubt.Code
                    ? entry with
                    {
                        Severity = Severity.Information,
                        Code = DocumentCodes.PrintedWordRead,
                        Message =
                            $"{Capital(Doubt.Parse(DoubtMarker.WordsOf(result.Source[entry.Line].Text)!).Words)}: the word printed beside it is what it gives.",
                        EndColumn = after.Source[entry.Line].Text.Length,
                    }
                    : entry
            );
        return after with { Entries = [.. entries] };
    }

    private static RecoveryResult With(RecoveryResult result, IEnumerable<TextEdit> edits)
    {
        SourceText source = result.Source.WithEdits([.. edits]);
        var root = new SourceFile(result.Program.Root.Name, source);
        return result with
        {
            Source = source,
            Program = result.Program.With(new Dictionary<SourceFile, SourceFile> { [result.Program.Root] = root }),
        };
    }

    private static int? PageOf(RecoveryResult result, int line) =>
        result.Origins[line].Page is > 0 and var page ? page : null;

    private static string Capital(string words) =>
        words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    private static string Hex(int value) => "0x" + value.ToString("X4", CultureInfo.InvariantCulture);
}
