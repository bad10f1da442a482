using System.Buffers;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>What a row would be if it were a row of its own.</summary>
internal enum OwnKind
{
    /// <summary>Nothing: no line of a program begins like this.</summary>
    Impossible,

    /// <summary>Words that are no line of a program.</summary>
    Words,

    /// <summary>A name alone: a label.</summary>
    Name,

    /// <summary>A name with a colon.</summary>
    Label,

    /// <summary>Names in a block of variables.</summary>
    Members,

    /// <summary>An operation that takes no operand, alone.</summary>
    Bare,

    /// <summary>An operation whose operand is not there.</summary>
    Open,

    /// <summary>An operation with operands that have a value.</summary>
    Whole,

    /// <summary>An operation with operands that nothing defines.</summary>
    Unknown,

    /// <summary>A name with its value, a define, an included file: no sentence reads so.</summary>
    Firm,

    /// <summary>The call of a macro.</summary>
    Call,

    /// <summary>The close of a block.</summary>
    Close,

    /// <summary>The end of the program.</summary>
    End,
}

/// <summary>Judges what a row would be by itself, with the names that the listing knows.</summary>
internal static class StandaloneRow
{
    private static readonly SearchValues<char> SignsOfSentence = SearchValues.Create(",.!?:; ");
    private static readonly SearchValues<char> Comparisons = SearchValues.Create("=<>!&|");

    public static OwnKind Of(Row row, RowNames names, bool inBlock)
    {
        string code = row.Code;
        LineSyntax syntax = row.Syntax;
        char first = code[0];
        if (first == '#')
            return code.Length > 1 && char.IsAsciiLetter(code[1]) ? OwnKind.Firm : OwnKind.Impossible;
        if (!Lexer.IsNameStart(first))
            return OwnKind.Impossible;
        if (inBlock && syntax.OperationKind == OperationKind.Unknown && RowNames.MembersOf(code) is not null)
            return OwnKind.Members;
        if (syntax.OperationToken < 0 || syntax.OperationKind == OperationKind.Unknown)
        {
            string word = FirstWord(code);
            if (names.IsMacro(word) || (syntax.OperationToken >= 0 && names.IsMacro(syntax.Operation!)))
                return OwnKind.Call;
            return code.AsSpan().IndexOfAny(" \t") >= 0 || !IsName(word.TrimEnd(':')) ? OwnKind.Words
                : word.EndsWith(':') ? OwnKind.Label
                : OwnKind.Name;
        }

        OwnKind kind = OfOperation(syntax, names);
        // A word that no sentence has makes a line of code, though a damaged one.
        return
            kind == OwnKind.Words
            && (syntax.Traits & (WordTraits.Natural | WordTraits.Foreign)) == 0
            && syntax.Keyword != Keyword.Assign
            ? OwnKind.Unknown
            : kind;
    }

    private static OwnKind OfOperation(LineSyntax syntax, RowNames names)
    {
        switch (syntax.OperationKind)
        {
            case OperationKind.Assignment:
                return
                    syntax.LabelToken >= 0
                    && syntax.OperandSpan.Length > 0
                    && CodeShape.IsCode(syntax)
                    && OperandsAreKnown(syntax, names)
                    && syntax.OperandText.AsSpan().IndexOfAnyExcept('-', '=', ' ') >= 0
                    && !(syntax.Keyword == Keyword.Assign && CodeShape.HasUnit(syntax.OperandText))
                    ? OwnKind.Firm
                    : OwnKind.Words;
            case OperationKind.Instruction:
                if (OperationWords.TakesNoOperand(syntax.SpanOf(syntax.OperationToken)))
                    return syntax.OperandSpan.Length == 0 ? OwnKind.Bare : Leftover(syntax, names);
                if (syntax.OperandSpan.Length == 0)
                    return OwnKind.Open;
                if (!CodeShape.IsCode(syntax))
                    return Leftover(syntax, names);
                return OperandsAreKnown(syntax, names) ? OwnKind.Whole : OwnKind.Unknown;
            default:
                return OfDirective(syntax, names);
        }
    }

