using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>Computes where places of a text come to lie after edits.</summary>
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

    /// <summary>For every line of the text before, the line where its first visible character comes to be; one walk.</summary>
    public int[] AllLinesAfter() => AllLinesAfter(ofEnd: false);

    /// <summary>For every line of the text before, the line where its last visible character comes to be: another one where the line was split.</summary>
    public int[] AllLastLinesAfter() => AllLinesAfter(ofEnd: true);

    private int[] AllLinesAfter(bool ofEnd)
    {
        var lines = new int[before.LineCount];
        int edit = 0,
            shift = 0,
            start = 0,
            i = 0,
            after = 0,
            nextStart = After.LineCount > 1 ? After[0].FullLength : int.MaxValue;
        foreach (TextLine line in before.Lines)
        {
            int offset = start + VisibleColumn(line.Text, ofEnd);
            while (edit < edits.Length && edits[edit].Span.End <= offset)
            {
                shift += edits[edit].NewText.Length - edits[edit].Span.Length;
                edit++;
            }

            bool isReplaced = edit < edits.Length && edits[edit].Span.Start < offset;
            int mapped = isReplaced
                ? edits[edit].Span.Start + shift + (ofEnd ? VisibleColumn(edits[edit].NewText, ofEnd) : 0)
                : offset + shift;
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

    // The column of the first or last character that is no blank; 0 where there is none.
    private static int VisibleColumn(string text, bool last)
    {
        int column = last ? text.Length - 1 : 0;
        while (column >= 0 && column < text.Length && char.IsWhiteSpace(text[column]))
            column += last ? -1 : 1;
        return column < 0 || column == text.Length ? 0 : column;
    }

    /// <summary>The text after edits that are in order; many are put in at one go.</summary>
    public static SourceText Apply(SourceText text, IReadOnlyList<TextEdit> edits)
    {
        if (edits.Count < 64)
            return text.WithEdits(edits);
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
