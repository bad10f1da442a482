using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Puts into the source what the report says about the document as a whole, and whatever else has no mark on its line yet: a doubt that is
/// in the report alone could never be resolved. One about the whole document is at the head of the source.
/// </summary>
internal static class DocumentDoubts
{
    /// <summary>The result with a doubt for each warning of a document's own, and with a page for each entry where there is one.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="firstPage">The page on which the listing begins.</param>
    public static RecoveryResult Mark(RecoveryResult result, int firstPage)
    {
        if (result.Source.LineCount == 0)
            return result;
        var doubts = new List<KeyValuePair<int, Doubt>>();
        var entries = result.Entries.ToBuilder();
        for (int i = 0; i < entries.Count; i++)
        {
            RecoveryEntry entry = entries[i];
            if (entry.Severity == Severity.Information)
                continue;
            bool isWhole = entry is { Line: 0, EndColumn: 0 };
            int place =
                isWhole && entry.Code == DocumentCodes.UnreadPage ? AfterPage(result, entry.Page ?? 0) : entry.Line;
            int line = RecoveredDoubts.LineFor(result, place);
            if (entry.Severity == Severity.Warning && DoubtOf(result, entry, line) is { } doubt)
            {
                doubts.Add(
                    new(
                        line,
                        doubt with
                        {
                            Origin = isWhole ? LineOrigin.None : RecoveredDoubts.PrintOf(result, line),
                            Evidence = entry.Code,
                        }
                    )
                );
                entry = entry with
                {
                    Line = line,
                    EndColumn = Math.Max(entry.EndColumn, result.Source[line].Text.Length),
                };
            }

            entries[i] =
                entry.Page is null && firstPage > 0
                    ? entry with
                    {
                        Page = PageOf(result, entry.Line) ?? firstPage,
                    }
                    : entry;
        }

        return RecoveredDoubts.Add(result with { Entries = entries.ToImmutable() }, doubts, []);
    }

    // Null where the entry needs no doubt: its line has one, or the problem itself.
    private static Doubt? DoubtOf(RecoveryResult result, RecoveryEntry entry, int line) =>
        entry.Doubt is { } own ? own
        : result.Doubts.At(line).IsEmpty && Catalogue.Find(entry.Code) is null ? new Doubt("compare this with the page")
        : null;

    // The first line that was printed after a page; the last line where none was.
    private static int AfterPage(RecoveryResult result, int page)
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
}