    private static OwnKind OfDirective(LineSyntax syntax, RowNames names)
    {
        bool hasOperand = syntax.OperandSpan.Length > 0;
        // 'da,' and 'data!' end a sentence: no directive takes a sign alone.
        if (hasOperand && !syntax.OperandText.AsSpan().ContainsAnyExcept(SignsOfSentence))
            return OwnKind.Words;
        OperationWord word = OperationWords.Find(syntax.SpanOf(syntax.OperationToken))!;
        switch (word.Keyword)
        {
            case Keyword.End:
                return hasOperand && !OperandsAreKnown(syntax, names) ? OwnKind.Words : OwnKind.End;
            case Keyword.EndVariableBlock or Keyword.EndMacro or Keyword.EndIf or Keyword.EndWhile or Keyword.Else:
                return hasOperand ? OwnKind.Words : OwnKind.Close;
            case Keyword.Include:
                return syntax.OperandText.AsSpan().TrimStart() is ['<' or '"' or '\'', ..] ? OwnKind.Firm
                    : !hasOperand ? OwnKind.Open
                    : OwnKind.Words;
            case Keyword.Define:
                return OwnKind.Words;
            case Keyword.Macro:
                return syntax.LabelToken >= 0 && CodeShape.IsCode(syntax) ? OwnKind.Whole : OwnKind.Words;
            case Keyword.List:
                return !hasOperand ? OwnKind.Bare
                    : CodeShape.IsCode(syntax) ? OwnKind.Firm
                    : OwnKind.Words;
            case Keyword.VariableBlock:
                return !hasOperand ? OwnKind.Close
                    : OperandsAreKnown(syntax, names) ? OwnKind.Firm
                    : OwnKind.Words;
        }

        if (word.Has(WordTraits.TakesText))
            return syntax.OperandText.Contains('"', StringComparison.Ordinal) ? OwnKind.Firm : OwnKind.Words;
        if (!hasOperand)
            return word.Has(WordTraits.NeedsOperand) ? OwnKind.Open : OwnKind.Bare;
        if (!CodeShape.IsCode(syntax))
            return OwnKind.Words;
        // A comparison is no part of a sentence.
        if (word.Has(WordTraits.OpensBody) && syntax.OperandText.AsSpan().ContainsAny(Comparisons))
            return OwnKind.Whole;
        if (word.Text[0] is '_' or '#')
            return OwnKind.Firm;
        if (word.Keyword is Keyword.Processor or Keyword.Radix or Keyword.ErrorLevel || word.Has(WordTraits.TakesNames))
            return word.Has(WordTraits.Natural) && !OperandsAreKnown(syntax, names) ? OwnKind.Words : OwnKind.Whole;
        return OperandsAreKnown(syntax, names) ? OwnKind.Whole
            : word.Has(WordTraits.Natural | WordTraits.Foreign | WordTraits.PlacesData) ? OwnKind.Words
            : OwnKind.Unknown;
    }

    // 'movlw 5 the start value' is an instruction whose comment lost its sign; 'call me when it is done' is none.
    private static OwnKind Leftover(LineSyntax syntax, RowNames names) =>
        syntax.Operands.Length > 0
        && !OperationWords.TakesNoOperand(syntax.SpanOf(syntax.OperationToken))
        && FirstOperandIsKnown(syntax, names)
            ? OwnKind.Unknown
            : OwnKind.Words;

    private static bool FirstOperandIsKnown(LineSyntax syntax, RowNames names)
    {
        string operands = syntax.OperandText;
        foreach (SyntaxToken token in Lexer.Lex(operands))
        {
            if (token.Kind == TokenKind.Blank)
                continue;
            return token.Kind is TokenKind.Number or TokenKind.Text or TokenKind.Character
                || (token.Kind == TokenKind.Name && names.IsKnown(operands.Substring(token.Start, token.Length)));
        }

        return false;
    }

    private static bool OperandsAreKnown(LineSyntax syntax, RowNames names)
    {
        string operands = syntax.OperandText;
        foreach (SyntaxToken token in Lexer.Lex(operands))
            if (
                token.Kind == TokenKind.Stray
                || (token.Kind == TokenKind.Name && !names.IsKnown(operands.Substring(token.Start, token.Length)))
            )
                return false;
        return true;
    }

    private static string FirstWord(string code)
    {
        int end = code.AsSpan().IndexOfAny(" \t");
        return end < 0 ? code : code[..end];
    }

    private static bool IsName(string word)
    {
        if (word.Length == 0 || !Lexer.IsNameStart(word[0]))
            return false;
        foreach (char c in word)
            if (!Lexer.IsNamePart(c))
                return false;
        return true;
    }
}
