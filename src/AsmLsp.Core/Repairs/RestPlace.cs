using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

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
internal readonly struct RestPlace(CheckedFile view, int line, int above, bool afterRest, int width, bool wraps)
{
    // Leading blanks that a comment's line may have lost: as many as operations are usually indented by.
    private const int LostBlanks = ColumnStyle.UsualOperationColumn;

    // A line that was made a comment before has grown by '; '.
    private const int MarkLength = 2;

    /// <summary>Whether the comment above breaks off, is itself a rest, or fills its line.</summary>
    public bool GoesOn => afterRest || LineShape.IsUnfinished(DoubtMark.Remove(view.TextOf(above))) || FillsItsLine();

    /// <summary>What the line is.</summary>
    public RestVerdict Judge()
    {
        LineShape shape = view.Shape(line);
        LineSyntax syntax = view.Syntax(line);
        LineRole role = view.Role(line);
        Trouble trouble = view.TroubleOf(line);
        bool goesOn = GoesOn;
        int commentColumn = view.Shape(above).CommentColumn;
        bool aligned = commentColumn >= 12 && Math.Abs(shape.Column - commentColumn) <= 2;

        if (shape.Has(LineTraits.LoneName) && !shape.Has(LineTraits.CodeLike | LineTraits.End))
            return LoneName(syntax, role, aligned, goesOn);
        if (!shape.Has(LineTraits.CodeLike))
            return Words(shape, syntax, role, trouble, aligned, goesOn);

        if (aligned && shape.Column > 20 && !view.Shape(above).Has(LineTraits.CommentOnly))
            return RestVerdict.LikelyComment;
        if (!shape.Has(LineTraits.Wordy) || (!wraps && StandsAsCode(shape, syntax, trouble)))
            return RestVerdict.Nothing;
        // The head of a macro that is closed: no sentence has an 'endm' below it.
        if (
            trouble == Trouble.None
            && syntax.Label is { } name
            && view.Program.FindSymbol(name) is { Kind: SymbolKind.Macro }
        )
            return RestVerdict.Nothing;
        // A label that the program has already: the first word of a sentence.
        if ((trouble & Trouble.DefinedTwice) != 0)
            return RestVerdict.LikelyComment;
        if ((trouble & Trouble.Error) != 0 && goesOn)
            return RestVerdict.LikelyComment;
        bool oddColumn = syntax.OperationToken == 0 && ColumnStyle.Of(view.File.Text).IsIndented;
        if (!goesOn && !oddColumn && !IsOperationWithoutColumn(syntax))
            return RestVerdict.Nothing;
        return IsOddLabel(syntax) ? RestVerdict.LikelyComment : RestVerdict.LikelyInstruction;
    }

    // A lone word makes nothing; it is a label, unless it is under the comment's text or ends its sentence.
    private RestVerdict LoneName(LineSyntax syntax, LineRole role, bool aligned, bool goesOn)
    {
        string name = syntax.Text[syntax.CodeSpan.Start..syntax.CodeSpan.End];
        int other = view.OtherDefinition(line);
        if ((role & LineRole.BlockMember) != 0)
            return Member(name, other, aligned, goesOn);
        // The name is defined by another line as well: one with an operation is its true place.
        if (other >= 0)
            return aligned || goesOn || !IsBare(other) ? RestVerdict.Comment : RestVerdict.Nothing;
        if (IsReferenced(name))
            return RestVerdict.Nothing;
        // No name ends like a sentence.
        if (name[^1] == '.')
            return RestVerdict.Comment;
        // A word that nobody asks for makes nothing: as a comment it does no harm. Where columns are kept, it is a label.
        if (aligned || goesOn)
            return RestVerdict.Comment;
        if (ColumnStyle.Of(view.File.Text).IsIndented || IsNextCode())
            return RestVerdict.Nothing;
        // 'BANK1' is no word of a sentence: it could be the call of a macro whose definition is lost.
        return IsNoWord(name) ? RestVerdict.LikelyComment : RestVerdict.Comment;
    }

    // A figure, an underscore, a capital after the first letter.
    private static bool IsNoWord(string name)
    {
        for (int i = 1; i < name.Length; i++)
            if (name[i] == '_' || char.IsAsciiDigit(name[i]) || char.IsAsciiLetterUpper(name[i]))
                return true;
        return false;
    }

    // A whole instruction in the column where the program's instructions are: what continued with a comment would not be there.
    private bool StandsAsCode(LineShape shape, LineSyntax syntax, Trouble trouble)
    {
        ColumnStyle style = ColumnStyle.Of(view.File.Text);
        int operation = ColumnStyle.Advance(
            syntax.Text.AsSpan(0, syntax.Tokens[syntax.OperationToken].Start),
            0,
            style.TabSize
        );
        return trouble == Trouble.None
            && style.IsIndented
            && shape.Column > 0
            && syntax.OperationKind == OperationKind.Instruction
            && operation == style.OperationColumn;
    }

    // In a block of variables every name takes a register, and moves all that follow: a name that no other line defines
    // stays, with a question where the comment breaks off or the name is left of the others.
    private RestVerdict Member(string name, int other, bool aligned, bool goesOn)
    {
        if (other >= 0)
            return goesOn || aligned || !IsBare(other) ? RestVerdict.Comment : RestVerdict.LikelyComment;
        int members = MemberColumn(),
            column = view.Shape(line).Column;
        if (aligned && column != members)
            return IsReferenced(name) ? RestVerdict.LikelyInstruction : RestVerdict.LikelyComment;
        bool outside = members >= 2 && column == 0;
        // Where columns are lost and comments were wrapped, a word that nobody asks for is one's rest more often than a variable.
        if (wraps && column == 0 && !IsReferenced(name) && !ColumnStyle.Of(view.File.Text).IsIndented)
            return RestVerdict.LikelyComment;
        return goesOn || outside ? RestVerdict.LikelyInstruction : RestVerdict.Nothing;
    }

    // Where the other names of the block begin; -1 where there is none.
    private int MemberColumn()
    {
        int above = view.Above(line, overComments: true);
        if (above >= 0 && (view.Role(above) & LineRole.BlockMember) != 0)
            return view.Shape(above).Column;
        for (int i = line + 1; i < view.LineCount && i < line + 40; i++)
            if ((view.Role(i) & LineRole.BlockMember) != 0 && !view.Shape(i).Has(LineTraits.CommentOnly))
                return view.Shape(i).Column;
        return -1;
    }

    private RestVerdict Words(
        LineShape shape,
        LineSyntax syntax,
        LineRole role,
        Trouble trouble,
        bool aligned,
        bool goesOn
    )
    {
        if ((role & LineRole.BlockMember) != 0)
            return MemberWords(syntax, trouble, aligned, goesOn);
        bool makesWords = view.Words(line) > 0 || shape.Has(LineTraits.End) || (role & LineRole.Body) != 0;
        if (makesWords)
        {
            // 'movlw 5 the start value' is an instruction whose own comment lost its mark.
            if (syntax.OperationKind == OperationKind.Instruction && !shape.Has(LineTraits.NaturalOperation))
                return RestVerdict.Nothing;
            bool leftover = (trouble & Trouble.Leftover) != 0 && shape.Has(LineTraits.FunctionWord);
            return shape.Has(LineTraits.Prose) || goesOn || aligned || leftover
                ? RestVerdict.LikelyComment
                : RestVerdict.Nothing;
        }

        if (trouble == Trouble.None && !shape.Has(LineTraits.Prose))
            return RestVerdict.Nothing;
        if (shape.Has(LineTraits.Prose) || aligned)
            return RestVerdict.Comment;
        // 'at 187', 'is gone': begins as only the rest of a sentence does.
        if ((trouble & Trouble.Error) != 0 && shape.Has(LineTraits.FunctionWord) && FirstIsFunctionWord(syntax))
            return RestVerdict.Comment;
        RestVerdict read = (trouble & Trouble.Error) != 0 ? Reading(syntax, goesOn) : RestVerdict.Nothing;
        if (read != RestVerdict.Nothing)
            return read;
        // Two or three words without a known operation: the call of a macro whose file is missing reads the same.
        return goesOn || shape.Has(LineTraits.FunctionWord) || (trouble & Trouble.DefinedTwice) != 0
            ? RestVerdict.LikelyComment
            : RestVerdict.Nothing;
    }

    // Words side by side are no members; a list of names is one.
    private RestVerdict MemberWords(LineSyntax syntax, Trouble trouble, bool aligned, bool goesOn)
    {
        if ((trouble & (Trouble.Error | Trouble.Leftover)) != 0)
            return RestVerdict.LikelyComment;
        if (!goesOn && !aligned)
            return RestVerdict.Nothing;
        for (int i = 0; i < syntax.EndOfCode; i++)
            if (syntax.Tokens[i].Kind == TokenKind.Name && IsReferenced(syntax.TextOf(i)))
                return RestVerdict.LikelyInstruction;
        return RestVerdict.LikelyComment;
    }

    // A line in error that reads as the end of a sentence: 'other.', 'hexadecimal)', '1 us', 'others out'.
    private RestVerdict Reading(LineSyntax syntax, bool goesOn)
    {
        ReadOnlySpan<char> text = syntax.Text.AsSpan(syntax.CodeSpan.Start, syntax.CodeSpan.Length);
        bool ends = text[^1] is '.' or ')' or '!' or '?';
        ReadOnlySpan<char> words = text.TrimEnd(".)!?");
        bool digits = char.IsAsciiDigit(text[0]),
            known = false;
        int count = 0;
        foreach (Range range in words.Split(' '))
        {
            ReadOnlySpan<char> word = words[range].TrimEnd(",;:").TrimStart('(');
            if (word.IsEmpty)
                continue;
            count++;
            for (int i = 0; i < word.Length; i++)
                if (
                    !char.IsLetter(word[i])
                    && word[i] is not ('-' or '\'' or '\u2019')
                    && !(digits && count == 1 && char.IsAsciiDigit(word[i]))
                )
                    return RestVerdict.Nothing;
            known |= OperationWords.KindOf(word) != OperationKind.Unknown || IsNameOfProgram(word.ToString());
        }

        if (count == 0 || (count == 1 && !ends))
            return RestVerdict.Nothing;
        if (known)
            return ends && count == 1 ? RestVerdict.LikelyComment : RestVerdict.Nothing;
        return ends || (digits && goesOn) ? RestVerdict.Comment : RestVerdict.LikelyComment;
    }

    private bool FirstIsFunctionWord(LineSyntax syntax)
    {
        int first = syntax.LabelToken >= 0 ? syntax.LabelToken : syntax.OperationToken;
        return first >= 0 && FunctionWords.Contains(syntax.SpanOf(first)) && !IsNameOfProgram(syntax.TextOf(first));
    }

    private bool IsNameOfProgram(string word) =>
        view.Program.FindSymbol(word) is { } symbol
        && (symbol.IsReferenced || symbol.Definition.File != view.File || symbol.Definition.Line != line);

    // Whether a line has no more than the name that it defines.
    private bool IsBare(int at)
    {
        LineShape shape = view.Shape(at);
        return shape.Has(LineTraits.LoneName) && !shape.Has(LineTraits.HasComment) && view.Syntax(at).ColonToken < 0;
    }

    // Whether an instruction without a label of its own follows: then a lone word is a label by its place.
    private bool IsNextCode()
    {
        for (int i = line + 1; i < view.LineCount && i < line + 8; i++)
        {
            LineShape shape = view.Shape(i);
            if (!shape.Has(LineTraits.Blank | LineTraits.CommentOnly))
                return shape.Has(LineTraits.CodeLike) && shape.Column > 0 && view.Syntax(i).LabelToken < 0;
        }

        return false;
    }

    // Whether the first word of this line would not have fitted after the comment.
    private bool FillsItsLine()
    {
        if (width < 36)
            return false;
        string text = view.TextOf(line);
        int start = view.Shape(line).Column,
            end = start;
        while (end < text.Length && !Lexer.IsBlank(text[end]))
            end++;
        int lost = view.Syntax(above).OperationToken == 0 ? LostBlanks : 0;
        return DoubtMark.Remove(view.TextOf(above)).TrimEnd().Length + lost + 1 + (end - start) > width - MarkLength;
    }

    // Where comments were wrapped and columns are lost, 'return' after a long comment may be the comment's last word.
    private bool IsOperationWithoutColumn(LineSyntax syntax)
    {
        if (width == 0 || syntax.OperationToken != 0 || ColumnStyle.Of(view.File.Text).IsIndented)
            return false;
        string text = DoubtMark.Remove(view.TextOf(above)).TrimEnd();
        if (2 * text.Length < width || text[^1] is '.' or '!' or '?' or ')')
            return false;
        for (int i = syntax.FirstOperandToken; i < syntax.EndOfCode; i++)
            if (syntax.Tokens[i].Kind == TokenKind.Name && view.Program.FindSymbol(syntax.TextOf(i)) is not null)
                return false;
        return true;
    }

    // 'motor return': a first word that nothing refers to, one blank before the next, where others keep a column.
    private bool IsOddLabel(LineSyntax syntax)
    {
        if (syntax.LabelToken < 0 || syntax.OperationToken < 0 || IsReferenced(syntax.Label!))
            return false;
        SyntaxToken label = syntax.Tokens[syntax.LabelToken],
            operation = syntax.Tokens[syntax.OperationToken];
        return operation.Start == label.End + 1 && operation.Start < ColumnStyle.Of(view.File.Text).OperationColumn;
    }

    private bool IsReferenced(string name) => view.Program.FindSymbol(name) is { IsReferenced: true };
}
