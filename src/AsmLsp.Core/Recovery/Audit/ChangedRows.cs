using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Follows each printed character into the source. Code of the print that is a comment now, a comment that is code now, characters that are
/// lost or were put in: each needs a doubt on its line, unless it cannot change the program.
/// </summary>
internal static class ChangedRows
{
    public static void Check(AuditSheet sheet, List<RowGroup> groups)
    {
        var sight = new CodeSight(sheet.Names);
        var words = new PrintedWordProof(sheet);
        var included = new PrintedIncludes(sheet);
        var breaks = new PrintedBreaks(sheet, sight);
        var printed = new List<Sign>();
        var made = new List<Sign>();
        foreach (RowGroup group in groups)
        {
            printed.Clear();
            made.Clear();
            foreach (AuditRow row in group.Rows)
                Sign.Add(printed, row.Plain, row.Index, row.CommentAt);
            foreach (int line in group.Lines)
                Sign.Add(made, sheet.Lines[line], line, AuditRow.CommentStart(sheet.Lines[line]));
            int[] partner = SignMatch.Of(printed, made);
            CheckQuotes(sheet, group);
            // A repair whose proof holds: the page prints the word that the line builds, or the printed word is no word.
            foreach (int line in group.Lines)
                if (IsProved(sheet, words, group, line))
                    sheet.Trust(line);
            CheckPrinted(sheet, sight, words, included, breaks, group, printed, made, partner);
            CheckMade(sheet, group, printed, made, partner);
        }
    }

    // Blanks and capitals count in quotes, and nowhere else.
    private static void CheckQuotes(AuditSheet sheet, RowGroup group)
    {
        if (group.Rows is not [var row] || group.Lines.Count > 1)
            return;
        int line = group.Lines.Min;
        string before = Quoted(row.Plain[..row.CommentAt]),
            after = Quoted(sheet.Lines[line][..AuditRow.CommentStart(sheet.Lines[line])]);
        if (before != after && before.Length > 0 && after.Length > 0 && !sheet.IsAccountedFor(line))
            sheet.Mark(
                line,
                DocumentCodes.NotAsPrinted,
                "are the quotes as they are printed?",
                $"The page has {AuditSheet.Short(before)} here. Compare the text in quotes with the page."
            );
    }

    private static string Quoted(string text)
    {
        int from = text.IndexOf('"', StringComparison.Ordinal),
            to = text.LastIndexOf('"');
        return from < 0 || to <= from ? "" : text[from..(to + 1)];
    }

    private static bool IsProved(AuditSheet sheet, PrintedWordProof words, RowGroup group, int line)
    {
        if (group.Rows is not [var row] || group.Lines.Count > 1)
            return false;
        return words.Proves(row, sheet.Facts(line))
            || LookAlikes.Explain(row.Plain[..row.CommentAt], sheet.Lines[line], sheet.Names);
    }

    private static void CheckPrinted(
        AuditSheet sheet,
        CodeSight sight,
        PrintedWordProof words,
        PrintedIncludes included,
        PrintedBreaks breaks,
        RowGroup group,
        List<Sign> printed,
        List<Sign> made,
        int[] partner
    )
    {
        for (int i = 0; i < printed.Count; )
        {
            int start = i;
            AuditRow row = sheet.Rows[printed[i].Owner];
            Fate fate = FateOf(i);
            int line = group.Lines.Min;
            for (; i < printed.Count && printed[i].Owner == row.Index && FateOf(i) == fate; i++)
                if (partner[i] >= 0)
                {
                    line = made[partner[i]].Owner;
                    if (row.TextStart < 0)
                        row.TextStart = printed[i].Column;
                }

            int from = printed[start].Column,
                to = printed[i - 1].Column + 1;
            switch (fate)
            {
                case Fate.Silenced:
                    row.IsSilenced = true;
                    if (included.Explain(row) || words.HasNoRoom(row) || breaks.IsRest(row))
                        break;
                    // The whole stretch: signs that happen to be lost in it belong to it.
                    if (!sheet.IsReported(line) && IsCode(sheet, sight, row, from, to))
                        Report(sheet, line, row, from, to);
                    else if (LoneName(row, from, to) is { } name)
                        CheckLabel(sheet, line, row, name);
                    break;
                case Fate.Woken:
                    if (!sheet.IsAccountedFor(line) && sheet.Lines[line].AsSpan().Trim().Length > 1)
                        sheet.Mark(
                            line,
                            DocumentCodes.NotAsPrinted,
                            "is this a part of the comment?",
                            $"'{AuditSheet.Short(row.Plain[from..to])}' is printed after a ';', but is not a comment here. Compare it with the page."
                        );
                    break;
                case Fate.Lost:
                    if (
                        !sheet.Proved.Contains(row.Place)
                        && !IsGutter(row, from, to)
                        && !IsHyphen(group, row, from, to)
                        && !sheet.IsAccountedFor(line)
                    )
                        sheet.Mark(
                            line,
                            DocumentCodes.NotAsPrinted,
                            $"is '{AuditSheet.Short(row.Plain[from..to])}' missing here?",
                            $"'{AuditSheet.Short(row.Plain[from..to])}' of the printed row '{row.Plain.Trim()}' is not in this line. Compare it with the page."
                        );
                    break;
            }
        }

        Fate FateOf(int sign) =>
            partner[sign] < 0
                ? printed[sign].InComment
                    ? Fate.Kept
                    : Fate.Lost
                : printed[sign].InComment == made[partner[sign]].InComment
                    ? Fate.Kept
                    : printed[sign].InComment
                        ? Fate.Woken
                        : Fate.Silenced;
    }

