using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Joins the rests of comments and of operands that continued in the next printed row, as <see cref="RowClassifier"/> finds them. What could as
/// well be a row of the program keeps its row and carries a doubt with the alternative.
/// </summary>
internal static class WrappedRests
{
    // A row that would make a word, or move a register, is taken into a comment without a doubt only where nothing speaks for it.
    private const double SureRest = 8;

    // A row of the program keeps a question where the comment above is nearly as good an explanation.
    private const double SureRow = 2;

    // Below this, a label that nothing uses can as well be a word of the comment above.
    private const double NearlyRest = 1;

    // Where the names of a block are, and whether the row above is full, say more than words do.
    private const double SureMember = 4.5;

    /// <summary>The lines with the rests joined.</summary>
    /// <param name="Lines">The lines.</param>
    /// <param name="Joined">The places of those that rests were joined to.</param>
    /// <param name="KnownRows">The printed rows that are below a comment and are rows of their own.</param>
    public sealed record Result(List<ListingLine> Lines, List<int> Joined, HashSet<PrintedPlace> KnownRows);

    /// <summary>Joins the rests.</summary>
    /// <param name="lines">The lines.</param>
    /// <param name="before">Places of lines that were joined before.</param>
    /// <param name="assemble">Assembles the lines as they are, for their chip and their included files.</param>
    public static Result Join(List<ListingLine> lines, List<int> before, Func<SourceText, ProgramAnalysis> assemble)
    {
        Row[] rows = [.. lines.Select(static l => new Row(l))];
        RowVerdict[] verdicts = RowClassifier.Classify(
            rows,
            assemble(SourceText.From(string.Join('\n', rows.Select(static r => r.Text))))
        );
        if (
            RewrappedRows.Join(
                lines,
                rows,
                i => verdicts[i].Kind == RowKind.Rest && IsSureRest(verdicts[i]),
                before,
                Joined
            ) is
            { } again
        )
        {
            (lines, before) = again;
            rows = [.. lines.Select(static l => new Row(l))];
            verdicts = RowClassifier.Classify(
                rows,
                assemble(SourceText.From(string.Join('\n', rows.Select(static r => r.Text))))
            );
        }

        int width = Width(lines, before.Count > 0);
        var result = new Result(new List<ListingLine>(lines.Count), [], []);
        var whole = new HashSet<int>(before);
        for (int i = 0; i < lines.Count; i++)
        {
            ListingLine line = lines[i];
            RowVerdict verdict = verdicts[i];
            if (verdict.Kind == RowKind.Rest && IsSureRest(verdict))
            {
                Join(result, Joined(result.Lines[^1].Text.TrimEnd(), line.Text.Trim()), line, null);
                continue;
            }

            if (verdict.Kind == RowKind.Operand)
            {
                string operand = OperandWeights.IsOpenFile(rows[i - 1])
                    ? result.Lines[^1].Text.TrimEnd() + line.Text.Trim()
                    : OperandWeights.JoinedOperand(result.Lines[^1].Text, line.Text);
                Join(
                    result,
                    operand,
                    line,
                    verdict.Own == OwnKind.Name ? Doubt.Extent("two printed lines made one") : null
                );
                continue;
            }

            if (
                verdict.Kind == RowKind.Own
                && rows[i].IsRow
                && OperandsGoOn(result.Lines, i > 0 ? lines[i - 1].Text : "", line.Text, width) is { } operands
            )
            {
                Join(result, operands, line, Doubt.Extent("two printed lines made one"));
                continue;
            }

            if (whole.Contains(i))
                result.Joined.Add(result.Lines.Count);
            if (
                verdict.WasAsked
                && verdict.Kind == RowKind.Own
                && verdict.Own is not (OwnKind.Words or OwnKind.Impossible)
            )
                foreach (PrintedPlace place in line.Origin.Places)
                    result.KnownRows.Add(place);
            result.Lines.Add(Marked(line, rows[i], verdict));
        }

        return result;
    }

    private static bool IsSureRest(RowVerdict verdict) =>
        !verdict.Matters
        || verdict.IsDecided
        || (
            verdict.Own is not (OwnKind.Words or OwnKind.Impossible)
            && verdict.Margin >= (verdict.Own == OwnKind.Members ? SureMember : SureRest)
        );

