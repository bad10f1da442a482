using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>
/// Takes off what mail, web pages, forums, terminals and word processors put around and between the lines of a copied text. Each step
/// acts only where the whole text proves it: a mark in front of nearly every line, numbers that count the lines, signs that no program
/// has. Lines stay lines, so that a place in the result is a place in the paste; what is taken off is reported.
/// </summary>
internal static class PasteCleaner
{
    // Marks may be around marks: a quoted mail in a web page.
    private const int MostRounds = 3;

    // In the order in which a text gets rid of them: what is outermost first. Each gives a note, or null where it found nothing.
    private static readonly ImmutableArray<Func<string[], string?>> Steps =
    [
        TerminalSigns.TakeCodes,
        TerminalSigns.ShowTabs,
        TerminalSigns.TakePager,
        WrongEncoding.Decode,
        InvisibleCharacters.Take,
        MailEncoding.Decode,
        WebRemains.TakeTags,
        WebRemains.DecodeEntities,
        WebRemains.TakeFences,
        InvisibleCharacters.Plain,
        WrongEncoding.ShowBlanks,
        FrontMarks.Take,
        LineNumbers.BesideLines,
        LineNumbers.AtEnds,
        LineNumbers.Decorated,
        LineNumbers.OnSomeLines,
        CommentSigns.Write,
        PageRemarks.Comment,
    ];

    /// <summary>The text without these marks, line for line, and what is to be reported.</summary>
    public static (SourceText Text, ImmutableArray<string> Notes) Clean(SourceText pasted)
    {
        string[] lines = [.. pasted.Lines.Select(static l => l.Text)];
        var notes = new List<string>();
        for (int round = 0; round < MostRounds; round++)
        {
            bool changed = false;
            foreach (Func<string[], string?> step in Steps)
            {
                if (step(lines) is not { } note)
                    continue;
                changed = true;
                if (!notes.Contains(note, StringComparer.Ordinal))
                    notes.Add(note);
            }

            if (!changed)
                break;
        }

        return notes.Count == 0
            ? (pasted, [])
            : (SourceText.From(string.Join('\n', lines), pasted.Encoding), [.. notes]);
    }

    /// <summary>Whether a share of some lines is nearly all of them: a line or two may be from elsewhere.</summary>
    public static bool IsNearlyAll(int count, int of) => count >= LeastLines && count * 10 >= of * 9;

    /// <summary>A rule for fewer lines than this would be a coincidence.</summary>
    public const int LeastLines = 4;

    /// <summary>Where the comment of a line starts, or its length; a semicolon in quotes starts none.</summary>
    public static int CodeEnd(string line)
    {
        var quotes = new QuoteState();
        for (int at = 0; at < line.Length; at++)
        {
            if (line[at] == ';' && !quotes.IsOpen)
                return at;
            quotes.Pass(line, at);
        }

        return line.Length;
    }

    /// <summary>"1 line", "5 lines".</summary>
    public static string Lines(int count) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{count} {(count == 1 ? "line" : "lines")}");
}
