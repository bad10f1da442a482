using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Syntax;

/// <summary>How the first word of a line can be read, where more than one reading is possible.</summary>
public enum LineReading
{
    /// <summary>As the column and the words of the language say.</summary>
    Usual,

    /// <summary>The first word is the operation, whatever its column (a macro's call in the label column).</summary>
    FirstWordIsOperation,

    /// <summary>The first word is a label, whatever its column.</summary>
    FirstWordIsLabel,

    /// <summary>The line is a list of names and nothing else (the inside of a block of variables).</summary>
    NamesOnly,
}

/// <summary>
/// One line as the language reads it: label, operation, operands, comment. It knows its own text only, no position,
/// radix, define or macro, so it can be kept as long as the line stays the same. Every line gives one, whatever is on it.
/// </summary>
public sealed class LineSyntax
{
    private readonly LineReading reading;
    private readonly int afterOperation;
    private readonly int endOfCode;
    private ImmutableArray<OperandSyntax> operands;
    private LineSyntax? asOperation;
    private LineSyntax? asLabel;
    private string? operationText;
    private string? labelText;

    private LineSyntax(string text, SyntaxToken[] tokens, LineReading reading)
    {
        Text = text;
        Tokens = tokens;
        this.reading = reading;
        LabelToken = OperationToken = ColonToken = -1;
        int comment = tokens.Length > 0 && tokens[^1].Kind == TokenKind.Comment ? tokens.Length - 1 : -1;
        CommentToken = comment;
        endOfCode = comment >= 0 ? comment : tokens.Length;
        afterOperation = Read();
        HasPastedNumber = text.Contains("#v(", StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>The characters of the line without its end.</summary>
    public string Text { get; }

    /// <summary>All tokens; they add up to the text.</summary>
    internal SyntaxToken[] Tokens { get; }

    /// <summary>All tokens; they add up to the text.</summary>
    public ReadOnlySpan<SyntaxToken> AllTokens => Tokens;

    /// <summary>Index of the label's token, or -1.</summary>
    public int LabelToken { get; private set; }

    /// <summary>Index of the colon after the label, or -1.</summary>
    public int ColonToken { get; private set; }

    /// <summary>Index of the operation's token, or -1.</summary>
    public int OperationToken { get; private set; }

    /// <summary>Index of the comment's token, or -1.</summary>
    public int CommentToken { get; }

    /// <summary>What the operation's word is in the language.</summary>
    public OperationKind OperationKind { get; private set; }

    /// <summary>Which directive the operation names.</summary>
    public Keyword Keyword { get; private set; }

    /// <summary>What is true of the operation's word.</summary>
    public WordTraits Traits { get; private set; }

    /// <summary>Whether an operation starts in column 1, where labels belong. A <c>#</c> directive may be there.</summary>
    public bool OperationNotIndented =>
        OperationToken >= 0
        && Tokens[OperationToken].Kind == TokenKind.Name
        && Text[Tokens[OperationToken].Start] != '#'
        && Lexer.IsColumnOne(Text, Tokens[OperationToken].Start);

    /// <summary>Whether a label is elsewhere than in column 1.</summary>
    public bool LabelIndented => LabelToken > 0 && !Lexer.IsColumnOne(Text, Tokens[LabelToken].Start);

    /// <summary>Whether the line holds nothing but blanks and a comment.</summary>
    public bool IsBlank => LabelToken < 0 && OperationToken < 0 && afterOperation >= endOfCode;

    /// <summary>Room for the layer above to keep what substitution made of this line last; whoever reads it checks that it still fits.</summary>
    internal LineSyntax? Substituted { get; set; }

    /// <summary>Room for a layer above to keep what it computed from this line alone; set twice, it is the same thing.</summary>
    internal object? Memo { get; set; }

    /// <summary>Whether <c>#v(</c> occurs, so that names have to be put together before the line can be read.</summary>
    internal bool HasPastedNumber { get; }

    /// <summary>The label as written, or null.</summary>
    public string? Label => LabelToken < 0 ? null : labelText ??= TextOf(LabelToken);

    /// <summary>The operation as written, or null.</summary>
    public string? Operation => OperationToken < 0 ? null : operationText ??= TextOf(OperationToken);

    /// <summary>The comment with its semicolon, or null.</summary>
    public string? Comment => CommentToken < 0 ? null : TextOf(CommentToken);

    /// <summary>The operands, split at commas that are outside parentheses; empty where nothing follows the operation.</summary>
    public ImmutableArray<OperandSyntax> Operands
    {
        get
        {
            if (operands.IsDefault)
                operands = SplitOperands();
            return operands;
        }
    }

    /// <summary>What follows the operation, without blanks around it and without the comment; columns of the line.</summary>
    public TextSpan OperandSpan
    {
        get
        {
            int from = afterOperation,
                to = endOfCode;
            while (from < to && Tokens[from].Kind == TokenKind.Blank)
                from++;
            while (to > from && Tokens[to - 1].Kind == TokenKind.Blank)
                to--;
            return from < to
                ? TextSpan.FromBounds(Tokens[from].Start, Tokens[to - 1].End)
                : new TextSpan(from < Tokens.Length ? Tokens[from].Start : Text.Length, 0);
        }
    }

    /// <summary>What follows the operation as written, without the comment.</summary>
    public string OperandText
    {
        get
        {
            TextSpan span = OperandSpan;
            return Text.Substring(span.Start, span.Length);
        }
    }

    /// <summary>The part of the line that is no comment and no blank around it; columns of the line.</summary>
    public TextSpan CodeSpan
    {
        get
        {
            int from = 0,
                to = endOfCode;
            while (from < to && Tokens[from].Kind == TokenKind.Blank)
                from++;
            while (to > from && Tokens[to - 1].Kind == TokenKind.Blank)
                to--;
            return from < to ? TextSpan.FromBounds(Tokens[from].Start, Tokens[to - 1].End) : new TextSpan(0, 0);
        }
    }

    /// <summary>Index of the first token after the operation.</summary>
    internal int FirstOperandToken => afterOperation;

    /// <summary>Index after the last token that is no comment.</summary>
    internal int EndOfCode => endOfCode;

    /// <summary>Reads a line of text.</summary>
    public static LineSyntax Parse(string text, LineReading reading = LineReading.Usual)
    {
        ArgumentNullException.ThrowIfNull(text);
        return new LineSyntax(text, Lexer.Lex(text), reading);
    }

    /// <summary>The node of a line of a source text; parsed once a line and kept with it.</summary>
    public static LineSyntax Of(TextLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        if (line.Memo is LineSyntax known)
            return known;
        LineSyntax parsed = Parse(line.Text);
        line.Memo = parsed;
        return parsed;
    }

    /// <summary>The same line, with its first word read as the operation.</summary>
    public LineSyntax WithFirstWordAsOperation() =>
        reading == LineReading.FirstWordIsOperation
            ? this
            : asOperation ??= new LineSyntax(Text, Tokens, LineReading.FirstWordIsOperation);

    /// <summary>The same line, with its first word read as a label.</summary>
    public LineSyntax WithFirstWordAsLabel() =>
        reading == LineReading.FirstWordIsLabel
            ? this
            : asLabel ??= new LineSyntax(Text, Tokens, LineReading.FirstWordIsLabel);

    /// <summary>Whether one of some traits is true of the operation's word.</summary>
    public bool Has(WordTraits any) => (Traits & any) != 0;

    /// <summary>The characters of a token.</summary>
    public string TextOf(int token) => Text.Substring(Tokens[token].Start, Tokens[token].Length);

    /// <summary>The characters of a token, without a copy.</summary>
    internal ReadOnlySpan<char> SpanOf(int token) => Text.AsSpan(Tokens[token].Start, Tokens[token].Length);

    // Finds label and operation; returns the index of the first token after the operation.
    private int Read()
    {
        int first = NextWord(0);
        if (first < 0 || reading == LineReading.NamesOnly)
            return NextToken(0);
        if (Tokens[first].Kind != TokenKind.Name)
        {
            // '=' with nothing before it, or no word at all: nothing can be an operation here.
            return first;
        }

        bool isColumnOne = Lexer.IsColumnOne(Text, Tokens[first].Start);
        int second = NextToken(first + 1);
        bool colon = second < endOfCode && Tokens[second].Kind == TokenKind.Colon;
        if (reading == LineReading.FirstWordIsOperation)
            return TakeOperation(first);
        if (colon && !IsOperation(first, out _))
            return TakeLabel(first, second);
        if (colon && isColumnOne)
            return TakeLabel(first, second);
        if (reading == LineReading.FirstWordIsLabel)
            return TakeLabel(first, -1);

        // 'w equ 0' names a value, but 'call set' calls: an assignment has a value after it, or is '++' or '--'.
        bool assigns =
            second < endOfCode
            && IsAssignment(second)
            && (NextToken(second + 1) < endOfCode || Tokens[second].Kind == TokenKind.Operator);
        if (assigns)
            return TakeLabel(first, -1);
        if (IsOperation(first, out _))
            return isColumnOne && IsLabelDespiteItsName(first, second) ? TakeLabel(first, -1) : TakeOperation(first);
        if (isColumnOne)
            return TakeLabel(first, -1);
        // Indented and no word of the language: a label where an operation follows, else a macro's call.
        return second < endOfCode && IsOperation(second, out _) && Tokens[second].Start > Tokens[first].End
            ? TakeLabel(first, -1)
            : TakeOperation(first);
    }

    private int TakeLabel(int token, int colon)
    {
        LabelToken = token;
        ColonToken = colon;
        int next = NextToken((colon >= 0 ? colon : token) + 1);
        if (next >= endOfCode)
            return next;
        if (IsAssignment(next))
        {
            return TakeOperation(next);
        }

        return Tokens[next].Kind == TokenKind.Name ? TakeOperation(next) : next;
    }

    private int TakeOperation(int token)
    {
        OperationToken = token;
        if (OperationWords.Find(SpanOf(token)) is { } word)
            (OperationKind, Keyword, Traits) = (word.Kind, word.Keyword, word.Traits);
        return token + 1;
    }

    // 'OPTION EQU 88H': a word of the language in column 1 is a label where an operation follows it, unless that
    // second word can only be the first one's operand ('goto b', 'movf b,w', 'call page').
    private bool IsLabelDespiteItsName(int first, int second)
    {
        if (second >= endOfCode || !IsOperation(second, out OperationKind secondKind))
            return false;
        if (Text[Tokens[first].Start] == '#' || TakesNames(first))
            return false;
        // A program may put a macro of its own in place of an operation: 'skpz macro'.
        if (OperationWords.KeywordOf(SpanOf(second)) == Keyword.Macro)
            return true;
        int third = NextToken(second + 1);
        bool alone = third >= endOfCode;
        bool continued = !alone && Tokens[third].Kind is TokenKind.Comma or TokenKind.Operator;
        if (secondKind == OperationKind.Instruction)
            return alone ? TakesNoOperand(second) : !continued;
        OperationKind firstKind = OperationWords.KindOf(SpanOf(first));
        if (firstKind == OperationKind.Instruction && !TakesNoOperand(first))
            return !alone && !continued;
        return firstKind == OperationKind.Instruction;
    }

    private bool TakesNoOperand(int token) => OperationWords.TakesNoOperand(SpanOf(token));

    // Directives whose operand is a name of any kind, even one that is a word of the language.
    private bool TakesNames(int token) => OperationWords.Has(SpanOf(token), WordTraits.TakesNames);

    private bool IsOperation(int token, out OperationKind kind)
    {
        kind =
            Tokens[token].Kind == TokenKind.Name ? OperationWords.KindOf(SpanOf(token))
            : IsAssignment(token) ? OperationKind.Assignment
            : OperationKind.Unknown;
        return kind != OperationKind.Unknown;
    }

    private bool IsAssignment(int token)
    {
        if (Tokens[token].Kind is not (TokenKind.Operator or TokenKind.Name))
            return false;
        return OperationWords.KindOf(SpanOf(token)) == OperationKind.Assignment;
    }

    private int NextToken(int from)
    {
        while (from < endOfCode && Tokens[from].Kind == TokenKind.Blank)
            from++;
        return from;
    }

    private int NextWord(int from)
    {
        int at = NextToken(from);
        return at < endOfCode ? at : -1;
    }

    private ImmutableArray<OperandSyntax> SplitOperands()
    {
        int from = NextToken(afterOperation);
        if (from >= endOfCode)
            return [];
        var found = ImmutableArray.CreateBuilder<OperandSyntax>(2);
        int depth = 0;
        int start = from;
        for (int i = from; i < endOfCode; i++)
        {
            switch (Tokens[i].Kind)
            {
                case TokenKind.Open:
                    depth++;
                    break;
                case TokenKind.Close:
                    depth = Math.Max(0, depth - 1);
                    break;
                case TokenKind.Comma when depth == 0:
                    found.Add(new OperandSyntax(this, start, i));
                    start = i + 1;
                    break;
            }
        }

        found.Add(new OperandSyntax(this, start, endOfCode));
        return found.ToImmutable();
    }
}
