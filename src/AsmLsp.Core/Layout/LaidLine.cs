using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Layout;

/// <summary>One line with its code in place, and where its comment wants to be.</summary>
internal sealed class LaidLine
{
    private LaidLine(string code, int codeEnd, string gap, string? comment, int commentColumn) =>
        (Code, CodeEnd, Gap, Comment, CommentColumn) = (code, codeEnd, gap, comment, commentColumn);

    /// <summary>Label, operation and operands.</summary>
    public string Code { get; }

    /// <summary>The column after the code.</summary>
    public int CodeEnd { get; }

    /// <summary>The white space before the comment, as written.</summary>
    public string Gap { get; }

    /// <summary>The comment, or null.</summary>
    public string? Comment { get; }

    /// <summary>The comment's column; -1 where the line has none, or nothing but a comment.</summary>
    public int CommentColumn { get; }

    /// <summary>The line's number.</summary>
    public int Number { get; set; }

    /// <summary>Columns of <see cref="Gap"/> after the code.</summary>
    public int GapWidth(int tabSize) => ColumnStyle.Advance(Gap, CodeEnd, tabSize) - CodeEnd;

    /// <summary>Lays out the code of a line; null where the line is better left alone.</summary>
    public static LaidLine? Of(TextLine line, LineRole role, ColumnStyle style, ref int nesting)
    {
        LineSyntax syntax = Reading(line, role);
        if (syntax.IsBlank && (role & LineRole.BlockMember) == 0)
            return null;
        string text = line.Text;
        int end = syntax.EndOfCode;
        while (end > 0 && syntax.Tokens[end - 1].Kind == TokenKind.Blank)
            end--;
        if (end == 0)
            return null;
        int written = syntax.Tokens[end - 1].End;
        int first = syntax.Tokens[0].Kind == TokenKind.Blank ? 1 : 0;
        int column = ColumnStyle.Advance(text.AsSpan(0, syntax.Tokens[first].Start), 0, style.TabSize);

        (string code, int shift) =
            (role & LineRole.BlockMember) != 0 || !IsReadable(syntax, role)
                ? (text[..written], 0)
                : Place(syntax, style, written, column, ref nesting);
        int codeEnd = ColumnStyle.Advance(code, 0, style.TabSize);
        if (syntax.CommentToken < 0)
            return new LaidLine(code + text[written..], codeEnd, "", null, -1);

        int comment = syntax.Tokens[syntax.CommentToken].Start;
        int commentColumn = ColumnStyle.Advance(text.AsSpan(0, comment), 0, style.TabSize);
        return new LaidLine(code, codeEnd, text[written..comment], text[comment..], commentColumn + shift);
    }

    private static LineSyntax Reading(TextLine line, LineRole role)
    {
        LineSyntax syntax = LineSyntax.Of(line);
        if ((role & LineRole.BlockMember) != 0)
            return LineSyntax.Parse(line.Text, LineReading.NamesOnly);
        if ((role & LineRole.LoneLabel) != 0)
            return syntax.WithFirstWordAsLabel();
        return (role & LineRole.FirstWordIsOperation) != 0 && syntax.LabelToken == 0 && syntax.OperationToken != 0
            ? syntax.WithFirstWordAsOperation()
            : syntax;
    }

    // An unknown operation in column 1 is a macro's call at best, a torn sentence at worst.
    private static bool IsReadable(LineSyntax syntax, LineRole role) =>
        (role & LineRole.MacroCall) != 0 ? syntax.OperationToken >= 0
        : syntax.OperationToken >= 0
            ? syntax.OperationKind != OperationKind.Unknown || syntax.Tokens[syntax.OperationToken].Start > 0
        : syntax.LabelToken >= 0 && syntax.OperandSpan.Length == 0;

    private static (string Code, int Shift) Place(
        LineSyntax syntax,
        ColumnStyle style,
        int written,
        int column,
        ref int nesting
    )
    {
        string text = syntax.Text;
        int closing = syntax.Has(WordTraits.ClosesBody) ? 1 : 0;
        nesting = Math.Max(0, nesting - closing);
        bool inside = nesting > 0;
        if (syntax.Has(WordTraits.OpensBody))
            nesting++;

        string code = "";
        int at = 0;
        if (syntax.LabelToken >= 0)
        {
            int labelEnd =
                syntax.ColonToken >= 0 ? syntax.Tokens[syntax.ColonToken].End : syntax.Tokens[syntax.LabelToken].End;
            code = text[syntax.Tokens[syntax.LabelToken].Start..labelEnd];
            at = ColumnStyle.Advance(code, 0, style.TabSize);
            if (syntax.OperationToken < 0)
                return (code, 0);
            // A value's name and its sign keep the distance that the author gave them.
            if (syntax.OperationKind == OperationKind.Assignment && syntax.LabelToken == 0)
                return (code + text[labelEnd..written], 0);
            int wantedColumn = Math.Max(style.OperationColumn, at + 1);
            int present = ColumnStyle.Advance(
                text.AsSpan(0, syntax.Tokens[syntax.OperationToken].Start),
                0,
                style.TabSize
            );
            if (inside && syntax.LabelToken == 0 && present > style.OperationColumn)
                wantedColumn = Math.Max(present, at + 1);
            code += Keep(text[labelEnd..syntax.Tokens[syntax.OperationToken].Start], at, wantedColumn, style);
            at = wantedColumn;
            return WithOperands(syntax, style, code, at, written, 0);
        }

        // Directives, and what is deeper inside a choice, a loop or a macro, keep the author's depth.
        bool own = column > 0 && (syntax.Has(WordTraits.KeepsColumn) || (inside && column > style.OperationColumn));
        bool hash = text[syntax.Tokens[syntax.OperationToken].Start] == '#';
        int wanted = own || (hash && column == 0) ? column : style.OperationColumn;
        code = wanted == 0 ? "" : Keep(text[..syntax.Tokens[syntax.OperationToken].Start], 0, wanted, style);
        return WithOperands(syntax, style, code, wanted, written, column == 0 ? wanted : 0);
    }

    private static (string Code, int Shift) WithOperands(
        LineSyntax syntax,
        ColumnStyle style,
        string code,
        int at,
        int written,
        int shift
    )
    {
        string text = syntax.Text;
        SyntaxToken operation = syntax.Tokens[syntax.OperationToken];
        code += text.Substring(operation.Start, operation.Length);
        at += operation.Length;
        if (operation.End >= written)
            return (code, shift);
        TextSpan operands = syntax.OperandSpan;
        string gap = text[operation.End..operands.Start];
        // Without a blank ('movlw(1)') none is put in; only instructions have a column for their operands.
        if (gap.Length == 0 || syntax.OperationKind is not (OperationKind.Instruction or OperationKind.Unknown))
            return (code + text[operation.End..written], shift);
        int present = ColumnStyle.Advance(gap, at, style.TabSize);
        int wanted = style.OperandColumn == 0 ? at + 1 : Math.Max(style.OperandColumn, at + 1);
        // Where the whole line moved, its comment moves as far, and so does a gap that needs no change.
        return (
            code + (present == wanted ? gap : style.Gap(at, wanted)) + text[operands.Start..written],
            shift > 0 ? shift + wanted - present : 0
        );
    }

    private static string Keep(string gap, int from, int to, ColumnStyle style) =>
        ColumnStyle.Advance(gap, from, style.TabSize) == to && gap.Length > 0 ? gap : style.Gap(from, to);
}
