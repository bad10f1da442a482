using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>The tokens of a text that may be a statement, with a place among them: reads its operands and counts the names in them that nobody knows.</summary>
internal sealed class StatementTokens(string text, NamesInUse names)
{
    public SyntaxToken[] Tokens { get; } = Lexer.Lex(text);

    /// <summary>The token that is next.</summary>
    public int At { get; set; }

    /// <summary>The column after the last token that was read.</summary>
    public int End => At > 0 && At <= Tokens.Length ? Tokens[At - 1].End : 0;

    /// <summary>The label of the statement, which its operands may name.</summary>
    public string Own { get; set; } = "";

    /// <summary>How many names were read that the program neither has nor uses.</summary>
    public int Unknown { get; private set; }

    /// <summary>Whether a name was read that is replaced by other text.</summary>
    public bool HasDefine { get; private set; }

    /// <summary>Reads expressions with commas between them: how many; -1 where something is there that is none.</summary>
    public int Operands(int most)
    {
        int count = 0;
        while (count < most)
        {
            int start = At;
            if (!Expression())
            {
                At = start;
                return count == 0 ? 0 : -1;
            }

            count++;
            int comma = At;
            Skip();
            if (IsAtEnd || Kind != TokenKind.Comma)
            {
                At = comma;
                return count;
            }

            if (count == most)
            {
                At = comma;
                return count;
            }

            At++;
        }

        return count;
    }

    private bool Expression()
    {
        int before = At;
        bool wantsValue = true;
        int depth = 0;
        int end = before;
        while (true)
        {
            int gap = At;
            Skip();
            if (IsAtEnd)
                break;
            TokenKind kind = Kind;
            if (wantsValue)
            {
                if (kind == TokenKind.Open)
                {
                    depth++;
                    At++;
                    continue;
                }

                if (kind == TokenKind.Operator)
                {
                    At++;
                    continue;
                }

                if (kind is TokenKind.Number or TokenKind.Character or TokenKind.Here or TokenKind.Text)
                {
                    At++;
                    wantsValue = false;
                    end = At;
                    continue;
                }

                if (kind == TokenKind.Name)
                {
                    if (
                        (
                            Word.Equals("high", StringComparison.OrdinalIgnoreCase)
                            || Word.Equals("low", StringComparison.OrdinalIgnoreCase)
                        )
                        && At + 1 < Tokens.Length
                    )
                    {
                        At++;
                        continue;
                    }

                    if (Word != Own && !names.IsKnown(Word) && !names.IsUsed(Word))
                        Unknown++;
                    // Its text may hold the second operand, too.
                    HasDefine |= names.IsDefine(Word);
                    At++;
                    wantsValue = false;
                    end = At;
                    continue;
                }

                break;
            }

            if (kind == TokenKind.Close && depth > 0)
            {
                depth--;
                At++;
                end = At;
                continue;
            }

            if (kind == TokenKind.Operator && (At == gap || HasBlankAfter(At)))
            {
                At++;
                wantsValue = true;
                continue;
            }

            break;
        }

        At = end;
        return !wantsValue && end > before;
    }

    private bool HasBlankAfter(int token) => token + 1 < Tokens.Length && Tokens[token + 1].Kind == TokenKind.Blank;

    /// <summary>What kind of operation a token names.</summary>
    public OperationKind OperationOf(int token) =>
        Tokens[token].Kind is TokenKind.Name or TokenKind.Operator
            ? OperationWords.KindOf(text.AsSpan(Tokens[token].Start, Tokens[token].Length))
            : OperationKind.Unknown;

    /// <summary>Whether nothing is left but a comment.</summary>
    public bool IsAtEnd => At >= Tokens.Length || Tokens[At].Kind == TokenKind.Comment;

    /// <summary>The kind of the token that is next.</summary>
    public TokenKind Kind => Tokens[At].Kind;

    /// <summary>Its text.</summary>
    public string Word => text.Substring(Tokens[At].Start, Tokens[At].Length);

    /// <summary>Passes over blanks.</summary>
    public void Skip()
    {
        while (At < Tokens.Length && Tokens[At].Kind == TokenKind.Blank)
            At++;
    }
}
