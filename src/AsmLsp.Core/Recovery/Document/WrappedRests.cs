using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Steps;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Joins the rest of a comment, or of numbers behind an operation, which went on in the next printed line, to its line. On paper this can be seen: the
/// comment's line is full, so that the next word had no room in it, and the rest begins at the left edge. Where the rest
/// could as well be a part of the program, it is left to those who judge by the words.
/// </summary>
internal static class WrappedRests
{
    /// <summary>A narrower text would make every line a full one.</summary>
    private const int LeastWidth = 40;

    /// <summary>The lines with the rests joined, and the places (in the new list) of those that were.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="before">Places of lines that were joined before.</param>
    public static (List<ListingLine> Lines, List<int> Joined) Join(List<ListingLine> lines, List<int>? before = null)
    {
        int width = 0;
        foreach (ListingLine line in lines)
            if (!line.IsProse)
                width = Math.Max(
                    width,
                    before is { Count: > 0 } ? line.Printed?.Text.TrimEnd().Length ?? 0 : line.Text.TrimEnd().Length
                );
        // Nothing is full there.
        if (width < LeastWidth)
            width = int.MaxValue;
        Names names = Names.Of(lines);
        bool wraps = HasRests(lines);
        var result = new List<ListingLine>(lines.Count);
        var joined = new List<int>();
        // The printed line that was put last into the result; joining makes that one longer than it was printed.
        string lastPrinted = "";
        bool inComment = false,
            inBlock = false;
        int blockColumn = 0;
        int place = -1,
            next = 0;
        foreach (ListingLine line in lines)
        {
            place++;
            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
            Rest rest =
                inComment && line.Printed is not null && !line.IsProse && !line.IsRow
                    ? Judge(line.Text, lastPrinted, width, syntax, names, inBlock)
                    : Rest.No;
            if (rest != Rest.No)
            {
                ListingLine whole = result[^1];
                Doubt? doubt =
                    rest == Rest.Likely
                        ? Doubts.Doubt.Remark(
                            $"'{line.Text.Trim()}' taken as the rest of the comment, not as {(inBlock ? "a variable" : "an instruction")}"
                        )
                        : whole.Doubt;
                result[^1] = whole with
                {
                    Text = Joined(whole.Text.TrimEnd(), line.Text.Trim()),
                    Doubt = doubt,
                    Rests = whole.Rests.With(line.Origin),
                };
                if (joined.Count == 0 || joined[^1] != result.Count - 1)
                    joined.Add(result.Count - 1);
                lastPrinted = line.Text;
                continue;
            }

            if (
                line.Printed is not null
                && !line.IsProse
                && !line.IsRow
                && OperandsGoOn(result, lastPrinted, line.Text, width) is { } operands
            )
            {
                result[^1] = result[^1] with
                {
                    Text = operands,
                    Doubt = "two printed lines made one",
                    Rests = result[^1].Rests.With(line.Origin),
                };
                lastPrinted = line.Text;
                continue;
            }

            bool oddMember =
                inComment
                && !line.IsRow
                && inBlock
                && (blockColumn > 0 || wraps)
                && line.Text.Length > 0
                && Lexer.IsNameStart(line.Text[0])
                && syntax.OperationToken < 0
                && syntax.CommentToken < 0
                && !names.IsUsed(line.Text.Trim());
            if (before is not null && next < before.Count && before[next] == place)
            {
                joined.Add(result.Count);
                next++;
            }

            result.Add(
                oddMember
                    ? line with
                    {
                        Doubt = new Doubt(
                            "a variable, or the rest of the comment above? The names below take the next registers"
                        )
                        {
                            Kind = DoubtKind.Missing,
                        },
                    }
                    : line
            );
            lastPrinted = line.Text;
            inComment = !line.IsProse && syntax.CommentToken >= 0;
            if (syntax.Keyword == Keyword.VariableBlock)
                (inBlock, blockColumn) = (true, -1);
            else if (syntax.Keyword == Keyword.EndVariableBlock)
                inBlock = false;
            else if (inBlock && blockColumn < 0 && line.Text.Trim().Length > 0)
                blockColumn = line.Text.Length - line.Text.TrimStart().Length;
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

    private static Rest Judge(string text, string above, int width, LineSyntax syntax, Names names, bool inBlock)
    {
        if (text.AsSpan().Trim() is { Length: > 0 } signs && signs.IndexOfAnyExcept("*=_~-") < 0)
            return Rest.Yes;
        if (text.Length == 0 || text[0] is ' ' or '\t' or '\u00A0' or ';' or '#')
            return Rest.No;
        int end = text.AsSpan().IndexOfAny(' ', '\t', '\u00A0');
        string first = end < 0 ? text : text[..end];
        bool full = IsFull(above, first, width);
        if (syntax.CommentToken >= 0)
            return Rest.No;
        // No line of a program begins with such a sign; a ',' or an operator could go on with the operands above.
        if (!char.IsLetterOrDigit(text[0]) && text[0] is not ('_' or '?' or '.' or '@' or '$' or ',' or '&' or '|'))
            return Rest.Yes;
        if (!full && !inBlock)
            return Rest.No;
        if (
            AssemblyLook.Of(text) is Look.Code or Look.Comment
            || names.IsMacro(first)
            || names.IsMacro(syntax.Operation)
        )
            return Rest.No;
        if (inBlock)
            return JudgeMember(text, full, syntax, names);
        if (end < 0)
        {
            // A lone word: a label of the program, unless another line defines it or nobody asks for it.
            if (first.EndsWith(':'))
                return Rest.No;
            if (OperationWords.KindOf(first) != OperationKind.Unknown)
                return NeedsOperand(first) ? Rest.Yes : Rest.No;
            return names.IsDefinedByOthers(first) || !names.IsUsed(first) ? Rest.Yes : Rest.No;
        }

        bool ownName = names.IsUsed(first) && !names.IsDefinedByOthers(first);
        if (syntax.OperationToken < 0 || syntax.OperationKind == OperationKind.Unknown)
            return !ownName ? Rest.Yes : Rest.No;
        // 'Carry set = train.' and 'this include file' read as no line of a program would.
        if (
            !ownName
            && syntax.LabelToken == 0
            && syntax.ColonToken < 0
            && (
                !LineShape.IsCode(syntax)
                || (syntax.OperationKind == OperationKind.Directive && !syntax.Has(WordTraits.TakesLabel))
            )
        )
            return Rest.Yes;
        // 'neighbours sleep': a label that nobody asks for, and an operation that is a word of English right behind it.
        return
            syntax.LabelToken == 0
            && !ownName
            && syntax.ColonToken < 0
            && syntax.Tokens[syntax.OperationToken].Start == end + 1
            ? Rest.Likely
            : Rest.No;
    }

    // Operations that mean nothing alone on a line.
    private static bool NeedsOperand(string word) => OperationWords.Has(word, WordTraits.NeedsOperand);

    // No line begins with a number or a text in quotes: behind a full line of code it is the rest of its operands. Gives the whole line.
    private static string? OperandsGoOn(List<ListingLine> lines, string lastPrinted, string text, int width)
    {
        if (lines.Count == 0 || lines[^1].Printed is null || lines[^1].IsProse)
            return null;
        string above = lines[^1].Text.TrimEnd(),
            rest = text.Trim();
        if (rest.Length == 0 || text[0] == ' ' || !IsFull(lastPrinted, rest, width))
            return null;
        if (
            LineSyntax.Parse(AssemblyLook.Plain(above)) is not { OperationToken: >= 0, CommentToken: < 0 } syntax
            || syntax.OperationKind == OperationKind.Unknown
        )
            return null;
        bool isOpen = Quotes(above) % 2 == 1;
        if (isOpen)
            return char.IsAsciiHexDigit(rest[0]) && Quotes(rest) % 2 == 1 ? above + rest : null;
        bool begins =
            rest[0] is '\'' or '\u2018'
            || (rest.Length > 1 && char.IsAsciiLetter(rest[0]) && rest[1] is '\'' or '\u2018' or '\u2019');
        return begins && (above[^1] == ',' || syntax.OperandText.Length == 0) ? above + " " + rest : null;
    }

    private static bool IsFull(string above, string rest, int width)
    {
        int end = rest.AsSpan().IndexOfAny(' ', '\t', '\u00A0');
        return above.TrimEnd().Length + 1 + (end < 0 ? rest.Length : end) > width;
    }

    private static int Quotes(string text) => AssemblyLook.Plain(text).AsSpan().Count('\'');

    // In a block every name takes a register, and a rest taken for one moves all that follow.
    private static Rest JudgeMember(string text, bool full, LineSyntax syntax, Names names)
    {
        if (syntax.OperationToken >= 0 && syntax.OperationKind != OperationKind.Unknown)
            return Rest.No;
        if (MembersOf(text) is not { } members)
            return full ? Rest.Yes : Rest.Likely;
        bool elsewhere = false;
        foreach (string name in members)
        {
            if (names.IsDefinedElsewhere(name))
                elsewhere = true;
            else if (names.IsUsed(name))
                return Rest.No;
        }

        // A name that stands elsewhere cannot stand here, too; one that nobody asks for may be either.
        if (!full)
            return elsewhere ? Rest.Likely : Rest.No;
        return elsewhere || names.MembersAreIndented ? Rest.Yes : Rest.Likely;
    }

    // A hyphen at the end of a line stands in the midst of a word: of one that was parted, or of one that has it anyway.
    private static string Joined(string above, string rest) =>
        above.Length > 1 && above[^1] == '-' && char.IsLetter(above[^2]) && char.IsLower(rest[0])
            ? above + rest
            : above + " " + rest;

    // The names of a line of a block, 'name' or 'name:size' with commas between; null where it is none.
    private static List<string>? MembersOf(string text)
    {
        int comment = text.IndexOf(';', StringComparison.Ordinal);
        var members = new List<string>();
        foreach (string part in (comment < 0 ? text : text[..comment]).Split(','))
        {
            int colon = part.IndexOf(':', StringComparison.Ordinal);
            string name = (colon < 0 ? part : part[..colon]).Trim();
            if (name.Length == 0 || !Lexer.IsNameStart(name[0]) || name.AsSpan().IndexOfAny(' ', '\t', '\u00A0') >= 0)
                return null;
            members.Add(name);
        }

        return members;
    }

    // Whether comments of the listing go on in the next line anywhere: words that are no code behind a comment.
    private static bool HasRests(List<ListingLine> lines)
    {
        for (int i = 1; i < lines.Count; i++)
        {
            if (
                lines[i].Printed is null
                || lines[i].IsProse
                || lines[i].Text.Length == 0
                || !char.IsAsciiLetterLower(lines[i].Text[0])
            )
                continue;
            if (
                !lines[i - 1].Text.Contains(';', StringComparison.Ordinal)
                || lines[i].Text.Contains(';', StringComparison.Ordinal)
            )
                continue;
            if (
                lines[i].Text.AsSpan().IndexOfAny(' ', '\t', '\u00A0') > 0
                && AssemblyLook.Of(lines[i].Text) == Look.Other
            )
                return true;
        }

        return false;
    }

    /// <summary>The names of the listing, as far as its lines tell before it is assembled.</summary>
    private sealed class Names
    {
        private readonly HashSet<string> used = new(StringComparer.OrdinalIgnoreCase);
        private readonly HashSet<string> defined = new(StringComparer.OrdinalIgnoreCase);
        private readonly HashSet<string> members = new(StringComparer.OrdinalIgnoreCase);
        private readonly HashSet<string> sureMembers = new(StringComparer.OrdinalIgnoreCase);
        private readonly List<string> flushMembers = [];
        private bool hasIndentedMembers,
            hasFlushMembers;
        private readonly HashSet<string> macros = new(StringComparer.OrdinalIgnoreCase);

        public static Names Of(List<ListingLine> lines)
        {
            var names = new Names();
            bool inBlock = false;
            foreach (ListingLine line in lines)
            {
                LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
                if (syntax.Keyword == Keyword.VariableBlock)
                    inBlock = true;
                else if (syntax.Keyword == Keyword.EndVariableBlock)
                    inBlock = false;
                else if (inBlock && MembersOf(line.Text) is { } members)
                    names.AddMembers(members, line.Text);
                if (
                    syntax.OperationToken < 0
                    || syntax.OperationKind == OperationKind.Unknown
                    || AssemblyLook.Of(line.Text) == Look.Other
                )
                    continue;
                if (syntax.Label is { } label)
                {
                    names.defined.Add(label);
                    if (syntax.Keyword == Keyword.Macro)
                        names.macros.Add(label);
                }

                foreach (SyntaxToken token in Lexer.Lex(syntax.OperandText))
                    if (token.Kind == TokenKind.Name)
                        names.used.Add(syntax.OperandText.Substring(token.Start, token.Length));
            }

            return names;
        }

        private void AddMembers(List<string> names, string text)
        {
            bool flush = Lexer.IsNameStart(text[0]),
                sure = !flush || text.Contains(';', StringComparison.Ordinal);
            if (flush)
                flushMembers.AddRange(sure ? [] : names);
            hasFlushMembers |= flush && sure;
            hasIndentedMembers |= !flush;
            foreach (string name in names)
            {
                if (!members.Add(name))
                    defined.Add(name);
                if (sure)
                    sureMembers.Add(name);
            }
        }

        public bool IsUsed(string name) => used.Contains(name);

        /// <summary>Whether a line with an operation, or another line of a block, defines it: then a lone word of that name is no definition.</summary>
        public bool IsDefinedElsewhere(string name) => defined.Contains(name);

        /// <summary>The same for a line outside of the blocks, where names in blocks are other lines', too.</summary>
        public bool IsDefinedByOthers(string name) => defined.Contains(name) || sureMembers.Contains(name);

        /// <summary>Whether the names of blocks stand indented, all of those that are names beyond doubt.</summary>
        public bool MembersAreIndented =>
            hasIndentedMembers
            && !hasFlushMembers
            && !flushMembers.Exists(name => used.Contains(name) && !defined.Contains(name));

        public bool IsMacro(string? name) => name is not null && macros.Contains(name);
    }
}
