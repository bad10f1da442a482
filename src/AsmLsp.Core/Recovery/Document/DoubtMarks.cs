using AsmLsp.Core.Fixes;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>Puts the marks of doubts on lines of a recovered source, with the entries that tell of them.</summary>
internal static class DoubtMarks
{
    /// <summary>Adds the entries, and a mark to each line that has none yet: a line keeps its first doubt.</summary>
    public static RecoveryResult Add(
        RecoveryResult result,
        SortedDictionary<int, Doubt> doubts,
        List<RecoveryEntry> entries
    )
    {
        result = result with { Entries = result.Entries.AddRange(entries) };
        var edits = new List<TextEdit>();
        foreach ((int line, Doubt doubt) in doubts)
        {
            string text = result.Source[line].Text;
            if (DoubtMarker.Find(text) is null)
                edits.Add(
                    new TextEdit(new TextSpan(result.Source.LineStart(line), text.Length), DoubtMarker.Add(text, doubt))
                );
        }

        if (edits.Count == 0)
            return result;
        // A mark is a comment: it moves no line and changes no word.
        SourceText source = result.Source.WithEdits(edits);
        var root = new SourceFile(result.Program.Root.Name, source);
        return result with
        {
            Source = source,
            Program = result.Program.With(new Dictionary<SourceFile, SourceFile> { [result.Program.Root] = root }),
        };
    }
}
