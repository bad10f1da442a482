using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Joins the rest of a comment, which went on in the next printed line, to the comment. On paper this can be seen: the
/// comment's line is full, so that the next word had no room in it, and the rest begins at the left edge. Where the rest
/// could as well be a part of the program, it is left to those who judge by the words.
/// </summary>
internal static class WrappedRests
{
    /// <summary>A narrower text would make every line a full one.</summary>
    private const int LeastWidth = 40;

    public static (List<ListingLine> Lines, List<int> Joined) Join(List<ListingLine> lines)
    {
        int width = 0;
        foreach (ListingLine line in lines) if (!line.IsProse) width = Math.Max(width, line.Text.TrimEnd().Length);
        if (width < LeastWidth) return (lines, []);
        Names names = Names.Of(lines);
        var result = new List<ListingLine>(lines.Count);
        var joined = new List<int>();
        // The printed line that was put last into the result; joining makes that one longer than it was printed.
        string lastPrinted = "";
        bool inComment = false, inBlock = false;
        int blockColumn = 0;
        foreach (ListingLine line in lines)
        {
            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
            Rest rest = inComment && line.Printed is not null && !line.IsProse ? Judge(line.Text, lastPrinted, width, syntax, names, inBlock, blockColumn > 0) : Rest.No;
            if (rest != Rest.No)
            {
                ListingLine whole = result[^1];
                string? doubt = rest == Rest.Likely ? $"'{line.Text.Trim()}' taken as the rest of the comment, not as an instruction" : whole.Doubt;
                result[^1] = whole with { Text = whole.Text.TrimEnd() + " " + line.Text.Trim(), Doubt = doubt };
                if (joined.Count == 0 || joined[^1] != result.Count - 1) joined.Add(result.Count - 1);
                lastPrinted = line.Text;
                continue;
            }

            bool oddMember = inComment && inBlock && blockColumn > 0 && line.Text.Length > 0 && Lexer.IsNameStart(line.Text[0]) && syntax.OperationToken < 0 && syntax.CommentToken < 0 && !names.IsUsed(line.Text.Trim());
            result.Add(oddMember ? line with { Doubt = "a variable, or the rest of the comment above?" } : line);
            lastPrinted = line.Text;
            inComment = !line.IsProse && syntax.CommentToken >= 0;
            string operation = syntax.Operation ?? "";
            if (operation.Equals("cblock", StringComparison.OrdinalIgnoreCase)) (inBlock, blockColumn) = (true, -1);
            else if (operation.Equals("endc", StringComparison.OrdinalIgnoreCase)) inBlock = false;
            else if (inBlock && blockColumn < 0 && line.Text.Trim().Length > 0) blockColumn = line.Text.Length - line.Text.TrimStart().Length;
        }

        return (result, joined);
    }

    private enum Rest
    {
        /// <summary>No, or nothing that paper alone could tell.</summary>
        No,

        /// <summary>Yes, but its words could be an instruction.</summary>
        Likely,

        Yes,
    }

    private static Rest Judge(string text, string above, int width, LineSyntax syntax, Names names, bool inBlock, bool membersIndented)
    {
        // In a block every name takes a register: only the column can tell a rest from a member there.
        if (inBlock && !membersIndented) return Rest.No;
        if (text.Length == 0 || text[0] is ' ' or '\t' or '\u00A0' or ';' or '#') return Rest.No;
        int end = text.AsSpan().IndexOfAny(' ', '\u00A0');
        string first = end < 0 ? text : text[..end];
        if (above.TrimEnd().Length + 1 + first.Length <= width || syntax.CommentToken >= 0) return Rest.No;
        if (AssemblyLook.Of(text) is Look.Code or Look.Comment || names.IsMacro(first) || names.IsMacro(syntax.Operation)) return Rest.No;
        if (end < 0)
        {
            // A lone word: a label of the program, unless another line defines it or nobody asks for it.
            if (first.EndsWith(':') || OperationWords.KindOf(first) != OperationKind.Unknown) return Rest.No;
            return inBlock || names.IsDefinedElsewhere(first) || !names.IsUsed(first) ? Rest.Yes : Rest.No;
        }

        bool ownName = names.IsUsed(first) && !names.IsDefinedElsewhere(first);
        if (syntax.OperationToken < 0 || syntax.OperationKind == OperationKind.Unknown) return inBlock || !ownName ? Rest.Yes : Rest.No;
        // 'neighbours sleep': a label that nobody asks for, and an operation that is a word of English right behind it.
        return syntax.LabelToken == 0 && !ownName && syntax.ColonToken < 0 && syntax.Tokens[syntax.OperationToken].Start == end + 1 && syntax.OperationKind != OperationKind.Assignment ? Rest.Likely : Rest.No;
    }

    /// <summary>The names of the listing, as far as its lines tell before it is assembled.</summary>
    private sealed class Names
    {
        private readonly HashSet<string> used = new(StringComparer.OrdinalIgnoreCase);
        private readonly HashSet<string> defined = new(StringComparer.OrdinalIgnoreCase);
        private readonly HashSet<string> macros = new(StringComparer.OrdinalIgnoreCase);

        public static Names Of(List<ListingLine> lines)
        {
            var names = new Names();
            foreach (ListingLine line in lines)
            {
                LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
                if (syntax.OperationToken < 0 || syntax.OperationKind == OperationKind.Unknown) continue;
                if (syntax.Label is { } label)
                {
                    names.defined.Add(label);
                    if (syntax.Operation!.Equals("macro", StringComparison.OrdinalIgnoreCase)) names.macros.Add(label);
                }

                foreach (SyntaxToken token in Lexer.Lex(syntax.OperandText))
                    if (token.Kind == TokenKind.Name) names.used.Add(syntax.OperandText.Substring(token.Start, token.Length));
            }

            return names;
        }

        public bool IsUsed(string name) => used.Contains(name);

        /// <summary>Whether a line with an operation defines it: then a lone word of that name is no definition.</summary>
        public bool IsDefinedElsewhere(string name) => defined.Contains(name);

        public bool IsMacro(string? name) => name is not null && macros.Contains(name);
    }
}
