using AsmLsp.Core.Text;

namespace AsmLsp.Core.Fixes;

/// <summary>Tells where places of a text come to lie after edits.</summary>
internal sealed class EditMap
{
    private readonly SourceText before;
    private readonly TextEdit[] edits;

    public EditMap(SourceText before, IEnumerable<TextEdit> edits)
    {
        this.before = before;
        this.edits = [.. edits.OrderBy(e => e.Span.Start).ThenBy(e => e.Span.End)];
        After = before.WithEdits(this.edits);
    }

    /// <summary>The text after the edits.</summary>
    public SourceText After { get; }

    /// <summary>The edits in order of their places.</summary>
    public ReadOnlySpan<TextEdit> Edits => edits;

    /// <summary>The line where the first visible character of a line comes to stand.</summary>
    public int LineAfter(int line)
    {
        string text = before[line].Text;
        int column = 0;
        while (column < text.Length && char.IsWhiteSpace(text[column])) column++;
        if (column == text.Length) column = 0;
        return After.PositionAt(Map(before.LineStart(line) + column)).Line;
    }

    /// <summary>For every line of the text before, its line afterwards; one walk.</summary>
    public int[] AllLinesAfter()
    {
        var lines = new int[before.LineCount];
        int edit = 0, shift = 0, start = 0, i = 0, after = 0, nextStart = After.LineCount > 1 ? After[0].FullLength : int.MaxValue;
        foreach (TextLine line in before.Lines)
        {
            int column = 0;
            while (column < line.Text.Length && char.IsWhiteSpace(line.Text[column])) column++;
            int offset = start + (column == line.Text.Length ? 0 : column);
            while (edit < edits.Length && edits[edit].Span.End <= offset)
            {
                shift += edits[edit].NewText.Length - edits[edit].Span.Length;
                edit++;
            }

            int mapped = edit < edits.Length && edits[edit].Span.Start < offset ? edits[edit].Span.Start + shift : offset + shift;
            while (mapped >= nextStart && after + 1 < After.LineCount)
            {
                after++;
                nextStart = after + 1 < After.LineCount ? nextStart + After[after].FullLength : int.MaxValue;
            }

            lines[i++] = after;
            start += line.FullLength;
        }

        return lines;
    }

    private int Map(int offset)
    {
        int shift = 0;
        foreach (TextEdit edit in edits)
        {
            if (edit.Span.End <= offset) shift += edit.NewText.Length - edit.Span.Length;
            else if (edit.Span.Start < offset) return edit.Span.Start + shift;
            else break;
        }

        return offset + shift;
    }
}
