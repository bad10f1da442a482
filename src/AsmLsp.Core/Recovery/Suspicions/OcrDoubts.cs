using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Puts a doubt on each line that a machine has read from a picture and that nothing confirms: where another reading gives
/// another program as good as this one. A line whose words the page prints beside it, as they come out, needs none.
/// </summary>
internal static class OcrDoubts
{
    /// <summary>Adds the doubts.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="lines">The lines of the listing.</param>
    public static RecoveryResult Mark(RecoveryResult result, List<ListingLine> lines)
    {
        if (!lines.Exists(static l => l.Printed is { IsOcr: true }))
            return result;
        var byPlace = new Dictionary<PrintedPlace, ListingLine>();
        foreach (ListingLine line in lines)
            if (line.Printed is { } printed)
                byPlace.TryAdd(new PrintedPlace(printed.Page, printed.Number), line);
        HashSet<int> confirmed = ConfirmedLines.Of(result, lines),
            reported = ReportedLines(result);
        var judge = new OcrAlternatives(result, reported) { IsOffGrid = IsOffGrid(lines) };
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        int end = EndOf(result);
        for (int i = 0; i < result.Source.LineCount && i < result.Origins.Length && i <= end; i++)
        {
            // The rests of comments that were joined have no line of their own, and need none.
            List<ListingLine> own =
            [
                .. result.Origins[i].Places.Select(byPlace.GetValueOrDefault).OfType<ListingLine>().Distinct(),
            ];
            if (OcrLine.Of([.. own.Select(static l => l.Printed!)]) is not { } line)
                continue;
            if (DoubtOf(result, judge, confirmed, i, own, line) is not { } doubt)
                continue;
            string text = result.Source[i].Text;
            if (reported.Contains(i) && !result.Doubts.At(i).IsEmpty)
                continue;
            doubts.Add(
                i,
                doubt.Mark with
                {
                    Kind = doubt.Mark.Kind == DoubtKind.Other ? DoubtKind.Picture : doubt.Mark.Kind,
                    Origin = result.Origins[i],
                    Evidence = DocumentCodes.OcrText,
                }
            );
            entries.Add(
                new RecoveryEntry(
                    i,
                    0,
                    text.Length,
                    Severity.Warning,
                    DocumentCodes.OcrText,
                    doubt.Message,
                    result.Origins[i].Page > 0 ? result.Origins[i].Page : null
                )
            );
        }

        return RecoveredDoubts.Add(result, doubts, entries);
    }

    // A short line can be on a grid by chance: what most lines do counts for all of them.
    private static bool IsOffGrid(List<ListingLine> lines)
    {
        int off = 0,
            all = 0;
        foreach (ListingLine line in lines)
        {
            if (line.Printed is not { IsOcr: true } printed || OcrLine.Of([printed]) is not { } read)
                continue;
            all++;
            if (read.IsOffGrid)
                off++;
        }

        return off * 3 > all;
    }

    // A label may have such a name, and what it is before is then lost: 'title _ da "Hello"' was 'title_  da "Hello"'.
    private static bool MayBeLabel(LineSyntax syntax) =>
        syntax.OperandText.AsSpan().Trim() is { IsEmpty: false } operands
        && (char.IsAsciiLetter(operands[0]) || operands[0] == '_');

    // Where the program ends. A program that is given up half-way has no end there, and the rest of it counts, too.
    private static int EndOf(RecoveryResult result)
    {
        for (int i = 0; i < result.Source.LineCount; i++)
        {
            LineFacts facts = result.Program.FactsOf(result.Program.Root, i);
            if (
                (facts.Role & (LineRole.AfterEnd | LineRole.Skipped)) == 0
                && LineSyntax.Of(result.Source[i]).Keyword == Keyword.End
            )
                return i;
        }

        return result.Source.LineCount;
    }

    // The lines that somebody is sent to already.
    private static HashSet<int> ReportedLines(RecoveryResult result)
    {
        var reported = new HashSet<int>();
        foreach (RecoveryEntry entry in result.Entries)
            if (entry.Severity != Severity.Information && (entry.Line > 0 || entry.EndColumn > 0))
                reported.Add(entry.Line);
        return reported;
    }

    private static ReadingDoubt? DoubtOf(
        RecoveryResult result,
        OcrAlternatives judge,
        HashSet<int> confirmed,
        int number,
        List<ListingLine> own,
        OcrLine line
    )
    {
        SourceText source = result.Source;
        LineSyntax syntax = LineSyntax.Of(source[number]);
        LineFacts facts = result.Program.FactsOf(result.Program.Root, number);
        if (syntax.IsBlank)
            return OcrComments.OfComment(syntax, own, result.Program);
        ReadingDoubt? lost = OcrComments.OfRests(own, result.Program);
        if (confirmed.Contains(number))
            return lost;
        if (syntax.Has(WordTraits.Harmless) && syntax.LabelToken < 0)
            return MayBeLabel(syntax) ? OcrQuestions.Unclear(syntax.Operation!) : lost;
        if (line.HasUnreadCode)
            return new ReadingDoubt(
                new Doubt("something is printed here that was not read"),
                "Something is printed on this line that was not read: a comma, a point, a digit? Compare it with the page."
            );
        return judge.OfCode(syntax, number, facts, line) ?? lost;
    }
}
