using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>A row that says which file is printed below it.</summary>
/// <param name="Line">Its place among the lines of the document, from 0.</param>
/// <param name="Name">The name of the file.</param>
internal readonly record struct FileHeading(int Line, string Name);

/// <summary>
/// Finds the rows above listings that say which file is printed there: a caption (<c>Listing 3: board.inc</c>), a sentence that ends with a colon, or the
/// first comment of the file itself (<c>; board.inc - pins</c>).
/// </summary>
internal static class FileHeadings
{
    // So many words are in front of a name in a caption, and in the whole of it, and in a sentence that introduces a listing.
    private const int MostInFront = 5;
    private const int MostInCaption = 14;
    private const int MostInSentence = 30;

    // Words in front of the name of a file in a comment that names the file itself.
    private static readonly HashSet<string> Labels = new(StringComparer.OrdinalIgnoreCase)
    {
        "file",
        "filename",
        "name",
        "title",
        "program",
        "listing",
        "source",
        "module",
        "header",
        "include",
        "the",
        "this",
        "is",
    };

    /// <summary>All of them, in the order of the document.</summary>
    /// <param name="finder">The lines.</param>
    /// <param name="included">The names of files that listings include.</param>
    public static List<FileHeading> Find(ListingFinder finder, IReadOnlySet<string> included)
    {
        var found = new List<FileHeading>();
        for (int i = 0; i < finder.Lines.Count; i++)
        {
            // What is at the foot of a page heads nothing.
            bool isLast = i + 1 == finder.Lines.Count || finder.Lines[i + 1].Page != finder.Lines[i].Page;
            if (finder.IsHeaderOrFooter(finder.Lines[i]) && isLast)
                continue;
            string text = finder.Gutter.TextOf(finder.Lines[i]);
            if (MayName(text, included) && Of(AssemblyLook.Plain(text), included) is { } name)
                found.Add(new FileHeading(i, name));
        }

        return found;
    }

    // Most rows have no point within a word: they are not looked at further.
    private static bool MayName(string text, IReadOnlySet<string> included)
    {
        for (int at = text.IndexOf('.'); at >= 0; at = text.IndexOf('.', at + 1))
            if (at > 0 && at + 1 < text.Length && Lexer.IsNamePart(text[at - 1]) && char.IsAsciiLetter(text[at + 1]))
                return true;
        foreach (string name in included)
            if (
                !name.Contains('.', StringComparison.Ordinal) && text.Contains(name, StringComparison.OrdinalIgnoreCase)
            )
                return true;
        return false;
    }

    private static string? Of(string text, IReadOnlySet<string> included)
    {
        string shown = text.Trim();
        bool isComment = shown[0] is ';' or '*' or '/';
        // An include line names a file, too.
        if (
            !isComment
            && (AssemblyLook.Of(text) == Look.Code || LineSyntax.Parse(" " + shown).Keyword == Keyword.Include)
        )
            return null;
        string[] words = shown.Split(
            (char[])[' ', '\t', ';', '*', '|', '#', '='],
            StringSplitOptions.RemoveEmptyEntries
        );
        int at = -1;
        string name = "";
        for (int i = 0; i < words.Length && at < 0; i++)
        {
            string word = FileNames.LastPart(words[i].Trim(',', ':', ';', '(', ')', '[', ']', '-').TrimEnd('.'));
            if (word.Length > 0 && (included.Contains(word) || FileNames.IsSource(word)))
                (at, name) = (i, word);
        }

        if (at < 0 || words.Length > MostInSentence)
            return null;
        if (isComment)
        {
            for (int i = 0; i < at; i++)
                if (!IsRule(words[i]) && !Labels.Contains(words[i].Trim(':', '-', '.')))
                    return null;
            return name;
        }

        if (shown.EndsWith(':'))
            return name;
        bool endsSentence = shown.EndsWith('.') && words.Length > at + 1;
        return at <= MostInFront && words.Length <= MostInCaption && !endsSentence ? name : null;
    }

    private static bool IsRule(string word)
    {
        foreach (char c in word)
            if (char.IsLetterOrDigit(c))
                return false;
        return true;
    }
}
