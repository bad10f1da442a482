using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Steps;

/// <summary>What a line under a comment is.</summary>
internal enum RestVerdict
{
    Nothing,

    /// <summary>The rest of the comment, beyond doubt.</summary>
    Comment,

    /// <summary>Most likely the rest of the comment.</summary>
    LikelyComment,

    /// <summary>Most likely an instruction, but its words could be the comment's.</summary>
    LikelyInstruction,
}

/// <summary>A line under a comment, weighed: its words, its column, and whether the comment breaks off or fills its line.</summary>
internal readonly struct RestPlace(DocumentView view, int line, int above, bool afterRest, int width)
{
    // Leading blanks that a comment's line may have lost: as many as operations are usually indented by.
    private const int LostBlanks = ColumnStyle.UsualOperationColumn;

    // A line that was made a comment before has grown by '; '.
    private const int MarkLength = 2;

    public RestVerdict Judge()
    {
        LineShape shape = view.Shape(line);
        LineSyntax syntax = view.Syntax(line);
        LineRole role = view.Role(line);
        Trouble trouble = view.TroubleOf(line);
        bool goesOn = afterRest || LineShape.IsUnfinished(DoubtMarker.Remove(view.TextOf(above))) || FillsItsLine();
        int commentColumn = view.Shape(above).CommentColumn;
        bool aligned = commentColumn >= 12 && Math.Abs(shape.Column - commentColumn) <= 2;

        if (shape.Has(LineTraits.LoneName) && !shape.Has(LineTraits.CodeLike | LineTraits.End)) return LoneName(syntax, role, trouble, aligned, goesOn);
        if (!shape.Has(LineTraits.CodeLike)) return Words(shape, syntax, role, trouble, aligned, goesOn);

        if (aligned && shape.Column > 20 && !view.Shape(above).Has(LineTraits.CommentOnly)) return RestVerdict.LikelyComment;
        if (!shape.Has(LineTraits.Wordy)) return RestVerdict.Nothing;
        // A label that the program has already: the first word of a sentence.
        if ((trouble & Trouble.DefinedTwice) != 0) return RestVerdict.LikelyComment;
        if ((trouble & Trouble.Error) != 0 && goesOn) return RestVerdict.LikelyComment;
        bool oddColumn = syntax.OperationToken == 0 && ColumnStyle.Of(view.File.Text).IsIndented;
        if (!goesOn && !oddColumn) return RestVerdict.Nothing;
        return IsOddLabel(syntax) ? RestVerdict.LikelyComment : RestVerdict.LikelyInstruction;
    }

    // A lone word makes nothing; it is a label, unless it stands under the comment's text or ends its sentence.
    private RestVerdict LoneName(LineSyntax syntax, LineRole role, Trouble trouble, bool aligned, bool goesOn)
    {
        if ((role & LineRole.BlockMember) != 0) return aligned || goesOn ? RestVerdict.LikelyComment : RestVerdict.Nothing;
        if ((trouble & Trouble.DefinedTwice) == 0 && IsReferenced(syntax.Text[syntax.CodeSpan.Start..syntax.CodeSpan.End])) return RestVerdict.Nothing;
        if (aligned) return RestVerdict.Comment;
        return goesOn ? RestVerdict.LikelyComment : RestVerdict.Nothing;
    }

    private RestVerdict Words(LineShape shape, LineSyntax syntax, LineRole role, Trouble trouble, bool aligned, bool goesOn)
    {
        bool makesWords = view.Words(line) > 0 || shape.Has(LineTraits.End) || (role & (LineRole.Body | LineRole.BlockMember)) != 0;
        if (makesWords)
        {
            // 'movlw 5 the start value' is an instruction whose own comment lost its mark.
            if (syntax.OperationKind == OperationKind.Instruction && !shape.Has(LineTraits.NaturalOperation)) return RestVerdict.Nothing;
            bool leftover = (trouble & Trouble.Leftover) != 0 && shape.Has(LineTraits.FunctionWord);
            return shape.Has(LineTraits.Prose) || goesOn || aligned || leftover ? RestVerdict.LikelyComment : RestVerdict.Nothing;
        }

        if (trouble == Trouble.None && !shape.Has(LineTraits.Prose)) return RestVerdict.Nothing;
        if (shape.Has(LineTraits.Prose) || aligned) return RestVerdict.Comment;
        // Two or three words without a known operation: the call of a macro whose file is missing reads the same.
        return goesOn || shape.Has(LineTraits.FunctionWord) || (trouble & Trouble.DefinedTwice) != 0 ? RestVerdict.LikelyComment : RestVerdict.Nothing;
    }

    // Whether the first word of this line would not have fitted behind the comment.
    private bool FillsItsLine()
    {
        if (width < 36) return false;
        string text = view.TextOf(line);
        int start = view.Shape(line).Column, end = start;
        while (end < text.Length && !Lexer.IsBlank(text[end])) end++;
        int lost = view.Syntax(above).OperationToken == 0 ? LostBlanks : 0;
        return DoubtMarker.Remove(view.TextOf(above)).TrimEnd().Length + lost + 1 + (end - start) > width - MarkLength;
    }

    // 'motor return': a first word that nothing refers to, one blank before the next, where others keep a column.
    private bool IsOddLabel(LineSyntax syntax)
    {
        if (syntax.LabelToken < 0 || syntax.OperationToken < 0 || IsReferenced(syntax.Label!)) return false;
        SyntaxToken label = syntax.Tokens[syntax.LabelToken], operation = syntax.Tokens[syntax.OperationToken];
        return operation.Start == label.End + 1 && operation.Start < ColumnStyle.Of(view.File.Text).OperationColumn;
    }

    private bool IsReferenced(string name) => view.Program.FindSymbol(name) is { IsReferenced: true };
}
