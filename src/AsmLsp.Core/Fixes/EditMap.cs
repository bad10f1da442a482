using System.Text;
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
        After = Apply(before, this.edits);
    }

    /// <summary>The text after the edits.</summary>
    public SourceText After { get; }

    /// <summary>The edits in order of their places.</summary>
    public ReadOnlySpan<TextEdit> Edits => edits;

    /// <summary>For every line of the text before, the line where its first visible character comes to stand; one walk.</summary>
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

    /// <summary>The text after edits that are in order; many are put in at one go.</summary>
    public static SourceText Apply(SourceText text, IReadOnlyList<TextEdit> edits)
    {
        if (edits.Count < 64) return text.WithEdits(edits);
        string old = text.ToString();
        var made = new StringBuilder(old.Length + 16 * edits.Count);
        int at = 0;
        foreach (TextEdit edit in edits)
        {
            made.Append(old, at, edit.Span.Start - at).Append(edit.NewText);
            at = edit.Span.End;
        }

        return SourceText.From(made.Append(old, at, old.Length - at).ToString(), text.Encoding);
    }
}