    private static void Join(Result result, string text, ListingLine line, Doubt? doubt)
    {
        ListingLine above = result.Lines[^1];
        result.Lines[^1] = above with
        {
            Text = text,
            Rests = above.Rests.With(line.Origin),
            Doubt = doubt ?? above.Doubt,
        };
        if (result.Joined.Count == 0 || result.Joined[^1] != result.Lines.Count - 1)
            result.Joined.Add(result.Lines.Count - 1);
    }

    private static ListingLine Marked(ListingLine line, Row row, RowVerdict verdict)
    {
        if (verdict.Kind == RowKind.Rest)
        {
            string code = line.Text.Trim();
            string reading = row.Syntax.LabelToken == 0 ? code : " " + code;
            return line with
            {
                Text = "; " + code,
                Doubt = new Doubt("taken as the rest of the comment above") { Alternatives = [reading] }.ToString(),
            };
        }

        // A label that nothing uses makes no word, but where a word of the comment is as good an explanation it is asked about.
        if (verdict is { WasAsked: true, Own: OwnKind.Name, Matters: false, Margin: < NearlyRest })
            return line with
            {
                Doubt = new Doubt("a label, or the rest of the comment above?")
                {
                    Kind = DoubtKind.Remark,
                    Alternatives = [Doubt.AsComment],
                },
            };
        if (
            !verdict.WasAsked
            || !verdict.Matters
            || verdict.IsDecided
            || verdict.Margin >= (verdict.Own == OwnKind.Members ? SureMember : SureRow)
            || verdict.Own is OwnKind.Words or OwnKind.Impossible
        )
            return line;
        return line with
        {
            Doubt = new Doubt(
                verdict.Own == OwnKind.Members
                    ? "a variable, or the rest of the comment above? The names below take the next registers"
                    : "or the rest of the comment above?"
            )
            {
                Kind = verdict.Own == OwnKind.Members ? DoubtKind.Missing : DoubtKind.Remark,
                Alternatives = [Doubt.AsComment],
            },
        };
    }

    // Nothing is full where no row is wide.
    private static int Width(List<ListingLine> lines, bool printed)
    {
        int width = 0;
        foreach (ListingLine line in lines)
            if (!line.IsProse && line.Printed is not { RunsOver: true })
                width = Math.Max(width, (printed ? line.Printed?.Text ?? "" : line.Text).TrimEnd().Length);
        return width < LeastWidth ? int.MaxValue : width;
    }

    private const int LeastWidth = 40;

    // No line begins with a number or a text in quotes: after a full line of code it is the rest of its operands. Gives the whole line.
    private static string? OperandsGoOn(List<ListingLine> lines, string lastPrinted, string text, int width)
    {
        if (lines.Count == 0 || lines[^1].Printed is null || lines[^1].IsProse)
            return null;
        string above = lines[^1].Text.TrimEnd(),
            rest = text.Trim();
        if (rest.Length == 0 || text[0] == ' ' || !IsFull(lastPrinted, rest, width))
            return null;
        if (
            LineSyntax.Parse(AssemblyLook.Plain(above)) is not { OperationToken: >= 0, CommentToken: < 0 } syntax
            || syntax.OperationKind == OperationKind.Unknown
        )
            return null;
        bool isOpen = Quotes(above) % 2 == 1;
        if (isOpen)
            return char.IsAsciiHexDigit(rest[0]) && Quotes(rest) % 2 == 1 ? above + rest : null;
        bool begins =
            rest[0] is '\'' or '\u2018'
            || (rest.Length > 1 && char.IsAsciiLetter(rest[0]) && rest[1] is '\'' or '\u2018' or '\u2019');
        return begins && (above[^1] == ',' || syntax.OperandText.Length == 0) ? above + " " + rest : null;
    }

    private static bool IsFull(string above, string rest, int width)
    {
        int end = rest.AsSpan().IndexOfAny(' ', '\t', '\u00A0');
        return above.TrimEnd().Length + 1 + (end < 0 ? rest.Length : end) > width;
    }

    private static int Quotes(string text) => AssemblyLook.Plain(text).AsSpan().Count('\'');

    // A hyphen at the end of a line is in the midst of a word: of one that was parted, or of one that has it anyway.
    private static string Joined(string above, string rest) =>
        above.Length > 1 && above[^1] == '-' && char.IsLetter(above[^2]) && char.IsLower(rest[0])
            ? above + rest
            : above + " " + rest;
}
