using AsmLsp.Core.Instructions;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>How surely a text is a statement of the language.</summary>
internal enum Sight
{
    /// <summary>No statement.</summary>
    None,

    /// <summary>A statement whose words are words of a sentence, too, or whose names nobody knows.</summary>
    Possible,

    /// <summary>A whole statement.</summary>
    Code,
}

/// <summary>
/// Judges by the tables of the language alone whether a piece of text can be a statement that makes a word, a value or a choice: an operation with
/// operands that fit, a bare operation, a directive. Text after a statement is allowed where a gap parts the two.
/// </summary>
internal sealed class CodeSight(NamesInUse names)
{
    // As many blanks as no sentence has between two words.
    private const int Gap = 2;

    // Shorter ones end many words.
    private const int LeastInstruction = 4;

    // Operations that are words of a sentence, too, or short enough to be an abbreviation in one.
    private static bool IsWordOfSentence(string word) =>
        !IsHarmless(word)
        && OperationWords.Find(word) is { } known
        && (
            known.Has(WordTraits.FrequentInProse | WordTraits.PlacesData | WordTraits.Head)
            || known.Keyword is Keyword.Macro or Keyword.Reserve or Keyword.Global or Keyword.Extern
            || known.Text is "bc" or "tris"
        );

    // Directives that change no word, whatever becomes of them.
    private static bool IsHarmless(string word) =>
        OperationWords.KeywordOf(word)
            is Keyword.Title
                or Keyword.Page
                or Keyword.Space
                or Keyword.NoList
                or Keyword.Expand
                or Keyword.ErrorLevel
                or Keyword.Message
                or Keyword.Error
                or Keyword.MemoryMap;

    private string text = "";
    private StatementTokens reader = new("", names);

    /// <summary>The column at which the statement found last starts.</summary>
    public int FoundAt { get; private set; }

    /// <summary>The column after the statement found last.</summary>
    public int FoundEnd { get; private set; }

    /// <summary>The best statement that starts at the beginning of a text, after its gutter, or after a gap in it.</summary>
    /// <param name="line">The text; columns are kept.</param>
    /// <param name="from">The first column to look at.</param>
    /// <param name="to">The column after the last.</param>
    public Sight Anywhere(string line, int from, int to)
    {
        Sight best = Sight.None;
        int found = 0,
            end = 0;
        bool isHead = true;
        for (int i = from; i < to && best < Sight.Code; i++)
        {
            if (line[i] == ' ')
                continue;
            bool starts =
                i == from
                || (line[i - 1] == ' ' && (isHead || i < from + Gap || line[i - 2] == ' '))
                || (isHead && line[i - 1] is ':' or '|' or ')' or '.' or '>')
                || IsRunTogether(line, i, to);
            if (starts && At(line, i, to) is var sight && sight > best)
                (best, found, end) = (sight, i, FoundEnd);
            isHead = isHead && (char.IsAsciiHexDigit(line[i]) || IsGutterSign(line[i]));
        }

        (FoundAt, FoundEnd) = (found, end);
        return best;
    }

    // 'goto doneclrf PORTB': the end of a row was lost, and the next one begins inside a word. No word of a sentence ends in an instruction of
    // so many letters that has its operands after it.
    private static bool IsRunTogether(string line, int at, int to)
    {
        if (!char.IsAsciiLetterOrDigit(line[at - 1]) && line[at - 1] != '_')
            return false;
        int end = at;
        while (end < to && char.IsAsciiLetter(line[end]))
            end++;
        return end - at >= LeastInstruction
            && end < to
            && line[end] == ' '
            && OperationWords.KindOf(line.AsSpan(at, end - at)) == OperationKind.Instruction
            && !IsWord(line[at..end]);
    }

    /// <summary>Whether an operation is a word of a sentence, too, or can be one without an operand.</summary>
    public static bool IsWord(string operation) =>
        IsWordOfSentence(operation) || OperationWords.TakesNoOperand(operation);

    /// <summary>Whether a sign parts the columns of a gutter.</summary>
    public static bool IsGutterSign(char c) =>
        c
            is '|'
                or ':'
                or '.'
                or ')'
                or '('
                or '-'
                or '>'
                or '+'
                or '*'
                or '/'
                or '='
                or '['
                or ']'
                or '{'
                or '}'
                or ',';

    /// <summary>How surely a statement starts at a column.</summary>
    public Sight At(string line, int from, int to)
    {
        text = line[from..to];
        reader = new StatementTokens(text, names);
        Sight sight = Statement();
        FoundAt = from;
        FoundEnd = from + reader.End;
        return sight;
    }

