using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>What speaks for a row continuing with the operands of the row above.</summary>
internal sealed class OperandWeights(IReadOnlyList<Row> rows, OwnKind[] kinds, RowNames names)
{
    /// <summary>The weight of a row as the rest of the operands above.</summary>
    public double Of(int at)
    {
        Row row = rows[at],
            above = rows[at - 1];
        if (row.HasWord || row.Line.IsRow || (row.Line.Number >= 0 && row.Line.Number != above.Line.Number))
            return RowWeights.Never;
        // A colon goes with the label above it.
        if (row.Code == ":")
            return kinds[at - 1] == OwnKind.Name ? 12 : RowWeights.Never;
        if (
            IsOpenDefinition(above)
            && kinds[at] == OwnKind.Impossible
            && row.Code[0] is '(' or '\'' or (>= '0' and <= '9')
        )
            return 9;
        if (IsOpenFile(above))
            return kinds[at] is OwnKind.Whole or OwnKind.Firm ? RowWeights.Never : 8;
        if (IsList(row.Code) && (kinds[at - 1] == OwnKind.Open || above.Code.EndsWith(',')))
            return 9;
        if (kinds[at - 1] != OwnKind.Open || kinds[at] is not (OwnKind.Impossible or OwnKind.Words or OwnKind.Name))
            return RowWeights.Never;
        if (kinds[at] == OwnKind.Name && !names.IsForeign(row.Code) && names.FirmDefinitionsOf(row.Code) == 0)
            return RowWeights.Never;
        LineSyntax joined = LineSyntax.Parse(JoinedOperand(above.Text, row.Text));
        return CodeShape.IsCode(joined) ? 9 : RowWeights.Never;
    }

    // '#define' with a name and nothing for it.
    private static bool IsOpenDefinition(Row row) =>
        !row.HasComment
        && row.Syntax.Keyword == Keyword.Define
        && row.Syntax.OperandText.AsSpan().Trim() is { Length: > 0 } name
        && !name.ContainsAny(" \t(");

    /// <summary>Whether a row breaks off inside the name of a file.</summary>
    public static bool IsOpenFile(Row row)
    {
        if (row.HasComment || row.Syntax.Keyword != Keyword.Include)
            return false;
        string operands = row.Syntax.OperandText.Trim();
        return operands.Length > 0
            && (
                (operands[0] == '<' && !operands.Contains('>', StringComparison.Ordinal))
                || (operands[0] == '"' && operands.LastIndexOf('"') == 0)
            );
    }

    /// <summary>A row with the rest of its operands.</summary>
    public static string JoinedOperand(string above, string rest) =>
        above.TrimEnd() + (rest.AsSpan().TrimStart() is [':', ..] ? "" : " ") + rest.Trim();

    /// <summary>A comma or an operator continues with operands; so does anything below a row that breaks off after one.</summary>
    public static bool Continues(Row above, Row row)
    {
        if (
            above.Code.Length == 0
            || above.Syntax.OperationToken < 0
            || above.Syntax.OperationKind == OperationKind.Unknown
        )
            return false;
        if (row.Code[0] is ',' or '&' or '|' && above.Syntax.OperandSpan.Length > 0)
            return true;
        return above.Code[^1] is ',' or '&' or '|' or '+' && CodeShape.IsCode(LineSyntax.Parse(above.Code + row.Code));
    }

    /// <summary>Whether a text is numbers and texts in quotes with commas between.</summary>
    public static bool IsList(string code)
    {
        bool isList = code[^1] == ',';
        foreach (SyntaxToken token in Lexer.Lex(code))
        {
            if (
                token.Kind
                is not (TokenKind.Number or TokenKind.Character or TokenKind.Text or TokenKind.Comma or TokenKind.Blank)
            )
                return false;
            isList |=
                token.Kind is TokenKind.Comma or TokenKind.Text or TokenKind.Character
                || code.AsSpan(token.Start, token.Length).Contains('\'');
        }

        return isList;
    }
}
