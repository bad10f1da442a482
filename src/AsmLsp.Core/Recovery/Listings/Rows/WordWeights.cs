using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>What the words of a row say for its continuing with the row above, by what they would be as a row of its own.</summary>
internal sealed class WordWeights(
    IReadOnlyList<Row> rows,
    OwnKind[] kinds,
    bool[] rests,
    RowNames names,
    RowGeometry geometry
)
{
    /// <summary>The weight of the words of a row.</summary>
    public double Of(int at)
    {
        Row row = rows[at];
        switch (kinds[at])
        {
            case OwnKind.Impossible:
                return OperandWeights.IsList(row.Code) ? 2
                    : MayHideCode(at) ? -2
                    : 12;
            case OwnKind.Words:
                return OperandWeights.IsList(row.Code) ? 2
                    : MayHideCode(at) ? -2
                    : MayBeCall(row) ? (names.HasMissingFile ? 0 : 2)
                    : 6;
            case OwnKind.Name:
                return NameWeight(at);
            case OwnKind.Label:
                return names.UsesOf(row.Code.TrimEnd(':')) > 0 ? -8 : -2;
            case OwnKind.Members:
                return MemberWeight(at);
            case OwnKind.Bare:
                return HasUsedLabel(row) ? -12 : BareWeight(row);
            case OwnKind.Open:
                return 3;
            case OwnKind.Whole:
                return HasUsedLabel(row) || IsClosedMacro(at) ? -12
                    : IsOddLabel(row) ? -2
                    : (row.Syntax.Traits & WordTraits.Natural) != 0 ? -6
                    : -9;
            case OwnKind.Unknown:
                if ((row.Syntax.Traits & (WordTraits.Natural | WordTraits.Foreign)) == 0)
                    return -4;
                if (CodeShape.HasColumns(row.Syntax))
                    return -9;
                return
                    row.Syntax.OperationKind == OperationKind.Instruction
                    && CodeShape.IsCode(row.Syntax)
                    && !row.Syntax.OperandText.AsSpan().TrimStart().Contains(' ')
                    && HasCodeName(row.Syntax.OperandText)
                    ? -3
                    : 2;
            case OwnKind.Firm:
                return -10;
            case OwnKind.Call:
                return row.Code.AsSpan().IndexOfAny(" \t") < 0 && !IsNoWord(row.Code) ? -3 : -9;
            case OwnKind.Close:
                return -6;
            case OwnKind.End:
                return IsLastCode(at) ? -8 : 1;
            default:
                return 0;
        }
    }

    private double NameWeight(int at)
    {
        Row row = rows[at];
        string name = row.Code.TrimEnd(':');
        (int others, int firm) = OthersOf(at, name);
        if (names.IsForeign(name) || firm > 0)
            return 6;
        bool isUsed = names.UsesOf(name) > 0;
        // Of two bare definitions neither is better; without a use both are words.
        if (others > 0)
            return isUsed ? 0 : 10;
        if (isUsed)
            return -12;
        return (IsNoWord(name) ? 0.5 : 3) - (row.HasComment ? 2 : 0) + (IsWrittenUnlikeLabels(name) ? 2 : 0);
    }

    // An author who begins all labels with a capital does not begin one without.
    private bool IsWrittenUnlikeLabels(string name)
    {
        const int least = 4;
        if (!char.IsLower(name[0]))
            return false;
        if (labelsAreCapital is null)
        {
            int capital = 0,
                small = 0;
            for (int i = 0; i < rows.Count; i++)
            {
                if (
                    !rows[i].IsRow
                    || kinds[i] is OwnKind.Members or OwnKind.Firm
                    || rows[i].Syntax.Label is not { } label
                    || names.UsesOf(label) == 0
                )
                    continue;
                if (char.IsUpper(label[0]))
                    capital++;
                else
                    small++;
            }

            labelsAreCapital = capital >= least && small == 0;
        }

        return labelsAreCapital.Value;
    }

    private bool? labelsAreCapital;

    // How many other rows define a name, and how many of these hold more than the name.
    private (int Others, int Firm) OthersOf(int at, string name)
    {
        int self = rests[at] ? 0 : 1;
        bool isFirm = rows[at].HasComment || (kinds[at] == OwnKind.Members && rows[at].Column > 0);
        return (names.DefinitionsOf(name) - self, names.FirmDefinitionsOf(name) - (isFirm ? self : 0));
    }

    private double MemberWeight(int at)
    {
        Row row = rows[at];
        double weight = row.HasComment ? -4 : 0;
        bool elsewhere = false,
            used = false;
        foreach (string name in RowNames.MembersOf(row.Code)!)
        {
            // A register of the chip is used as such: nobody gives its name to a variable.
            if (OthersOf(at, name).Others > 0 || names.IsForeign(name))
                elsewhere = true;
            else if (names.UsesOf(name) > 0)
                used = true;
        }

        if (used)
            return weight - 12;
        if (elsewhere)
            return weight + 5;
        if (row.Code.Contains(':', StringComparison.Ordinal) && row.Code.Any(char.IsAsciiDigit))
            return weight - 4;
        return weight + (geometry.MembersAreIndented && row.Column == 0 ? 2.5 : -1);
    }

    public int UsesOfMembers(Row row) =>
        RowNames.MembersOf(row.Code)!.Where(n => !names.IsForeign(n)).Sum(names.UsesOf);

    private double BareWeight(Row row)
    {
        WordTraits traits = row.Syntax.Traits;
        if ((traits & WordTraits.Natural) == 0)
            return row.Syntax.OperationKind == OperationKind.Instruction ? -5 : -8;
        if ((traits & WordTraits.Section) != 0 && row.Syntax.LabelToken >= 0)
            return -4;
        return IsOddLabel(row) ? 1
            : row.Syntax.LabelToken >= 0 ? -3
            : -0.5;
    }

    private bool HasUsedLabel(Row row) =>
        row.Syntax is { LabelToken: >= 0, Label: { } label } && names.UsesOf(label) > 0;

    // The head of a macro whose body is closed further down.
    private bool IsClosedMacro(int at)
    {
        if (rows[at].Syntax.Keyword != Keyword.Macro)
            return false;
        for (int i = at + 1; i < rows.Count; i++)
            if (rows[i].Syntax.Keyword is Keyword.EndMacro or Keyword.Macro && rows[i].IsRow)
                return rows[i].Syntax.Keyword == Keyword.EndMacro;
        return false;
    }

    private bool IsLastCode(int at)
    {
        for (int i = at + 1; i < rows.Count; i++)
            if (rows[i].IsRow && rows[i].Code.Length > 0 && kinds[i] is OwnKind.Whole or OwnKind.Firm or OwnKind.End)
                return false;
        return true;
    }

    // 'motor return': a first word that nothing uses, one blank before the next.
    private bool IsOddLabel(Row row) =>
        row.Syntax is { LabelToken: >= 0, ColonToken: < 0 } syntax
        && names.UsesOf(syntax.Label!) == 0
        && syntax.Tokens[syntax.OperationToken].Start == syntax.Tokens[syntax.LabelToken].End + 1;

    // A name and arguments, as the call of a macro has them, and no words side by side.
    private static bool MayBeCall(Row row)
    {
        if (!Lexer.IsNameStart(row.Code[0]))
            return false;
        int blank = row.Code.AsSpan().IndexOfAny(" \t");
        return blank > 0
            && !row.Code.AsSpan(blank).Trim().Contains(' ')
            && !FunctionWords.Contains(row.Code.AsSpan(0, blank))
            && (
                row.Code.AsSpan(blank).IndexOfAnyInRange('0', '9') >= 0
                || row.Code.Contains(',', StringComparison.Ordinal)
                || IsNoWord(row.Code[..blank])
            );
    }

    // A figure, an underscore, a capital after a small letter.
    private static bool IsNoWord(string name)
    {
        for (int i = 1; i < name.Length; i++)
            if (name[i] == '_' || char.IsAsciiDigit(name[i]) || (char.IsUpper(name[i]) && char.IsLower(name[i - 1])))
                return true;
        return false;
    }

    private static bool HasCodeName(string operands)
    {
        foreach (SyntaxToken token in Lexer.Lex(operands))
            if (token.Kind == TokenKind.Name && IsNoWord(operands.Substring(token.Start, token.Length)))
                return true;
        return operands.Contains(',', StringComparison.Ordinal);
    }

    /// <summary>Whether the words of a row may be an instruction in which letters were misread, or the call of a macro that is not here.</summary>
    public bool MayHideCode(int row) =>
        HiddenCode.BeginsMisread(rows[row].Code)
        || HiddenCode.MayBe(rows[row].Code, name => names.IsKnown(name) || names.UsesOf(name) > 0)
        || (names.HasMissingFile && MayBeCall(rows[row]));

    /// <summary>Whether the name of a row is used, and no other row gives it more than its letters.</summary>
    public bool IsAskedFor(int row) =>
        names.UsesOf(rows[row].Code) > 0 && !names.IsForeign(rows[row].Code) && OthersOf(row, rows[row].Code).Firm == 0;
}
