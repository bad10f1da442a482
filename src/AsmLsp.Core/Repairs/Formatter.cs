using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Puts labels, operations, operands and comments into their columns. Only white space between the parts of a line
/// changes; nothing inside operands, texts or comments does, and lines that cannot be read are left alone. The
/// program is assembled again before the edits are given out: its words have to be the same.
/// </summary>
public static class Formatter
{
    private const int MostRounds = 4;

    /// <summary>The edits that lay out a file, or some of its lines; none where all is in place.</summary>
    public static ImmutableArray<TextEdit> Format(
        ProgramAnalysis program,
        SourceFile file,
        FormatOptions? options = null,
        LineRange? range = null
    )
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        ProgramAnalysis laid = program;
        SourceFile now = file;
        int round = 0;
        // Lines in their columns may be read otherwise than before: what is laid out twice must be laid out once.
        while (Once(laid, now, options ?? FormatOptions.Default, range) is { Length: > 0 } edits)
        {
            if (++round == MostRounds)
                return [];
            var changed = new SourceFile(now.Name, EditMap.Apply(now.Text, edits));
            laid = laid.With(new Dictionary<SourceFile, SourceFile> { [now] = changed });
            now = changed;
        }

        if (round == 0)
            return [];
        (string[] before, string[] after) = (LinesOf(file.Text), LinesOf(now.Text));
        return Edits(file.Text, Different(before, after, null), after);
    }

    private static ImmutableArray<TextEdit> Once(
        ProgramAnalysis program,
        SourceFile file,
        FormatOptions options,
        LineRange? range
    )
    {
        string[] wanted = Converge(program, file, options);
        List<int> changed = Different(LinesOf(file.Text), wanted, range);
        if (changed.Count == 0)
            return [];

        ImmutableArray<TextEdit> edits = Edits(file.Text, changed, wanted);
        return Keeps(program, file, edits) ? edits : Edits(file.Text, Harmless(program, file, changed, wanted), wanted);
    }

    private static string[] LinesOf(SourceText text)
    {
        var lines = new string[text.LineCount];
        int at = 0;
        foreach (TextLine line in text.Lines)
            lines[at++] = line.Text;
        return lines;
    }

    private static List<int> Different(string[] before, string[] after, LineRange? range)
    {
        var changed = new List<int>();
        for (int i = 0; i < before.Length; i++)
            if (after[i] != before[i] && (range is null || range.Value.Contains(i)))
                changed.Add(i);
        return changed;
    }

    // A first layout may show the author's columns better than the text did: it is repeated until it is.
    private static string[] Converge(ProgramAnalysis program, SourceFile file, FormatOptions options)
    {
        SourceText text = file.Text;
        string[] wanted = [];
        for (int round = 0; round < MostRounds; round++)
        {
            wanted = LayOut(program, file, text, ColumnStyle.Of(text, options));
            if (options.UseTabs == false)
                for (int i = 0; i < wanted.Length; i++)
                    wanted[i] = BlankEdits.WithoutTabs(wanted[i], options.TabSize);
            var changed = new List<int>();
            int at = 0;
            foreach (TextLine line in text.Lines)
            {
                if (line.Text != wanted[at])
                    changed.Add(at);
                at++;
            }

            if (changed.Count == 0)
                break;
            text = EditMap.Apply(text, Edits(text, changed, wanted));
        }

        return wanted;
    }

    private static string[] LayOut(ProgramAnalysis program, SourceFile file, SourceText text, ColumnStyle style)
    {
        var wanted = new string[text.LineCount];
        var block = new List<LaidLine>();
        int number = 0,
            nesting = 0;
        foreach (TextLine line in text.Lines)
        {
            LineRole role = program.FactsOf(file, number).Role;
            LaidLine? laid =
                (role & LineRole.AfterEnd) != 0 && !IsEnd(line) ? null : LaidLine.Of(line, role, style, ref nesting);
            wanted[number] = line.Text;
            if (laid is null || laid.CommentColumn < 0)
            {
                Flush(block, wanted, style);
                if (laid is not null)
                    wanted[number] = laid.Code;
            }
            else
            {
                // Comments that was under each other stay so.
                if (block.Count > 0 && block[^1].CommentColumn != laid.CommentColumn)
                    Flush(block, wanted, style);
                laid.Number = number;
                block.Add(laid);
            }

            number++;
        }

        Flush(block, wanted, style);
        return wanted;
    }

    private static bool IsEnd(TextLine line) => LineSyntax.Of(line).Keyword == Keyword.End;

    private static void Flush(List<LaidLine> block, string[] wanted, ColumnStyle style)
    {
        if (block.Count == 0)
            return;
        int column = block[0].CommentColumn;
        foreach (LaidLine line in block)
            column = Math.Max(column, line.CodeEnd + 1);
        if (style.UseTabs && column > block[0].CommentColumn)
            column = (column + style.TabSize - 1) / style.TabSize * style.TabSize;
        foreach (LaidLine line in block)
        {
            // A gap that leads there already stays as it is written.
            bool fits = line.CodeEnd + line.GapWidth(style.TabSize) == column;
            wanted[line.Number] = line.Code + (fits ? line.Gap : style.Gap(line.CodeEnd, column)) + line.Comment;
        }

        block.Clear();
    }

    private static ImmutableArray<TextEdit> Edits(SourceText text, List<int> lines, string[] wanted)
    {
        var edits = ImmutableArray.CreateBuilder<TextEdit>();
        foreach (int line in lines)
        {
            int start = text.LineStart(line);
            foreach (TextEdit edit in BlankEdits.Between(text[line].Text, wanted[line]))
                edits.Add(edit with { Span = new TextSpan(start + edit.Span.Start, edit.Span.Length) });
        }

        return edits.ToImmutable();
    }

    private static bool Keeps(ProgramAnalysis program, SourceFile file, ImmutableArray<TextEdit> edits)
    {
        var map = new EditMap(file.Text, edits);
        var changed = new SourceFile(file.Name, map.After);
        ProgramAnalysis after = program.With(new Dictionary<SourceFile, SourceFile> { [file] = changed });
        return EditGuard.Allows(program, after, file, changed, map, null);
    }

    // Leaves out the lines whose layout would change a word; by halving, since there are hardly ever any.
    private static List<int> Harmless(ProgramAnalysis program, SourceFile file, List<int> lines, string[] wanted)
    {
        if (Keeps(program, file, Edits(file.Text, lines, wanted)))
            return lines;
        if (lines.Count == 1)
            return [];
        int half = lines.Count / 2;
        List<int> first = Harmless(program, file, lines.GetRange(0, half), wanted);
        List<int> second = Harmless(program, file, lines.GetRange(half, lines.Count - half), wanted);
        List<int> both = [.. first, .. second];
        return Keeps(program, file, Edits(file.Text, both, wanted)) ? both : first;
    }
}
