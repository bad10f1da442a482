using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Takes the words printed in front of lines as evidence for what the lines say. A line that gives no word, or is in doubt, and that one reading near
/// its text makes give the printed one, is read so: two pieces of print agree that were read independently. A doubt whose line gives the printed
/// word is resolved.
/// </summary>
internal static class PrintedWordFix
{
    /// <summary>The source with the lines that the printed words say, and without the doubts that they resolve.</summary>
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
        var near = new NearMisses(result.Program);
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
            string text = DoubtMark.Remove(result.Source[at].Text);
            int radix = result.Program.FactsOf(result.Program.Root, at).Radix;
            List<string> found = [];
            if (faulty.Contains(at))
                found = near.Find(text, line.Word, radix);
            else if (gives.TryGetValue(at, out ushort word) && word != line.Word)
                found =
                [
                    .. result
                        .Doubts.At(at)
                        .SelectMany(static d => d.Alternatives)
                        .Where(static a => a != Doubt.AsComment)
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
                        Kind = DoubtKind.PrintedWord,
                        Origin = RecoveredDoubts.OriginOf(result, at),
                        Evidence = DocumentCodes.PrintedWordDiffers,
                    }
                );
        }

        foreach ((int at, _) in readings)
            doubts.Remove(at);
        return RecoveredDoubts.Add(Read(result, readings), doubts, []);
    }

    private static RecoveryResult Read(RecoveryResult result, SortedDictionary<int, (string Now, int Word)> readings)
    {
        if (readings.Count == 0)
            return result;
        // What may be missing around a line is asked whatever the line itself says.
        DoubtTable left = result.Doubts.Where((at, d) => !readings.ContainsKey(at) || !d.IsAboutTheLine);
        RecoveryResult after = RecoveredDoubts.WithLines(
            result,
            readings.ToDictionary(
                static r => r.Key,
                r => left.At(r.Key).IsEmpty ? r.Value.Now : DoubtMark.Anchor(r.Value.Now)
            )
        ) with
        {
            Doubts = left,
        };
        var gives = new Dictionary<int, ushort>();
        foreach ((_, ushort word, WordOrigin origin) in after.Program.Image.Words)
            if (origin.Outermost.File == after.Program.Root)
                gives.TryAdd(origin.Outermost.Line, word);
        // Each reading is compared with the whole program; one that does not give its word is none.
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
            if (
                !readings.ContainsKey(entry.Line)
                || entry.Severity == Severity.Information
                || left.At(entry.Line).Any(d => d.Evidence == entry.Code)
            )
                entries.Add(entry);
        foreach ((int at, (string now, int word)) in readings)
        {
            string message =
                $"'{DoubtReading.Of(DoubtMark.Remove(result.Source[at].Text)).Trim()}' does not give the printed word; '{DoubtReading.Of(now).Trim()}' looks like it and gives {Hex(word)}, which is printed beside it: read from the printed word.";
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
        var resolved = new HashSet<int>();
        foreach ((int at, List<int> words) in printed)
        {
            if (!result.Doubts.At(at).Any(static d => d.IsAboutTheLine))
                continue;
            if (built.TryGetValue(at, out List<int>? made) && made.SequenceEqual(words))
                resolved.Add(at);
        }

        if (resolved.Count == 0)
            return result;
        DoubtTable left = result.Doubts.Where((at, d) => !resolved.Contains(at) || !d.IsAboutTheLine);
        RecoveryResult after = RecoveredDoubts.WithLines(
            result,
            resolved
                .Where(at => left.At(at).IsEmpty)
                .ToDictionary(static at => at, at => DoubtMark.Remove(result.Source[at].Text))
        ) with
        {
            Doubts = left,
        };
        var entries = new List<RecoveryEntry>();
        foreach (RecoveryEntry entry in result.Entries)
            entries.Add(
                resolved.Contains(entry.Line)
                && entry.Severity == Severity.Warning
                && entry.Code == Catalogue.OpenDoubt.Code
                    ? entry with
                    {
                        Severity = Severity.Information,
                        Code = DocumentCodes.PrintedWordRead,
                        Message =
                            $"{Capital(Doubt.Merge([.. result.Doubts.At(entry.Line).Where(static d => d.IsAboutTheLine)]).Words)}: the word printed beside it is what it gives.",
                        EndColumn = after.Source[entry.Line].Text.Length,
                    }
                    : entry
            );
        return after with { Entries = [.. entries] };
    }

    private static int? PageOf(RecoveryResult result, int line) =>
        result.Origins[line].Page is > 0 and var page ? page : null;

    private static string Capital(string words) =>
        words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];

    private static string Hex(int value) => "0x" + value.ToString("X4", CultureInfo.InvariantCulture);
}
