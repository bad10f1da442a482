using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Audit;

/// <summary>
/// A recovery that says nothing of what it did: the printed rows of a program, and a source that came from them by a fault. What the rows say and what
/// the source says differ, and no entry reports it.
/// </summary>
internal sealed class FalseRecovery
{
    private readonly List<string> rows;
    private readonly List<(string Text, LineOrigin Origin)> lines = [];

    private FalseRecovery(ProgramAnalysis truth)
    {
        Truth = truth;
        rows =
        [
            .. truth.Root.Text.Lines.Select(static l => l.Text.Replace("\t", "        ", StringComparison.Ordinal)),
        ];
        for (int i = 0; i < rows.Count; i++)
            lines.Add((rows[i], LineOrigin.None));
    }

    public ProgramAnalysis Truth { get; }

    /// <summary>The line of the source at which something is wrong.</summary>
    public int Place { get; private set; }

    /// <summary>What a recovery can do to a line, by name; false where it cannot be done there.</summary>
    public static IReadOnlyList<(string Name, Func<FalseRecovery, int, int, bool> Do)> Faults { get; } =
    [
        ("a row is left out", static (r, i, _) => r.LeaveOut(i)),
        ("a line is made a comment", static (r, i, _) => r.Change(i, "; " + r.lines[i].Text.Trim())),
        ("a line is joined to the comment above", static (r, i, _) => r.Join(i)),
        ("two lines change places", static (r, i, _) => r.Swap(i)),
        ("a line stands twice", static (r, i, _) => r.Twice(i)),
        ("an operand is changed", static (r, i, way) => r.ChangeCharacter(i, way)),
        ("a row is printed after a remark", static (r, i, _) => r.Swallow(i)),
        ("the author's comment is code", static (r, i, _) => r.Wake(i)),
        ("the last word of a comment ends the program", static (r, i, _) => r.EndAt(i)),
        ("a text in quotes is changed", static (r, i, _) => r.ChangeQuotes(i)),
        ("the last lines are left out", static (r, _, way) => r.LeaveOut(r.LastCode(way % 2))),
    ];

    /// <summary>The program without a fault, as it was printed and read.</summary>
    public static (PrintedPage[] Pages, RecoveryResult Result) Honest(ProgramAnalysis truth) =>
        new FalseRecovery(truth).Build();

    /// <summary>A program with a fault at the line, or null where the fault cannot be made there.</summary>
    public static FalseRecovery? Make(ProgramAnalysis truth, int fault, int line, int way)
    {
        var made = new FalseRecovery(truth);
        return Faults[fault].Do(made, line, way) ? made : null;
    }

    /// <summary>The printed pages and the source that claims to be theirs.</summary>
    public (PrintedPage[] Pages, RecoveryResult Result) Build()
    {
        string[] pages = [.. rows.Chunk(50).Select(static p => string.Join("\n", p))];
        PrintedDocument document = PrintedPages.Of(pages);
        // Rows without text are no rows of the page.
        var places = new PrintedPlace?[rows.Count];
        for (int i = 0, number = 0; i < rows.Count; i++)
        {
            if (i % 50 == 0)
                number = 0;
            if (rows[i].Length > 0)
                places[i] = new PrintedPlace(i / 50 + 1, ++number);
        }

        var origins = new List<LineOrigin>();
        var text = new List<string>();
        int row = 0;
        foreach ((string line, LineOrigin origin) in lines)
        {
            text.Add(line);
            origins.Add(
                origin.IsNone
                    ? places[row++] is { } own
                        ? LineOrigin.At(own.Page, own.Line)
                        : LineOrigin.None
                    : Resolve(origin)
            );
            while (taken.Contains(row))
                row++;
        }

        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile(Truth.Root.Name, SourceText.From(string.Join("\n", text))),
            new FixturePrograms.Beside()
        );
        return ([.. document.Pages], new RecoveryResult(program.Root.Text, [], program) { Origins = [.. origins] });

