using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Distinguishes names of the program at the edges of pages from headers: labels at the feet of pages are often alike but for a figure, as
/// <c>stage_10</c> and <c>stage_20</c> are.
/// </summary>
internal sealed class EdgeNames
{
    private readonly Dictionary<string, int> linesWith = new(StringComparer.OrdinalIgnoreCase);

    // Types in which code is set.
    private readonly HashSet<(string, double)> types = [];

    public EdgeNames(IEnumerable<PrintedLine> lines)
    {
        foreach (PrintedLine line in lines)
        {
            foreach (string word in WordsOf(line.Text))
                linesWith[word] = linesWith.GetValueOrDefault(word) + 1;
            if (AssemblyLook.Of(line.Text) == Look.Code)
                types.Add((line.FontFamily, line.FontSize));
        }
    }

    /// <summary>On how many lines of the document a word is.</summary>
    public int LinesWith(string word) => linesWith.GetValueOrDefault(word);

    /// <summary>Whether lines that are alike but for their digits are lines of the program.</summary>
    public bool AreOfProgram(List<PageEdge> group)
    {
        if (!group.Exists(e => NameOf(e.Line.Text) is not null))
            return false;
        // A label that is on each page would be defined several times, unless it is used: then the program has it.
        var texts = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (PageEdge edge in group)
            texts.Add(edge.Line.Text.Trim());
        if (texts.Count > 1)
            return group.Exists(e => types.Contains((e.Line.FontFamily, e.Line.FontSize)));
        return NameOf(texts.First()) is { } name
            && linesWith.GetValueOrDefault(name) > group.DistinctBy(static e => e.Line.Page).Count();
    }

    /// <summary>The name that a line consists of, a number of the gutter and a colon aside; null where it is something else.</summary>
    public static string? NameOf(string text)
    {
        ReadOnlySpan<char> rest = text.AsSpan().Trim().TrimStart("0123456789").TrimStart(":|.) \u00A0").TrimEnd(':');
        if (rest.IsEmpty || !Lexer.IsNameStart(rest[0]))
            return null;
        foreach (char c in rest)
            if (!Lexer.IsNamePart(c))
                return null;
        return rest.ToString();
    }

    private static HashSet<string> WordsOf(string text)
    {
        var words = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        int start = -1;
        for (int i = 0; i <= text.Length; i++)
        {
            bool isPart = i < text.Length && Lexer.IsNamePart(text[i]);
            if (isPart && start < 0)
                start = i;
            if (isPart || start < 0)
                continue;
            words.Add(text[start..i]);
            start = -1;
        }

        return words;
    }
}
