using AsmLsp.Core.Doubts;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Joins the printed rows that the line numbers prove to be the rest of the row above. In a comment nothing hangs on how they are joined; in code
/// a blank may have was at the break or none, which is a doubt unless one of the two alone reads as a line.
/// </summary>
internal static class NumberedRests
{
    /// <summary>The lines with the rests joined, and the places (in the new list) of those that were.</summary>
    /// <param name="lines">The lines of the listing.</param>
    /// <param name="proved">Takes the rows that are proved to be no lines of the program.</param>
    public static (List<ListingLine> Lines, List<int> Joined) Join(
        List<ListingLine> lines,
        HashSet<PrintedPlace> proved
    )
    {
        var joined = new List<int>();
        if (!lines.Exists(static l => l.IsRest))
            return (lines, joined);
        int width = 0;
        foreach (ListingLine line in lines)
            if (!line.IsProse)
                width = Math.Max(width, line.Printed?.Text.Length ?? 0);
        var result = new List<ListingLine>(lines.Count);
        int last = -1,
            above = 0;
        foreach (ListingLine line in lines)
        {
            if (line.IsRest && last >= 0 && line.Text.AsSpan().Trim().Length > 0)
            {
                ListingLine whole = result[last];
                proved.Add(line.Origin.Places[0]);
                (string text, string? doubt) = Whole(whole.Text.TrimEnd(), line.Text.Trim(), above == width);
                result[last] = whole with
                {
                    Text = text,
                    Rests = whole.Rests.With(line.Origin),
                    Doubt = whole.Doubt ?? doubt,
                    MoreWords = [.. whole.MoreWords, .. line.MoreWords],
                };
                if (joined.Count == 0 || joined[^1] != last)
                    joined.Add(last);
                above = line.Printed!.Text.Length;
                continue;
            }

            result.Add(line);
            if (line is { Printed: { } printed, IsProse: false })
                (last, above) = (result.Count - 1, printed.Text.Length);
        }

        return (result, joined);
    }

    private static (string Text, string? Doubt) Whole(string above, string rest, bool isCut)
    {
        // A word too long for the row, such as a ruler, is alone in the next one: its number is all that the row above holds.
        if (above.Length == 0)
            return (rest, null);
        LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(above));
        string close = above + rest,
            apart = above + " " + rest;
        if (syntax.CommentToken >= 0)
            return (IsHyphenated(above, rest) ? close : apart, null);
        bool closeReads = IsCode(close),
            apartReads = IsCode(apart);
        string text =
            closeReads != apartReads ? (closeReads ? close : apart)
            : isCut ? close
            : apart;
        // A comment that begins in the rest changes nothing; a quote that is broken may have lost a blank.
        bool inQuotes = above.AsSpan().Count('\'') % 2 == 1 || above.AsSpan().Count('"') % 2 == 1,
            inWord = Lexer.IsNamePart(above[^1]) && Lexer.IsNamePart(rest[0]);
        bool isSure = rest[0] is ';' || (!inQuotes && (!inWord || closeReads != apartReads));
        return (text, isSure ? null : "two printed lines made one");
    }

    private static bool IsHyphenated(string above, string rest) =>
        above.Length > 1 && above[^1] == '-' && char.IsLetter(above[^2]) && char.IsLower(rest[0]);

    private static bool IsCode(string text)
    {
        LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(text));
        return syntax.OperationToken >= 0 && syntax.OperationKind != OperationKind.Unknown && CodeShape.IsCode(syntax);
    }
}
