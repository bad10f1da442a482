using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Completing;

/// <summary>What may be written at a place.</summary>
internal enum PlaceKind
{
    /// <summary>Nothing that we could offer: comments, texts, member lists.</summary>
    Nothing,

    /// <summary>Column 1 of an empty line: a new label or an operation to be indented.</summary>
    Start,

    /// <summary>The place of the operation.</summary>
    Operation,

    /// <summary>An operand.</summary>
    Operand,
}

/// <summary>Where on a line something is completed.</summary>
/// <param name="Kind">What may be there.</param>
/// <param name="Word">The word to be replaced, empty where there is none yet; columns of the line.</param>
/// <param name="Before">The line up to the word, as read.</param>
/// <param name="Operand">For an operand: its number from 0.</param>
/// <param name="OperandText">For an operand: what is before the word in it.</param>
internal sealed record CompletionPlace(
    PlaceKind Kind,
    TextSpan Word,
    LineSyntax Before,
    int Operand,
    string OperandText
)
{
    /// <summary>The place at a cursor.</summary>
    public static CompletionPlace At(ProgramFile file, LinePosition at)
    {
        string text = file.Text[at.Line].Text;
        int column = Math.Min(at.Column, text.Length);
        int start = column,
            end = column;
        while (start > 0 && IsWordCharacter(text[start - 1]))
        {
            start--;
        }

        while (end < text.Length && IsWordCharacter(text[end]))
        {
            end++;
        }

        var before = LineSyntax.Parse(text[..start]);
        var word = TextSpan.FromBounds(start, end);
        if (
            InCommentOrText(text, start)
            || file.Analysis.FactsOf(file.Source, at.Line).Role.HasFlag(LineRole.BlockMember)
        )
        {
            return new(PlaceKind.Nothing, word, before, 0, "");
        }

        if (start == 0)
        {
            return new(PlaceKind.Start, word, before, 0, "");
        }

        if (before.OperationToken < 0)
        {
            return new(PlaceKind.Operation, word, before, 0, "");
        }

        int operand = 0,
            depth = 0,
            from = before.Tokens[before.OperationToken].End;
        for (int i = before.OperationToken + 1; i < before.Tokens.Length; i++)
        {
            switch (before.Tokens[i].Kind)
            {
                case TokenKind.Open:
                    depth++;
                    break;
                case TokenKind.Close:
                    depth--;
                    break;
                case TokenKind.Comma when depth <= 0:
                    operand++;
                    from = before.Tokens[i].End;
                    break;
            }
        }

        // '#include<p16' is an operand too, though no blank is before it.
        return new(PlaceKind.Operand, word, before, operand, text[from..start].TrimStart())
        {
            Written = text[start..end],
            After = text[end..],
        };
    }

    /// <summary>The word as it is there now.</summary>
    public string Written { get; private init; } = "";

    /// <summary>What is after the word.</summary>
    public string After { get; private init; } = "";

    /// <summary>The operation of the line, in lower case.</summary>
    public string Operation => Before.Operation?.ToLowerInvariant() ?? "";

    private static bool IsWordCharacter(char c) => char.IsLetterOrDigit(c) || c is '_' or '?' or '@' or '#';

    private static bool InCommentOrText(string text, int column)
    {
        char quote = '\0';
        for (int i = 0; i < column; i++)
        {
            char c = text[i];
            if (quote != '\0')
            {
                if (c == quote)
                {
                    quote = '\0';
                }
            }
            else if (c == ';')
            {
                return true;
            }
            else if (c == '"' || (c == '\'' && (i == 0 || !char.IsLetterOrDigit(text[i - 1]))))
            {
                quote = c;
            }
        }

        // A file name in quotes may be completed.
        return quote != '\0' && LineSyntax.Parse(text).Keyword != Keyword.Include;
    }
}
