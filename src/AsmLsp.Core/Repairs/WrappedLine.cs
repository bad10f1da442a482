using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A line that was too long for the printed column and continues in the next: broken after a comma or an operator, or
/// before one. Joined only where the whole reads as one line and the rest alone is nothing. Certain only where the first line
/// cannot be alone and the rest nowhere else: '+1' below 'movlw table', or a number that may be the page's, is a doubt.
/// </summary>
internal sealed class WrappedLine : PrintCheck
{
    private const int MostPieces = 40;

    // The lines that are one, whether the break was in the midst of a word, and whether nothing else can be meant.
    private sealed record Pieces(ImmutableArray<int> Lines, bool InWord, bool IsCertain) : ProblemFacts;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.ContinuedLine];

    public override void Find(CheckedFile view)
    {
        int done = -1;
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (line > done && !view.IsExplained(line) && BrokenWord(view, line) is > 0 and var end)
            {
                done = end;
                view.Report(
                    Catalogue.ContinuedLine,
                    line,
                    view.Syntax(line).CodeSpan,
                    end,
                    Explains.WholeLine,
                    new Pieces([line, end], InWord: true, IsCertainWord(view, end)),
                    (end + 1).ToString(CultureInfo.InvariantCulture)
                );
                continue;
            }

            if (
                !shape.Has(LineTraits.StartsInside | LineTraits.EndsOpen)
                && !IsBareConfiguration(view, line)
                && !IsBareInstruction(view, line)
            )
                continue;
            if (
                line <= done
                || view.IsExplained(line)
                || (view.Role(line) & (LineRole.AfterEnd | LineRole.BlockMember)) != 0
            )
                continue;
            int first = line;
            if (shape.Has(LineTraits.StartsInside))
                first = view.Above(line, overComments: false);
            if (first < 0 || first <= done || view.IsExplained(first))
                continue;
            if (PiecesFrom(view, first) is not { } pieces)
                continue;
            done = pieces[^1];
            view.Report(
                Catalogue.ContinuedLine,
                first,
                view.Syntax(first).CodeSpan,
                done,
                Explains.WholeLine,
                new Pieces([.. pieces], InWord: false, IsCertain(view, pieces)),
                (pieces[1] + 1).ToString(CultureInfo.InvariantCulture)
            );
        }
    }

    internal override void Offer(FixRequest request)
    {
        if (request.Problem.Facts is not Pieces { Lines: var pieces } facts)
            return;
        SourceText text = request.Text;
        LineSyntax start = LineSyntax.Of(text[pieces[0]]);
        string joined = Join(pieces.Select(p => text[p]), facts.InWord);
        int codeEnd = start.CodeSpan.End;
        string tail = joined[codeEnd..];
        if (start.CommentToken >= 0 || pieces.Any(p => LineSyntax.Of(text[p]).CommentToken >= 0))
        {
            // Between the code and the first comment, as many blanks as there were.
            string gap = start.CommentToken >= 0 ? start.Text[codeEnd..start.Tokens[start.CommentToken].Start] : " ";
            tail +=
                gap + string.Join(" ", pieces.Select(p => LineSyntax.Of(text[p]).Comment).Where(c => c is not null));
        }

        var edits = new List<TextEdit>();
        if (
            Enumerable
                .Range(pieces[0] + 1, pieces[^1] - pieces[0])
                .All(i => pieces.Contains(i) || string.IsNullOrWhiteSpace(text[i].Text))
        )
        {
            edits.Add(
                new TextEdit(TextSpan.FromBounds(text.LineStart(pieces[0]) + codeEnd, EndOf(text, pieces[^1])), tail)
            );
        }
        else
        {
            edits.Add(
                new TextEdit(TextSpan.FromBounds(text.LineStart(pieces[0]) + codeEnd, EndOf(text, pieces[0])), tail)
            );
            foreach (int piece in pieces.Skip(1))
                edits.Add(new TextEdit(TextSpan.FromBounds(EndOf(text, piece - 1), EndOf(text, piece)), ""));
        }

        request.Add(
            facts.IsCertain ? Certainty.Certain : Certainty.Guess,
            "Join the lines",
            Doubt.Extent("joined with the next line"),
            [.. edits]
        );
    }

    // The lines that make one, or null where they do not.
    private static List<int>? PiecesFrom(CheckedFile view, int first)
    {
        LineSyntax start = view.Syntax(first);
        if (start.OperationToken < 0 && start.LabelToken < 0)
            return null;
        // A name glued to an operator without an operation is no start; an unknown operation is one only as a macro's call.
        if (start.OperationKind == OperationKind.Unknown && (view.Role(first) & LineRole.MacroCall) == 0)
            return null;
        var pieces = new List<int> { first };
        string code = start.Text[..start.CodeSpan.End];
        bool open =
            view.Shape(first).Has(LineTraits.EndsOpen)
            || IsBareConfiguration(view, first)
            || IsBareInstruction(view, first);
        bool comment = start.CommentToken >= 0;
        for (int line = first + 1; line < view.LineCount && pieces.Count < MostPieces && line - pieces[^1] < 16; line++)
        {
            LineShape shape = view.Shape(line);
            if (
                shape.Has(LineTraits.Blank)
                || view.IsHeaderOrFooter(line)
                || (open && shape.Has(LineTraits.CommentOnly))
            )
                continue;
            if (!IsRest(view, line, open, comment))
                break;
            LineSyntax rest = view.Syntax(line);
            code = Glue(code, rest.Text.Substring(rest.CodeSpan.Start, rest.CodeSpan.Length));
            comment |= rest.CommentToken >= 0;
            pieces.Add(line);
            open = shape.Has(LineTraits.EndsOpen) || HasOpenParenthesis(code);
        }

        return pieces.Count > 1 && !open && IsWhole(code, view.Role(first)) && !HasStraySettings(view, start, code)
            ? pieces
            : null;
    }

    private static bool IsCertain(CheckedFile view, List<int> pieces)
    {
        bool open = view.Shape(pieces[0]).Has(LineTraits.EndsOpen) || IsBareConfiguration(view, pieces[0]);
        string code = view.Syntax(pieces[0]).Text[..view.Syntax(pieces[0]).CodeSpan.End];
        for (int i = 1; i < pieces.Count; i++)
        {
            LineShape shape = view.Shape(pieces[i]);
            // A line that is whole as it is may be so, whatever comes below it; but nothing else has settings of the chip.
            // Nor can a comma begin anything.
            if (
                !open
                && view.TextOf(pieces[i])[shape.Column] != ','
                && !(IsConfiguration(view.Syntax(pieces[0])) && AreSettings(view, view.CodeOf(pieces[i])))
            )
                return false;
            if (!shape.Has(LineTraits.StartsInside))
            {
                // A number alone may be that of the page or of a line, where another rest is below it; a word alone may be a label.
                if (
                    shape.Has(LineTraits.NumberOnly)
                    && PageNumber.TryRead(view.CodeOf(pieces[i]), out _, out _)
                    && (i + 1 < pieces.Count || IsRestBelow(view, pieces[i]))
                )
                    return false;
                if (shape.Has(LineTraits.LoneName) && !view.IsKnown(view.CodeOf(pieces[i]), pieces[i]))
                    return false;
            }

            code = Glue(code, view.CodeOf(pieces[i]));
            open = shape.Has(LineTraits.EndsOpen) || HasOpenParenthesis(code);
        }

        return true;
    }

    private static bool IsRestBelow(CheckedFile view, int line)
    {
        int below = line + 1;
        while (below < view.LineCount && view.Shape(below).Has(LineTraits.Blank))
            below++;
        return below < view.LineCount && below < line + 4 && IsRest(view, below, open: true, afterComment: false);
    }

    private static bool AreSettings(CheckedFile view, string rest)
    {
        foreach (SyntaxToken token in Lexer.Lex(rest))
            if (
                token.Kind is not (TokenKind.Blank or TokenKind.Operator or TokenKind.Open or TokenKind.Close)
                && (
                    token.Kind != TokenKind.Name
                    || view.Program.NamesDevice?.Symbols.FindAnyCase(rest.Substring(token.Start, token.Length))?.Setting
                        is null
                )
            )
                return false;
        return true;
    }

    // The rest of a word, unless it is a number, as pages and lines have, or a name by itself.
    private static bool IsCertainWord(CheckedFile view, int below)
    {
        LineShape shape = view.Shape(below);
        return !shape.Has(LineTraits.NumberOnly)
            && (!shape.Has(LineTraits.LoneName) || !view.IsKnown(view.CodeOf(below), below));
    }

    private static bool IsRest(CheckedFile view, int line, bool open, bool afterComment)
    {
        LineShape shape = view.Shape(line);
        LineSyntax syntax = view.Syntax(line);
        if (shape.Has(LineTraits.CommentOnly | LineTraits.Prose | LineTraits.Doubt) || syntax.ColonToken >= 0)
            return false;
        if ((view.Role(line) & (LineRole.MacroCall | LineRole.AfterEnd)) != 0)
            return false;
        if (syntax.OperationKind != OperationKind.Unknown && syntax.OperationToken >= 0)
            return false;
        if (shape.Has(LineTraits.StartsInside))
        {
            // After a comment, '- 5' may be the comment's: only what no sentence starts with is the operand's.
            return open || !afterComment || syntax.Text[shape.Column] is ',' or '&' or '|';
        }

        if (!open)
            return false;
        return !shape.Has(LineTraits.LoneName)
            || view.Program.FindSymbol(syntax.Text[syntax.CodeSpan.Start..syntax.CodeSpan.End])
                is not { Kind: SymbolKind.Label, IsReferenced: true };
    }

    private static bool IsBareConfiguration(CheckedFile view, int line)
    {
        LineSyntax syntax = view.Syntax(line);
        return syntax.OperandSpan.Length == 0 && IsConfiguration(syntax);
    }

    // 'movwf' and nothing after it, not in a sentence: its register may be in the next line.
    private static bool IsBareInstruction(CheckedFile view, int line)
    {
        LineSyntax syntax = view.Syntax(line);
        return syntax.OperationKind == OperationKind.Instruction
            && syntax.OperationToken >= 0
            && syntax.OperandSpan.Length == 0
            && !OperationWords.TakesNoOperand(syntax.SpanOf(syntax.OperationToken))
            && (view.TroubleOf(line) & Trouble.Error) != 0
            && !view.Shape(line).Has(LineTraits.NaturalOperation);
    }

    private static bool IsConfiguration(LineSyntax syntax) => syntax.Keyword == Keyword.Configuration;

    private static bool IsWhole(string code, LineRole role)
    {
        LineSyntax joined = LineSyntax.Parse(code);
        if ((role & LineRole.FirstWordIsOperation) != 0)
            joined = joined.WithFirstWordAsOperation();
        if (joined.OperationToken < 0)
            return false;
        foreach (OperandSyntax operand in joined.Operands)
            if (operand.Leftover.Length > 0 || HasFault(operand.Value))
                return false;
        return joined.Operands.Length > 0;
    }

    // Settings of the chip belong to a configuration, or to a name for one, and to no instruction or table.
    private static bool HasStraySettings(CheckedFile view, LineSyntax start, string code)
    {
        if (
            start.OperationKind == OperationKind.Assignment
            || IsConfiguration(start)
            || view.Program.NamesDevice is not { } device
        )
            return false;
        foreach (SyntaxToken token in Lexer.Lex(code))
            if (
                token.Kind == TokenKind.Name
                && code[token.Start] == '_'
                && device.Symbols.FindAnyCase(code.Substring(token.Start, token.Length))?.Setting is not null
            )
                return true;
        return false;
    }

    private static bool HasFault(Expression expression) =>
        expression switch
        {
            FaultyExpression => true,
            BinaryExpression binary => HasFault(binary.Left) || HasFault(binary.Right),
            UnaryExpression unary => HasFault(unary.Operand),
            ParenthesizedExpression inner => HasFault(inner.Inner),
            _ => false,
        };

    private static bool HasOpenParenthesis(string code)
    {
        int depth = 0;
        foreach (SyntaxToken token in Lexer.Lex(code))
            depth +=
                token.Kind == TokenKind.Open ? 1
                : token.Kind == TokenKind.Close ? -1
                : 0;
        return depth > 0;
    }

    // The line below, where a name that is not known ends this line, and is a known one together with the word below; else -1.
    private static int BrokenWord(CheckedFile view, int line)
    {
        if (
            (view.TroubleOf(line) & Trouble.UndefinedName) == 0
            || (view.Role(line) & (LineRole.AfterEnd | LineRole.Skipped)) != 0
        )
            return -1;
        LineSyntax start = view.Syntax(line);
        int last = start.EndOfCode - 1;
        if (
            start.OperationToken < 0
            || start.CommentToken >= 0
            || last <= start.OperationToken
            || start.Tokens[last].Kind != TokenKind.Name
        )
            return -1;
        int below = line + 1;
        while (below < view.LineCount && (view.Shape(below).Has(LineTraits.Blank) || view.IsHeaderOrFooter(below)))
            below++;
        if (below >= view.LineCount || below > line + 12)
            return -1;
        LineSyntax rest = view.Syntax(below);
        int first = 0;
        while (first < rest.EndOfCode && rest.Tokens[first].Kind == TokenKind.Blank)
            first++;
        if (
            first >= rest.EndOfCode
            || rest.Tokens[first].Kind is not (TokenKind.Name or TokenKind.Number)
            || (first == 0 && rest.ColonToken >= 0)
        )
            return -1;
        string name = start.TextOf(last);
        if (IsKnown(view, name) || !IsKnown(view, name + rest.TextOf(first)))
            return -1;
        return IsWhole(
            string.Concat(
                start.Text.AsSpan(0, start.CodeSpan.End),
                rest.Text.AsSpan(rest.CodeSpan.Start, rest.CodeSpan.Length)
            ),
            view.Role(line)
        )
            ? below
            : -1;
    }

    private static bool IsKnown(CheckedFile view, string name) =>
        view.Program.FindSymbol(name) is { IsKnown: true } || view.Program.NamesDevice?.Symbols.Find(name) is not null;

    private static string Join(IEnumerable<TextLine> lines, bool inWord)
    {
        var code = new StringBuilder();
        foreach (TextLine line in lines)
        {
            LineSyntax syntax = LineSyntax.Of(line);
            if (code.Length == 0)
                code.Append(syntax.Text.AsSpan(0, syntax.CodeSpan.End));
            else
            {
                string below = syntax.Text.Substring(syntax.CodeSpan.Start, syntax.CodeSpan.Length);
                string all = inWord ? code + below : Glue(code.ToString(), below);
                code.Clear().Append(all);
            }
        }

        return code.ToString();
    }

    private static string Glue(string code, string rest) =>
        code[^1] is ',' or '(' || rest[0] is ',' or ')' ? code + rest : code + " " + rest;

    private static int EndOf(SourceText text, int line) => text.LineStart(line) + text[line].Text.Length;
}
