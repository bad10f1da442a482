using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>
/// What speaks for each row continuing with the row above, in units of the natural logarithm of odds; 0 is a row of its own. The sizes follow
/// counts over printed programs: a row of plain words below a full comment at the left edge, or below the comment's text, is a rest nearly always;
/// a row in the column of operations is one in six hundred times.
/// </summary>
internal sealed class RowWeights(
    IReadOnlyList<Row> rows,
    OwnKind[] kinds,
    bool[] rests,
    RowNames names,
    RowGeometry geometry
)
{
    private const double Never = -1e6;

    // What nothing but a name that is asked for outweighs.
    private const double DecidedPlace = 10;

    private readonly double[] restOfRow = new double[rows.Count];
    private readonly bool[] known = new bool[rows.Count];

    public RowNames Names => names;

    /// <summary>Whether the words of a row may be an instruction in which letters were misread, or the call of a macro that is not here.</summary>
    public bool MayHideCode(int row) =>
        HiddenCode.BeginsMisread(rows[row].Code)
        || HiddenCode.MayBe(rows[row].Code, name => names.IsKnown(name) || names.UsesOf(name) > 0)
        || (names.HasMissingFile && MayBeCall(rows[row]));

    /// <summary>Whether the name of a row is used, and no other row gives it more than its letters.</summary>
    public bool IsAskedFor(int row) =>
        names.UsesOf(rows[row].Code) > 0 && !names.IsForeign(rows[row].Code) && OthersOf(row, rows[row].Code).Firm == 0;

    /// <summary>The weight of a row as one kind, with the row above as another.</summary>
    public double Step(int row, RowKind above, RowKind kind)
    {
        if (kind == RowKind.Own)
            return 0;
        if (!rows[row].IsRow || !rows[row - 1].IsRow || rows[row].Code.Length == 0)
            return Never;
        if (kind == RowKind.Operand)
            return above == RowKind.Rest || rows[row - 1].HasComment ? Never : OperandWeight(row);
        if (above != RowKind.Rest && !rows[row - 1].HasComment)
            return Never;
        double weight = RestWeight(row);
        // What could be a row of the program is not made a rest for the sake of the words below it: these may be page header or footer.
        if (
            above == RowKind.Rest
            && kinds[row - 1] is not (OwnKind.Words or OwnKind.Impossible)
            && !rows[row - 1].HasComment
        )
            weight = Math.Min(weight, 2);
        if (above == RowKind.Rest && Math.Abs(rows[row].Column - rows[row - 1].Column) <= 1)
            weight += 0.5;
        // The operands of the row above continue, and not its comment.
        if (above != RowKind.Rest && GoesOnWithOperands(rows[row - 1], rows[row]))
            weight -= 30;
        return weight;
    }

    private double RestWeight(int at)
    {
        if (known[at])
            return restOfRow[at];
        known[at] = true;
        Row row = rows[at],
            above = rows[at - 1];
        double room = Room(above, row);
        double weight = Words(at) + Place(at) + room + Sentence(above, row) + Gutter(at);
        if (!row.IsSigns)
            weight += geometry.BreakOf(above);
        // A comment of its own after a gap: the rest of a comment has none.
        if (row.HasComment && row.CommentStart > 1 && row.Text[(row.CommentStart - 2)..row.CommentStart] == "  ")
            weight -= 6;
        // A name that nobody uses below a full comment is a variable once in four hundred times.
        if (kinds[at] == OwnKind.Members && room >= 2 && !row.HasComment && UsesOfMembers(row) == 0)
            weight += 3;
        // A comment does not continue after a paragraph of the text around the listing.
        if (row.Line.FollowsText && kinds[at] is not (OwnKind.Words or OwnKind.Impossible))
            weight -= 20;
        // Whatever the width is, the longest row fits: a word for which the row above had room there was not wrapped.
        if (
            kinds[at] == OwnKind.Name
            && geometry.FullnessOf(above, row) == Fullness.Unknown
            && geometry.FullnessByLongest(above, row) == Fullness.HasRoom
        )
            weight -= 1;
        return restOfRow[at] = weight;
    }

    // What the words of the row say.
    private double Words(int at)
    {
        Row row = rows[at];
        switch (kinds[at])
        {
            case OwnKind.Impossible:
                return IsOperandList(row.Code) ? 2
                    : MayHideCode(at) ? -2
                    : 12;
            case OwnKind.Words:
                return IsOperandList(row.Code) ? 2
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

    private int UsesOfMembers(Row row) =>
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

    // Where the row starts, against where the rows of its kind and the known rests start.
    private double Place(int at)
    {
        Row row = rows[at],
            above = rows[at - 1];
        int column = row.Column;
        OwnKind kind = kinds[at];
        bool below = IsBelowComment(at);
        int own =
            kind == OwnKind.Members ? geometry.MembersAt(column)
            : row.Syntax.LabelToken >= 0 ? geometry.LabelsAt(column)
            : geometry.OperationsAt(column);
        if (below && geometry.IsDecidedByPlace(column))
            return DecidedPlace;
        if (kind is OwnKind.Impossible or OwnKind.Words)
            return below ? 3
                : geometry.RestsAt(column) > 1 ? 1
                : 0;
        double place = Math.Log((geometry.RestsAt(column) + 0.3) / (own + 0.3));
        if (below && column >= 12 && own * 4 <= geometry.Aligned + 2)
            place = Math.Max(place, own == 0 ? 3.5 : Math.Log((geometry.Aligned + 0.5) / (own + 0.3)));
        // Rests are known, and none of them starts where this row and others of its kind do.
        if (geometry.Rests >= 3 && geometry.RestsAt(column) == 0 && own >= 3)
            place -= 3;
        if (geometry.Rests == 0)
            place -= above.HasComment && LineShape.IsUnfinished(above.Text) ? 0.5 : 2;
        return Math.Clamp(place, -8, 5);
    }

    /// <summary>Whether the page itself shows that a row continues with the comment above, or that it does not.</summary>
    public bool IsDecided(int row, bool isRest) =>
        (geometry.IsDecidedByBreak(rows[row - 1]) && geometry.BreakOf(rows[row - 1]) > 0 == isRest)
        || (
            isRest
            && IsBelowComment(row)
            && geometry.IsDecidedByPlace(rows[row].Column)
            && kinds[row] is not (OwnKind.Firm or OwnKind.Call)
            && (kinds[row] != OwnKind.Whole || (rows[row].Syntax.Traits & WordTraits.Natural) != 0)
        );

    private bool IsBelowComment(int at)
    {
        Row row = rows[at];
        for (int i = at - 1; i >= 0 && at - i < 8 && rows[i].IsRow; i--)
        {
            if (rows[i].HasComment)
                return Math.Abs(row.Column - rows[i].CommentColumn) <= 1;
            if (Math.Abs(row.Column - rows[i].Column) > 1)
                return false;
        }

        return false;
    }

    private double Room(Row above, Row row)
    {
        if (row.IsSigns)
            return 0;
        // Blanks after the sign of an empty comment are not seen.
        if (above.IsComment && above.CommentColumn >= above.Text.TrimEnd().Length)
            return 0;
        switch (geometry.FullnessOf(above, row))
        {
            case Fullness.Full:
                return 2.5;
            case Fullness.Nearly:
                return 1;
            case Fullness.HasRoom:
                return -5;
        }

        // Nothing is known of the width but the longest row.
        return geometry.FullnessByLongest(above, row) switch
        {
            Fullness.Full => 2,
            Fullness.Nearly => 0.5,
            Fullness.HasRoom => -1.5,
            _ => -0.5,
        };
    }

    private static double Sentence(Row above, Row row)
    {
        if (row.IsSigns)
            return 8;
        if (above.EndsInRuler)
            return -9;
        ReadOnlySpan<char> text = above.Text.AsSpan().TrimEnd();
        // A sign with nothing after it continues with nothing.
        if (above.HasComment && above.CommentColumn >= text.Length)
            return -7;
        double weight = char.IsLower(row.Text[row.Column]) ? 0.3 : 0;
        if (above.HasComment && LineShape.IsUnfinished(above.Text))
            return weight + 1.5;
        return text[^1] is '.' or '!' or '?' ? weight - 1 : weight;
    }

    // A row with an address or a word is code; a row with the number of the row above continues with it.
    private double Gutter(int at)
    {
        Row row = rows[at],
            above = rows[at - 1];
        if (row.Line.IsRest)
            return 20;
        if (row.HasWord || row.Line.IsRow)
            return -50;
        // The first word of a rest may be a number.
        if (AssemblyLook.IsNumberedCode(row.Text) && !(IsBelowComment(at) && geometry.IsDecidedByPlace(row.Column)))
            return -50;
        if (row.Line.Number < 0)
            return above.Line.Number >= 0 && MostAreNumbered ? 8 : 0;
        return row.Line.Number == above.Line.Number ? 4 : -30;
    }

    private bool MostAreNumbered
    {
        get
        {
            if (mostAreNumbered is { } answer)
                return answer;
            int all = 0,
                numbered = 0;
            foreach (Row row in rows)
            {
                if (!row.IsRow)
                    continue;
                all++;
                if (row.Line.Number >= 0)
                    numbered++;
            }

            mostAreNumbered = numbered * 10 >= all * 8;
            return mostAreNumbered.Value;
        }
    }

    private bool? mostAreNumbered;

    private double OperandWeight(int at)
    {
        Row row = rows[at],
            above = rows[at - 1];
        if (row.HasWord || row.Line.IsRow || (row.Line.Number >= 0 && row.Line.Number != above.Line.Number))
            return Never;
        // A colon goes with the label above it.
        if (row.Code == ":")
            return kinds[at - 1] == OwnKind.Name ? 12 : Never;
        if (
            IsOpenDefinition(above)
            && kinds[at] == OwnKind.Impossible
            && row.Code[0] is '(' or '\'' or (>= '0' and <= '9')
        )
            return 9;
        if (OpenFile(above))
            return kinds[at] is OwnKind.Whole or OwnKind.Firm ? Never : 8;
        if (IsOperandList(row.Code) && (kinds[at - 1] == OwnKind.Open || above.Code.EndsWith(',')))
            return 9;
        if (kinds[at - 1] != OwnKind.Open || kinds[at] is not (OwnKind.Impossible or OwnKind.Words or OwnKind.Name))
            return Never;
        if (kinds[at] == OwnKind.Name && !names.IsForeign(row.Code) && names.FirmDefinitionsOf(row.Code) == 0)
            return Never;
        LineSyntax joined = LineSyntax.Parse(JoinedOperand(above.Text, row.Text));
        return CodeShape.IsCode(joined) ? 9 : Never;
    }

    // '#define' with a name and nothing for it.
    private static bool IsOpenDefinition(Row row) =>
        !row.HasComment
        && row.Syntax.Keyword == Keyword.Define
        && row.Syntax.OperandText.AsSpan().Trim() is { Length: > 0 } name
        && !name.ContainsAny(" \t(");

    /// <summary>Whether a row breaks off inside the name of a file.</summary>
    public static bool OpenFile(Row row)
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

    // A comma or an operator continues with operands; so does anything below a row that breaks off after one.
    private static bool GoesOnWithOperands(Row above, Row row)
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

    private bool IsLastCode(int at)
    {
        for (int i = at + 1; i < rows.Count; i++)
            if (rows[i].IsRow && rows[i].Code.Length > 0 && kinds[i] is OwnKind.Whole or OwnKind.Firm or OwnKind.End)
                return false;
        return true;
    }

    // Numbers and texts in quotes with commas between.
    private static bool IsOperandList(string code)
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
            && !LineShape.IsFunctionWord(row.Code.AsSpan(0, blank))
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
}