        LineOrigin Resolve(LineOrigin rowsOf)
        {
            LineOrigin found = LineOrigin.None;
            foreach (PrintedPlace place in rowsOf.Places)
                if (places[place.Line] is { } at)
                    found = found.With(LineOrigin.At(at.Page, at.Line));
            return found;
        }
    }

    // Rows that are no line's own.
    private readonly HashSet<int> taken = [];

    private bool LeaveOut(int at)
    {
        if (at < 0)
            return false;
        lines.RemoveAt(at);
        Keep(at, lines.Count);
        Place = at;
        return true;
    }

    private bool Change(int at, string text)
    {
        lines[at] = (text, lines[at].Origin);
        Place = at;
        return true;
    }

    private bool Join(int at)
    {
        if (at == 0 || rows[at - 1].Trim().Length == 0 || rows[at].Contains(';', StringComparison.Ordinal))
            return false;
        if (!rows[at - 1].Contains(';', StringComparison.Ordinal))
            rows[at - 1] += "      ; and then, as the drawing shows, once more";
        lines[at - 1] = (rows[at - 1] + " " + rows[at].Trim(), Rows(at - 1, at));
        lines.RemoveAt(at);
        Fix(at + 1);
        Place = at - 1;
        return true;
    }

    private bool Swap(int at)
    {
        if (at + 1 >= lines.Count || rows[at].Length == 0 || rows[at + 1].Length == 0)
            return false;
        lines[at] = (rows[at + 1], Rows(at + 1));
        lines[at + 1] = (rows[at], Rows(at));
        Fix(at + 2);
        Place = at;
        return true;
    }

    private bool Twice(int at)
    {
        lines[at] = (rows[at], Rows(at));
        lines.Insert(at + 1, (rows[at], Rows(at)));
        for (int i = 0; i < at; i++)
            lines[i] = (lines[i].Text, Rows(i));
        for (int i = at + 2; i < lines.Count; i++)
            lines[i] = (lines[i].Text, Rows(i - 1));
        Place = at;
        return true;
    }

    private bool ChangeCharacter(int at, int way)
    {
        string text = lines[at].Text;
        LineSyntax syntax = LineSyntax.Parse(text);
        if (syntax.Operands.IsEmpty)
            return false;
        int from = syntax.OperandSpan.Start,
            column = from + way % syntax.OperandSpan.Length;
        if (!char.IsLetterOrDigit(text[column]))
            return false;
        char other = char.IsDigit(text[column]) ? (char)('0' + (text[column] - '0' + 1) % 10) : 'q';
        return Change(at, text[..column] + other + text[(column + 1)..]);
    }

    private bool Swallow(int at)
    {
        rows[at] = "; the lamp over the door      " + rows[at].TrimEnd();
        return Change(at, rows[at]);
    }

    private bool EndAt(int at)
    {
        rows.Insert(at + 1, "end");
        lines.Insert(at + 1, ("        end", LineOrigin.None));
        Place = at + 1;
        return true;
    }

    private bool ChangeQuotes(int at)
    {
        int from = rows[at].IndexOf('"', StringComparison.Ordinal);
        return from >= 0 && Change(at, rows[at].Insert(from + 1, " "));
    }

    private bool Wake(int at)
    {
        string text = lines[at].Text;
        rows[at] = ";" + text;
        return Change(at, text);
    }

    private int LastCode(int before)
    {
        for (int i = rows.Count - 1; i >= 0; i--)
            if (Truth.FactsOf(Truth.Root, i).Words > 0 && before-- == 0)
                return i;
        return -1;
    }

    private static LineOrigin Rows(params ReadOnlySpan<int> of)
    {
        LineOrigin found = LineOrigin.None;
        foreach (int row in of)
            found = found.With(LineOrigin.At(1, row));
        return found;
    }

    // From a line on, each comes from the row of the same number.
    private void Fix(int row)
    {
        int first = lines.Count - (rows.Count - row);
        for (int i = first; i < lines.Count; i++)
            lines[i] = (lines[i].Text, Rows(row + i - first));
        for (int i = 0; i < first; i++)
            if (lines[i].Origin.IsNone)
                lines[i] = (lines[i].Text, Rows(i));
    }

    private void Keep(int missing, int count)
    {
        for (int i = 0; i < count; i++)
            lines[i] = (lines[i].Text, Rows(i < missing ? i : i + 1));
    }
}