    private static bool IsCode(AuditSheet sheet, CodeSight sight, AuditRow row, int from, int to)
    {
        if (sheet.IsOtherType(row))
            return false;
        if (sight.Anywhere(row.Plain, from, to) == Sight.Code)
            return true;
        // A lone name that is asked for and defined nowhere else.
        return LoneName(row, from, to) is { } name && sheet.Names.IsLacking(name);
    }

    private static string? LoneName(AuditRow row, int from, int to)
    {
        ReadOnlySpan<char> text = row.Plain.AsSpan(from, to - from).Trim().TrimEnd(':');
        return text.IsEmpty || text.IndexOf(' ') >= 0 || !Lexer.IsNameStart(text[0]) ? null : text.ToString();
    }

    // Of two lone names below comments either can be the label: neither goes without a doubt.
    private static void CheckLabel(AuditSheet sheet, int line, AuditRow row, string name)
    {
        if (
            IsNoLine(sheet, row)
            || !sheet.Names.CanBeLabel(name)
            || sheet.Result.Program.FindSymbol(name) is not { } label
        )
            return;
        int at = label.Definition.Line;
        if (
            label.Definition.File != sheet.Result.Program.Root
            || at >= sheet.Lines.Length
            || sheet.Lines[at].Trim().TrimEnd(':') != name
            || sheet.RowsOf(at).FirstOrDefault() is not { Index: > 0 } own
            || !sheet.Rows[own.Index - 1].HasComment
        )
            return;
        if (!sheet.IsReported(line))
            Report(sheet, line, row, row.Start, row.Plain.Length);
        if (!sheet.IsReported(at))
            sheet.Mark(
                at,
                Catalogue.CommentOrInstruction.Code,
                "or the rest of the comment above?",
                $"The label '{name}' is also printed in a row that was taken as a comment ({row.Plain.Trim()}). Compare both places with the page."
            );
    }

    // What recovery claims of the numbers in front of the rows holds only where they say so here, too.
    private static bool IsNoLine(AuditSheet sheet, AuditRow row) =>
        sheet.Proved.Contains(row.Place) && sheet.Numbers.IsRest(row);

    private static void Report(AuditSheet sheet, int line, AuditRow row, int from, int to)
    {
        if (IsNoLine(sheet, row))
            return;
        string words = AuditSheet.Short(row.Plain[from..to]);
        sheet.Mark(
            line,
            DocumentCodes.CodeInComment,
            $"is '{words}' a part of the program?",
            $"'{row.Plain[from..to].Trim()}' is a comment here, but can be a part of the program. Compare it with the page."
        );
    }

    // Typesetting parts a word at the end of a row.
    private static bool IsHyphen(RowGroup group, AuditRow row, int from, int to) =>
        to == row.Plain.Length && row.Plain.AsSpan(from, to - from) is "-" && row != group.Rows[^1];

    // What is in front of the text of its row and could be numbers, addresses or words.
    private static bool IsGutter(AuditRow row, int from, int to)
    {
        for (int i = 0; i < to; i++)
            if (
                row.Plain[i] != ' '
                && !char.IsAsciiHexDigit(row.Plain[i])
                && !CodeSight.IsGutterSign(row.Plain[i])
                && !(row.Plain[i] is 'M' or 'm' or '?' or 'x' or 'X' or '\'')
            )
                return false;
        return row.TextStart < 0 || to <= row.TextStart || from < row.TextStart;
    }

    // Characters of the code that no row has.
    private static void CheckMade(AuditSheet sheet, RowGroup group, List<Sign> printed, List<Sign> made, int[] partner)
    {
        var has = new bool[made.Count];
        foreach (int at in partner)
            if (at >= 0)
                has[at] = true;
        for (int i = 0; i < made.Count; i++)
        {
            if (has[i] || made[i].InComment || !char.IsLetterOrDigit(made[i].Value))
                continue;
            int line = made[i].Owner;
            if (sheet.IsAccountedFor(line) || !MakesSomething(sheet, line))
                continue;
            sheet.Mark(
                line,
                DocumentCodes.NotAsPrinted,
                "is this line as it is printed?",
                $"The page has '{AuditSheet.Short(group.Rows[0].Plain)}' here. Compare the line with the page."
            );
        }
    }

    /// <summary>Whether a line makes a word, a value or a choice.</summary>
    public static bool MakesSomething(AuditSheet sheet, int line)
    {
        LineFacts facts = sheet.Facts(line);
        if (facts.Words > 0 || (facts.Role & (LineRole.Body | LineRole.BlockMember)) != 0)
            return true;
        return (facts.Role & (LineRole.Skipped | LineRole.AfterEnd)) == 0
            && !LineSyntax.Of(sheet.Result.Source[line]).IsBlank;
    }

    private enum Fate
    {
        Kept,
        Silenced,
        Woken,
        Lost,
    }
}
