using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Results;

/// <summary>Puts doubts beside the lines of a recovered source while stages work on it, and writes their marks when all stages are done.</summary>
internal static class RecoveredDoubts
{
    // A mark on a line without a word of its own may go so far away from its place.
    private const int MostLines = 3;

    /// <summary>Adds entries to the report, and doubts to their lines; a sign in the text keeps the place of each.</summary>
    public static RecoveryResult Add(
        RecoveryResult result,
        IEnumerable<KeyValuePair<int, Doubt>> doubts,
        IEnumerable<RecoveryEntry> entries
    )
    {
        DoubtTable table = result.Doubts;
        var texts = new SortedDictionary<int, string>();
        foreach ((int line, Doubt doubt) in doubts)
        {
            table = table.With(line, doubt);
            if (!DoubtMark.IsOn(result.Source[line].Text))
                texts[line] = DoubtMark.Anchor(result.Source[line].Text);
        }

        return WithLines(result, texts) with
        {
            Doubts = table,
            Entries = result.Entries.AddRange(entries),
        };
    }

    /// <summary>The line on which the doubt about a place is: its own, or one close by where its own is empty.</summary>
    public static int LineFor(RecoveryResult result, int line)
    {
        for (int distance = 0; distance <= MostLines; distance++)
        {
            if (HasWords(line + distance))
                return line + distance;
            if (HasWords(line - distance))
                return line - distance;
        }

        return line;

        bool HasWords(int at) =>
            at >= 0 && at < result.Source.LineCount && result.Source[at].Text.Any(char.IsLetterOrDigit);
    }

    /// <summary>The source with some of its lines written anew; they make the same number of lines.</summary>
    public static RecoveryResult WithLines(RecoveryResult result, IReadOnlyDictionary<int, string> texts)
    {
        TextEdit[] edits =
        [
            .. texts
                .Where(t => result.Source[t.Key].Text != t.Value)
                .OrderBy(static t => t.Key)
                .Select(t => new TextEdit(
                    new TextSpan(result.Source.LineStart(t.Key), result.Source[t.Key].Text.Length),
                    t.Value
                )),
        ];
        return edits.Length == 0 ? result : WithEdits(result, edits);
    }

    /// <summary>The entry of the report for the doubts of a line.</summary>
    public static RecoveryEntry EntryFor(SourceText source, int line, DoubtTable doubts, int? page)
    {
        string text = source[line].Text;
        return new RecoveryEntry(
            line,
            DoubtMark.Find(text)?.Start ?? text.Length,
            text.Length,
            Severity.Warning,
            Catalogue.OpenDoubt.Code,
            Catalogue.OpenDoubt.Format(Doubt.Merge(doubts.At(line)).InWords(), Doubt.CompareWithPage),
            page
        );
    }

    /// <summary>Writes the marks, each once, and sees to it that the report has an entry for every line that has one.</summary>
    public static RecoveryResult Write(RecoveryResult result)
    {
        ImmutableArray<TextEdit> edits = result.Doubts.Render(result.Source);
        RecoveryResult written = edits.IsEmpty ? result : WithEdits(result, edits);
        HashSet<int> reported = [];
        var entries = ImmutableArray.CreateBuilder<RecoveryEntry>(written.Entries.Length);
        foreach (RecoveryEntry entry in written.Entries)
        {
            if (entry.Severity != Severity.Information)
                reported.Add(entry.Line);
            // The mark has its words now, and with them its columns.
            entries.Add(
                entry.Code == Catalogue.OpenDoubt.Code && !written.Doubts.At(entry.Line).IsEmpty
                    ? EntryFor(written.Source, entry.Line, written.Doubts, entry.Page)
                    : entry
            );
        }

        foreach (int line in written.Doubts.Lines)
            if (!reported.Contains(line))
                entries.Add(EntryFor(written.Source, line, written.Doubts, PageOf(written, line)));
        return written with
        {
            Entries =
            [
                .. entries.OrderBy(static e => e.Line).ThenBy(static e => e.Column).ThenBy(static e => e.Severity),
            ],
        };
    }

    /// <summary>Where a line was printed.</summary>
    public static LineOrigin OriginOf(RecoveryResult result, int line) =>
        line < result.Origins.Length ? result.Origins[line] : LineOrigin.None;

    /// <summary>Where a line was printed, for the mark of a doubt: the line of a paste is seen without it.</summary>
    public static LineOrigin PrintOf(RecoveryResult result, int line) =>
        OriginOf(result, line) is { Page: > 0 } origin ? origin : LineOrigin.None;

    /// <summary>The printed page of a line, or null.</summary>
    public static int? PageOf(RecoveryResult result, int line) =>
        OriginOf(result, line) is { Page: > 0 and var page } ? page : null;

    private static RecoveryResult WithEdits(RecoveryResult result, IReadOnlyList<TextEdit> edits)
    {
        SourceText source = EditMap.Apply(result.Source, edits);
        var root = new SourceFile(result.Program.Root.Name, source);
        return result with
        {
            Source = source,
            Program = result.Program.With(new Dictionary<SourceFile, SourceFile> { [result.Program.Root] = root }),
        };
    }
}
