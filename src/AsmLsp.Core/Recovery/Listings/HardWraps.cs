using AsmLsp.Core.Doubts;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Joins lines that a printer broke at the last column of the paper, in the midst of words. Such a break is known by its
/// place: the lines before the rests all have the same length, and none is longer.
/// </summary>
internal static class HardWraps
{
    private const int LeastWidth = 40;
    private const int LeastBreaks = 2;

    /// <summary>The lines with the rests joined, and the places (in the new list) of those that were.</summary>
    public static (List<ListingLine> Lines, List<int> Joined) Join(List<ListingLine> lines)
    {
        int width = Width(lines);
        if (width < LeastWidth || !IsHard(lines, width))
            return (lines, []);
        HashSet<string> used = NamesUsed(lines);
        var result = new List<ListingLine>(lines.Count);
        var joined = new List<int>();
        int last = -1;
        for (int i = 0; i < lines.Count; i++)
        {
            bool mayGoOn = last >= 0 && Length(lines[last]) == width && last == i - 1 && !lines[i].IsRow;
            if (
                mayGoOn
                && lines[i].Text.Length > 0
                && !GutterRow.IsBlank(lines[i].Text[0])
                && lines[i].Word < 0
                && AssemblyLook.Of(lines[i].Text) == Look.Perhaps
                && AssemblyLook.IsInstruction(lines[i].Text)
                && LineSyntax.Parse(AssemblyLook.Plain(result[^1].Text)).CommentToken >= 0
            )
            {
                result.Add(lines[i] with { Doubt = Doubts.Doubt.Extent("or the rest of the comment above?") });
            }
            else if (mayGoOn && IsRest(lines[i], used) && Whole(result[^1].Text, lines[i].Text) is { } whole)
            {
                result[^1] = result[^1] with { Text = whole };
                if (joined.Count == 0 || joined[^1] != result.Count - 1)
                    joined.Add(result.Count - 1);
            }
            else
            {
                result.Add(lines[i]);
            }

            last = i;
        }

        return (result, joined);
    }

    private static int Length(ListingLine line) =>
        line.IsProse || line.Printed is not { IsMonospaced: true } printed ? 0 : printed.Text.TrimEnd().Length;

    private static int Width(List<ListingLine> lines)
    {
        int width = 0;
        foreach (ListingLine line in lines)
            width = Math.Max(width, Length(line));
        return width;
    }

    // Where lines are broken between words, the lengths before the rests differ.
    private static bool IsHard(List<ListingLine> lines, int width)
    {
        int full = 0,
            shorter = 0;
        for (int i = 1; i < lines.Count; i++)
        {
            if (
                lines[i].Printed is null
                || lines[i].IsProse
                || lines[i - 1].Text.Length == 0
                || AssemblyLook.Of(lines[i].Text) != Look.Other
                || lines[i].Text.Trim().Length == 0
            )
                continue;
            if (Length(lines[i - 1]) == width)
                full++;
            else if (Length(lines[i - 1]) > width / 2)
                shorter++;
        }

        return full >= LeastBreaks && full >= 2 * shorter;
    }

    private static bool IsRest(ListingLine line, HashSet<string> used)
    {
        if (line.Printed is null || line.IsProse || line.Text.Length == 0 || line.Word >= 0)
            return false;
        string text = line.Text.Trim();
        if (AssemblyLook.IsInstruction(text))
            return false;
        return AssemblyLook.Of(line.Text) is Look.Other
            || (AssemblyLook.Of(line.Text) == Look.Perhaps && !used.Contains(text.TrimEnd(':')));
    }

    // A comment continues with anything; code only where the whole reads as code.
    private static string? Whole(string above, string rest)
    {
        LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(above));
        string whole = above + rest;
        if (syntax.CommentToken >= 0)
            return whole;
        return syntax.OperationToken >= 0 && CodeShape.IsCode(LineSyntax.Parse(AssemblyLook.Plain(whole)))
            ? whole
            : null;
    }

    private static HashSet<string> NamesUsed(List<ListingLine> lines)
    {
        var used = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (ListingLine line in lines)
        {
            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
            if (syntax.OperationToken < 0 || syntax.OperationKind == OperationKind.Unknown)
                continue;
            foreach (SyntaxToken token in Lexer.Lex(syntax.OperandText))
                if (
                    token.Kind == TokenKind.Name
                    && !IsDestination(syntax.OperandText.AsSpan(token.Start, token.Length))
                )
                    used.Add(syntax.OperandText.Substring(token.Start, token.Length));
        }

        return used;
    }

    // 'f' and 'w' are used everywhere, and are no labels.
    private static bool IsDestination(ReadOnlySpan<char> name) => name is "f" or "F" or "w" or "W";
}
