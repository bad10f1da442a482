using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Looks for lines that could as well be the rest of the comment above: a statement that is also words, below a comment that fills its
/// row, where no column says the two apart.
/// </summary>
internal sealed class PossibleRests
{
    // As many rows that end at the same width show where this print breaks its rows.
    private const int FullRows = 3;

    private readonly AuditSheet sheet;
    private readonly Dictionary<int, int> sureColumns = [];
    private readonly Dictionary<int, int> restColumns = [];
    private readonly Dictionary<int, double> widths = [];
    private readonly PrintedBreaks breaks;
    private bool hasRests;

    private PossibleRests(AuditSheet sheet, CodeSight sight)
    {
        this.sheet = sheet;
        breaks = new PrintedBreaks(sheet, sight);
    }

    public static void Check(AuditSheet sheet)
    {
        var check = new PossibleRests(sheet, new CodeSight(sheet.Names));
        check.Measure();
        check.Find();
    }

    // Where rows end, and where statements start that can be nothing else.
    private void Measure()
    {
        var ends = new Dictionary<int, List<double>>();
        foreach (AuditRow row in sheet.Rows)
        {
            if (row.Lines.Count == 0)
                continue;
            if (!ends.TryGetValue(row.Printed.TextColumn, out List<double>? of))
                ends.Add(row.Printed.TextColumn, of = []);
            of.Add(End(row));
            if (row.IsSilenced)
            {
                hasRests = true;
                restColumns[ColumnOf(row)] = restColumns.GetValueOrDefault(ColumnOf(row)) + 1;
            }
            else if (IsSure(row))
                sureColumns[ColumnOf(row)] = sureColumns.GetValueOrDefault(ColumnOf(row)) + 1;
        }

        foreach ((int column, List<double> of) in ends)
        {
            of.Sort();
            widths[column] = of[^Math.Min(of.Count, FullRows)];
        }
    }

    private void Find()
    {
        AuditRow? above = null;
        bool mayBeRestAbove = false;
        HashSet<int> doubted =
        [
            .. sheet
                .Result.Entries.Where(static e =>
                    e.Code == Catalogue.CommentOrInstruction.Code && e.Severity == Severity.Warning
                )
                .Select(static e => e.Line),
        ];
        foreach (AuditRow row in sheet.Rows)
        {
            if (row.Lines.Count == 0)
                continue;
            mayBeRestAbove =
                above is not null
                && row.Lines is [var line]
                && !sheet.IsOwnOrProved(row)
                && !breaks.IsOwn(row)
                && !EndsInRuler(above)
                && IsDoubtful(row, above, mayBeRestAbove, line);
            if (mayBeRestAbove && !sheet.IsReported(row.Lines[0]))
                sheet.Mark(
                    row.Lines[0],
                    Catalogue.CommentOrInstruction.Code,
                    "or the rest of the comment above?",
                    Catalogue.CommentOrInstruction.Format(sheet.Lines[row.Lines[0]].Trim())
                );
            mayBeRestAbove |= row.Lines is [var at] && doubted.Contains(at);
            above = row;
        }
    }

    // A row below one that may be a rest may be the next rest of the same comment.
    private bool IsDoubtful(AuditRow row, AuditRow above, bool mayBeRestAbove, int line)
    {
        // Nothing of a row that is in a comment already can be its rest.
        if (row.IsSilenced || row.HasComment || !(above.HasComment || above.IsSilenced || mayBeRestAbove))
            return false;
        LineRole role = sheet.Facts(line).Role;
        // Nobody gives a variable the name of a register; as one, it moves the variables below, too.
        if ((role & LineRole.BlockMember) != 0 && sheet.Names.IsOfChip(sheet.Lines[line].Trim()))
            return true;
        // A print may be wrapped twice, at two widths: where rests start and no statement does, room in the row above proves nothing.
        int column = ColumnOf(row);
        bool isRestColumn =
            restColumns.GetValueOrDefault(column) is var rests and > 0
            && sureColumns.GetValueOrDefault(column) * 8 <= rests;
        if (!hasRests || !(mayBeRestAbove || isRestColumn || IsFull(above, row)))
            return false;
        if ((role & (LineRole.Skipped | LineRole.AfterEnd)) != 0)
            return false;
        if ((role & LineRole.BlockMember) != 0)
            return IsUnusedMember(line);
        LineSyntax syntax = sheet.Result.Program.SyntaxOf(sheet.Result.Program.Root, line);
        if (syntax.IsBlank || syntax.Operation is not { } operation || !CanBeWords(operation, syntax))
            return false;
        if (mayBeRestAbove)
            return true;
        // A label that the program uses is in no sentence.
        if (syntax.Label is { } label && sheet.Names.IsUsed(label))
            return false;
        if (isRestColumn && syntax.Label is not null && !IsFull(above, row))
            return false;
        return sureColumns.GetValueOrDefault(column) <= 3 * restColumns.GetValueOrDefault(column);
    }

    // A name of a block that nothing uses moves the names below it, too.
    private bool IsUnusedMember(int line) => !sheet.Names.IsUsed(sheet.Lines[line].Trim());

    private bool CanBeWords(string operation, LineSyntax syntax) =>
        CodeSight.IsWord(operation)
        || operation.Equals("goto", StringComparison.OrdinalIgnoreCase)
        || (syntax.Operands.IsEmpty && (sheet.Names.IsMacro(operation) || sheet.Names.IsStatement(operation)));

    // A run of one sign never continues in words.
    private static bool EndsInRuler(AuditRow row)
    {
        ReadOnlySpan<char> text = row.Plain.AsSpan().TrimEnd();
        return text.Length >= 6
            && !char.IsLetterOrDigit(text[^1])
            && text[^1] != '.'
            && text[^6..].IndexOfAnyExcept(text[^1]) < 0;
    }

    // Whether the first word of a row had no room in the row above, one character given or taken.
    private bool IsFull(AuditRow above, AuditRow row)
    {
        int start = row.Start,
            end = start;
        while (end < row.Plain.Length && row.Plain[end] != ' ')
            end++;
        double width = CharacterWidth(above);
        return End(above) + (end - start + 1) * width
            > widths.GetValueOrDefault(above.Printed.TextColumn) - 1.5 * width;
    }

    private static double End(AuditRow row) =>
        row.Printed.CharacterStarts.IsEmpty
            ? row.Plain.Length * CharacterWidth(row)
            : row.Printed.CharacterStarts[^1] + CharacterWidth(row);

    private static double CharacterWidth(AuditRow row) =>
        row.Printed.CharacterStarts is { IsEmpty: false } starts && starts.Length > row.Start + 1
            ? Math.Max(1, (starts[^1] - starts[row.Start]) / Math.Max(1, starts.Length - 1 - row.Start))
            : 6;

    private static int ColumnOf(AuditRow row) => row.TextStart >= 0 ? row.TextStart : row.Start;

    // A statement that no sentence has, with its operands.
    private bool IsSure(AuditRow row)
    {
        if (row.Lines is not [var line] || sheet.Facts(line).Words == 0)
            return false;
        LineSyntax syntax = LineSyntax.Of(sheet.Result.Source[line]);
        return syntax.Label is null
            && syntax.Operation is { } operation
            && (row.HasComment || !CodeSight.IsWord(operation));
    }
}