    private Sight Statement()
    {
        reader.Skip();
        if (reader.IsAtEnd)
            return Sight.None;
        if (IsSettings())
            return Sight.Code;
        bool label = false;
        if (reader.Kind == TokenKind.Name && reader.OperationOf(reader.At) == OperationKind.Unknown)
        {
            if (names.IsMacro(reader.Word) || names.IsStatement(reader.Word))
            {
                reader.At++;
                return Finish(reader.Operands(int.MaxValue) >= 0, sentence: true);
            }

            int next = reader.At + 1;
            if (next < reader.Tokens.Length && reader.Tokens[next].Kind == TokenKind.Colon)
                next++;
            while (next < reader.Tokens.Length && reader.Tokens[next].Kind == TokenKind.Blank)
                next++;
            if (next >= reader.Tokens.Length || reader.OperationOf(next) == OperationKind.Unknown)
                return Sight.None;
            label = true;
            reader.Own = reader.Word;
            reader.At = next;
        }
        else if (reader.Kind != TokenKind.Name)
            return Sight.None;

        string word = reader.Word;
        OperationKind kind = reader.OperationOf(reader.At);
        reader.At++;
        bool sentence = IsWordOfSentence(word);
        if (kind == OperationKind.Assignment)
        {
            if (!label)
                return Sight.None;
            // A formula of a sentence reads as 'a = 1', too.
            return Finish(
                reader.Operands(1) == 1 && reader.Unknown == 0 && !(word == "=" && CodeShape.HasUnit(text)),
                sentence || word == "="
            );
        }

        if (kind == OperationKind.Instruction)
            return Instruction(word, sentence);
        return kind == OperationKind.Directive && !IsHarmless(word)
            ? Directive(word.ToLowerInvariant(), label, sentence)
            : Sight.None;
    }

    // '_XT_OSC & _WDT_OFF', whatever is in front of it.
    private bool IsSettings()
    {
        int ands = 0,
            settings = 0;
        foreach (SyntaxToken token in reader.Tokens)
        {
            if (token.Kind == TokenKind.Comment)
                break;
            if (token.Kind == TokenKind.Operator && text[token.Start] == '&')
                ands++;
            else if (token.Kind == TokenKind.Name && token.Length > 2 && text[token.Start] == '_')
                settings++;
        }

        return ands > 0 && settings > 1;
    }

    private Sight Instruction(string word, bool sentence)
    {
        OperandKind operands =
            InstructionSet.Find(word) is { } instruction ? instruction.Operands
            : Shorthand.Find(word) is { } shorthand ? shorthand.Operands
            : OperandKind.None;
        if (operands == OperandKind.None)
            return Finish(true, sentence);
        int found = reader.Operands(operands is OperandKind.RegisterDestination or OperandKind.RegisterBit ? 2 : 1);
        bool fits = operands switch
        {
            OperandKind.RegisterBit => found == 2 || (found == 1 && reader.HasDefine),
            _ => found >= 1,
        };
        return Finish(fits, sentence);
    }

    private Sight Directive(string word, bool label, bool sentence)
    {
        reader.Skip();
        switch (OperationWords.KeywordOf(word))
        {
            case Keyword.End
            or Keyword.EndVariableBlock
            or Keyword.EndMacro
            or Keyword.EndIf
            or Keyword.EndWhile
            or Keyword.Else
            or Keyword.ExitMacro:
                return Finish(true, sentence: true);
            case Keyword.Include:
                return
                    !reader.IsAtEnd
                    && (
                        reader.Word is "<" or "\""
                        || reader.Kind == TokenKind.Text
                        || text.Contains('.', StringComparison.Ordinal)
                    )
                    ? Sight.Code
                    : Sight.None;
            case Keyword.Define or Keyword.Undefine when word[0] == '#':
            case Keyword.Configuration or Keyword.IdWords:
                return reader.IsAtEnd ? Sight.None : Sight.Code;
            case Keyword.List:
                return text.Contains('=', StringComparison.Ordinal) ? Sight.Code : Sight.None;
            case Keyword.Macro:
                return label ? Finish(reader.Operands(int.MaxValue) >= 0, sentence) : Sight.None;
            case Keyword.VariableBlock or Keyword.DataSection:
                return Finish(reader.Operands(1) >= 0, sentence: false);
            case Keyword.IfDefined or Keyword.IfNotDefined:
                return Finish(reader.Operands(1) == 1, sentence: false);
            case Keyword.DataWords
            or Keyword.DataBytes
            or Keyword.DataPackedText
            or Keyword.DataTable
            or Keyword.DataEeprom:
                return Finish(reader.Operands(int.MaxValue) >= 1 && reader.Unknown == 0, sentence);
            case Keyword.Define or Keyword.Undefine:
                return reader.IsAtEnd ? Sight.None : Sight.Possible;
            case Keyword.Constant or Keyword.Variable:
                return text.Contains('=', StringComparison.Ordinal)
                    ? Finish(reader.Operands(int.MaxValue) >= 1, sentence: true)
                    : Sight.None;
            case Keyword.Local or Keyword.Global or Keyword.Extern or Keyword.CodeSection:
                return Finish(reader.Operands(int.MaxValue) >= 0 && reader.Unknown == 0, sentence);
            default:
                return Finish(reader.Operands(int.MaxValue) >= 1 && (reader.Unknown == 0 || !sentence), sentence);
        }
    }

    // What follows a statement: nothing, a comment, a gap; words of a sentence only after an operation that is no word itself.
    private Sight Finish(bool fits, bool sentence)
    {
        if (!fits)
            return Sight.None;
        int blanks = 0,
            next = reader.At;
        if (next < reader.Tokens.Length && reader.Tokens[next].Kind == TokenKind.Blank)
            blanks = reader.Tokens[next++].Length;
        bool isClosed = next >= reader.Tokens.Length || reader.Tokens[next].Kind == TokenKind.Comment || blanks >= Gap;
        if (isClosed)
            return reader.Unknown > 0 && sentence ? Sight.Possible : Sight.Code;
        return !sentence && reader.Unknown == 0 && blanks > 0 ? Sight.Code : Sight.None;
    }
}
