using System.Globalization;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Puts into the source what the report says about the document as a whole, and whatever else has no mark on its line yet: a doubt that stands
/// in the report alone could never be settled. One about the whole document stands at the head of the source.
/// </summary>
internal static class DocumentDoubts
{
    // How far down a line without a doubt is looked for.
    private const int MostLines = 40;

    private const int MostQuoted = 40;

    /// <summary>The result with a mark for each warning of a document's own, and with a page for each entry where there is one.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="firstPage">The page on which the listing begins.</param>
    public static RecoveryResult Mark(RecoveryResult result, int firstPage)
    {
        if (result.Source.LineCount == 0)
            return result;
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = result.Entries.ToBuilder();
        for (int i = 0; i < entries.Count; i++)
        {
            RecoveryEntry entry = entries[i];
            if (entry.Severity == Severity.Information)
                continue;
            if (entry.Severity == Severity.Warning && WordsOf(result, entry) is { } words)
            {
                bool isWhole = entry is { Line: 0, EndColumn: 0 };
                int start =
                    isWhole && entry.Code == DocumentCodes.UnreadPage
                        ? BehindPage(result, entry.Page ?? 0)
                        : entry.Line;
                if (isWhole || DoubtMarker.Find(result.Source[start].Text) is null)
                {
                    int line = Free(result, doubts, start);
                    doubts.TryAdd(
                        line,
                        new Doubt(words)
                        {
                            Place = isWhole || result.Origins[line].Page == 0 ? "" : result.Origins[line].ToString(),
                        }
                    );
                    if (isWhole)
                        entry = entry with { Line = line, EndColumn = result.Source[line].Text.Length };
                }
            }

            entries[i] =
                entry.Page is null && firstPage > 0
                    ? entry with
                    {
                        Page = PageOf(result, entry.Line) ?? firstPage,
                    }
                    : entry;
        }

        return DoubtMarks.Add(result with { Entries = entries.ToImmutable() }, doubts, []);
    }

    // Null where the entry needs no mark: its line has the problem itself.
    private static string? WordsOf(RecoveryResult result, RecoveryEntry entry) =>
        entry.Code switch
        {
            DocumentCodes.SeveralListings => "is this the listing that is meant? The document holds several",
            DocumentCodes.UnreadPage => string.Create(
                CultureInfo.InvariantCulture,
                $"page {entry.Page} could not be read: is a part of the program on it?"
            ),
            DocumentCodes.ReadingNote => FirstSentence(entry.Message),
            DocumentCodes.RecognizedText =>
                "a machine has read this, or its letters lie over each other: are all lines here?",
            DocumentCodes.SetAside => $"was '{Quoted(entry.Message)}' left out below?",
            DocumentCodes.UnknownCharacter => "a character is not known",
            DocumentCodes.PrintedWordDiffers => "the page prints a word here that is not built",
            _ => result.Program.Root.Text.LineCount > 0 && Catalogue.Find(entry.Code) is null
                ? "compare this with the page"
                : null,
        };

    private static string FirstSentence(string message)
    {
        int end = message.IndexOfAny(['.', ':']);
        return end < 0 ? message : message[..end];
    }

    // What stands between the first two quotes of a message, short enough for a mark.
    private static string Quoted(string message)
    {
        int from = message.IndexOf('\'', StringComparison.Ordinal) + 1,
            to = message.IndexOf("' stands", StringComparison.Ordinal);
        string text = from > 0 && to > from ? message[from..to] : message;
        text = text.Replace(DoubtMarker.Sign, "; ?", StringComparison.Ordinal).Replace('[', '(').Replace(']', ')');
        return text.Length > MostQuoted ? text[..(MostQuoted - 3)] + "..." : text;
    }

    // The first line that was printed behind a page; the last line where none was.
    private static int BehindPage(RecoveryResult result, int page)
    {
        int last = 0;
        for (int i = 0; i < result.Origins.Length; i++)
        {
            if (result.Origins[i].Page > page)
                return i;
            if (!result.Origins[i].IsNone)
                last = i;
        }

        return last;
    }

    private static int? PageOf(RecoveryResult result, int line)
    {
        for (int i = Math.Min(line, result.Origins.Length - 1); i >= 0; i--)
            if (result.Origins[i].Page > 0)
                return result.Origins[i].Page;
        return null;
    }

    // A line carries one doubt: the nearest one below that has none, else one above.
    private static int Free(RecoveryResult result, SortedDictionary<int, Doubt> doubts, int line)
    {
        for (int i = line; i < Math.Min(result.Source.LineCount, line + MostLines); i++)
            if (IsFree(i))
                return i;
        for (int i = line - 1; i >= 0; i--)
            if (IsFree(i))
                return i;
        return line;

        bool IsFree(int at) =>
            result.Source[at].Text.Any(char.IsLetterOrDigit)
            && !doubts.ContainsKey(at)
            && DoubtMarker.Find(result.Source[at].Text) is null
            && at < result.Origins.Length;
    }
}
